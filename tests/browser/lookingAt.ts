/** Chromium and the answers of a scene for the tests of one file; apart from looking.ts, which the benchmark uses as well. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Looking, startLooking } from './looking.ts';

/** For one test file: opened before its tests, closed after them. What it gives may be taken within a test only. */
export function lookingAt(): () => Looking {
  let looking: Looking | undefined;
  beforeAll(async () => {
    looking = await startLooking(Date.now());
  });
  afterAll(async () => {
    await looking?.close();
  });
  return () => looking as Looking;
}

/** To be declared last in a file, after all that opens pages. */
export const testOfComplaints = (looking: () => Looking): void =>
  test('no script failed and the policy refused nothing', () => {
    expect(looking().complaints).toEqual([]);
  });
