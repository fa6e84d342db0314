// @vitest-environment jsdom
import { act, cleanup, render, screen } from '@testing-library/react';
import { afterEach, expect, test, vi } from 'vitest';
import { useWidth } from '../../../web/charts/useWidth.ts';

function Figure() {
  const [box, width] = useWidth<HTMLDivElement>();
  return (
    <div ref={box}>
      <b>{width}</b>
    </div>
  );
}
const drawnFor = (): number => Number(screen.getByText(/^\d+$/).textContent);

afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

test('a figure is redrawn for paper before the sheet is laid out, and for the screen after', () => {
  vi.spyOn(HTMLElement.prototype, 'clientWidth', 'get').mockReturnValue(1200);
  render(<Figure />);
  expect(drawnFor()).toBe(1200);
  window.dispatchEvent(new Event('beforeprint'));
  // A4 is 210 mm wide (ISO 216), a CSS inch is 96 px; 12 mm of edge on both sides and 72 px of margin are not its own.
  const sheet = ((210 - 24) / 25.4) * 96 - 72;
  expect(drawnFor()).toBeLessThanOrEqual(sheet);
  expect(drawnFor()).toBeGreaterThan(sheet - 20);
  act(() => void window.dispatchEvent(new Event('afterprint')));
  expect(drawnFor()).toBe(1200);
});
