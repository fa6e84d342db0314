// @vitest-environment jsdom
import { cleanup } from '@testing-library/react';
import { afterEach, expect, test, vi } from 'vitest';
import { stage, verdict } from '../fixture/stage.tsx';

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

test('a display that reads with a token is seen from afar; a person at a desk is not, nor whoever comes with a token that may do more', async () => {
  stage('/about', { display: true });
  await verdict();
  expect(document.documentElement.dataset.seen).toBe('afar');
  cleanup();
  stage('/about', { role: 'viewer' });
  await verdict();
  expect(document.documentElement.dataset.seen).toBeUndefined();
  cleanup();
  stage('/about', { display: true, role: 'operator' });
  await verdict();
  expect(document.documentElement.dataset.seen).toBeUndefined();
});
