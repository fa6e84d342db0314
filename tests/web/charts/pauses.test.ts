import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pausesOf } from '../../../web/charts/pauses.ts';

describe('pauses of a series', () => {
  test('an even rhythm has none, whatever its step', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 3, max: 60 }), (step, n) => {
        const times = Array.from({ length: n }, (_, i) => i * step * 1000);
        expect(pausesOf(times, 1000)).toEqual([]);
      }),
    );
  });

  test('a hole is found where it is, in any order of the points', () => {
    const times = [0, 1, 2, 3, 4, 20, 21, 22].map((t) => t * 60_000);
    const hole = [{ from: 4 * 60_000, to: 20 * 60_000 }];
    expect(pausesOf(times, 60_000)).toEqual(hole);
    expect(pausesOf([...times].reverse(), 60_000)).toEqual(hole);
    expect(pausesOf([], 60_000)).toEqual([]);
  });

  test('buckets that are wider than the hole hide it', () => {
    expect(pausesOf([0, 60_000, 180_000, 240_000], 120_000)).toEqual([]);
  });
});
