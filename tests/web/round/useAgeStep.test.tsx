// @vitest-environment jsdom
import { act, cleanup, render, screen } from '@testing-library/react';
import { useRef } from 'react';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { AgePace, useAgeStep } from '../../../web/round/useAgeStep.ts';

let drawings = 0;
function Piece() {
  const piece = useRef<HTMLDivElement>(null);
  const step = useAgeStep(piece);
  drawings += 1;
  return (
    <div ref={piece} className="few">
      {step} s
    </div>
  );
}

/** As browsers tell it: css-contain-2, "content-visibility: auto state changed". */
const tell = (skipped: boolean) =>
  screen.getByText(/ s$/).dispatchEvent(Object.assign(new Event('contentvisibilityautostatechange'), { skipped }));
const aSecond = () => act(() => vi.advanceTimersByTime(1000));

beforeEach(() => {
  vi.useFakeTimers();
  drawings = 0;
  render(
    <>
      <AgePace />
      <Piece />
    </>,
  );
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

test('a piece that goes far counts its ages coarsely from the next second on, and finely when it is back', () => {
  expect(screen.getByText('1 s')).toBeTruthy();
  act(() => void tell(true));
  expect(screen.getByText('1 s')).toBeTruthy();
  aSecond();
  expect(screen.getByText('15 s')).toBeTruthy();
  act(() => void tell(false));
  aSecond();
  expect(screen.getByText('1 s')).toBeTruthy();
});

test('a piece that only passes by while the page is scrolled is not drawn for it', () => {
  const before = drawings;
  act(() => void tell(true));
  act(() => void tell(false));
  expect(drawings).toBe(before);
  aSecond();
  expect(drawings).toBe(before);
});

test('what another piece inside of it does is none of its business', () => {
  const inner = document.createElement('div');
  screen.getByText('1 s').append(inner);
  inner.dispatchEvent(
    Object.assign(new Event('contentvisibilityautostatechange', { bubbles: true }), { skipped: true }),
  );
  aSecond();
  expect(screen.getByText('1 s')).toBeTruthy();
});
