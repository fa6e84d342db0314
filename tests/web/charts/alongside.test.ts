import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { alongside } from '../../../web/charts/alongside.ts';

const point = (t: number, value = 1) => ({ at: new Date(t).toISOString(), value, min: value, max: value });

describe('a second series beside a first', () => {
  test('takes the moments of the first, and loses nothing that has no neighbour', () => {
    const beside = alongside([point(1_100, 1), point(1_900, 2), point(9_000, 3)], [1_000, 2_000, 3_000], 500);
    expect(beside.map(({ at, value }) => [Date.parse(at), value])).toEqual([
      [1_000, 1],
      [2_000, 2],
      [9_000, 3],
    ]);
  });

  test('equal moments come back as they are, in order', () => {
    const times = fc.uniqueArray(fc.integer({ min: 0, max: 1e7 }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(times, (found) => {
        const sorted = [...found].sort((a, b) => a - b);
        const beside = alongside(
          sorted.map((t) => point(t)),
          sorted,
          1,
        );
        expect(beside.map(({ at }) => Date.parse(at))).toEqual(sorted);
      }),
    );
  });

  test('of two that want the same moment the nearer takes it', () => {
    expect(alongside([point(900, 1), point(1_010, 2)], [1_000], 500).map(({ value }) => value)).toEqual([2]);
    expect(alongside([point(900)], [], 500)).toHaveLength(1);
  });
});
