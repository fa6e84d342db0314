import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { linearAxis, roundStep } from '../../../web/charts/linearAxis.ts';

const value = fc.double({ min: -1e6, max: 1e6, noNaN: true });

describe('a linear axis', () => {
  test('holds every value, begins and ends on a tick, and has few ticks', () => {
    fc.assert(
      fc.property(
        fc.array(value, { maxLength: 30 }),
        fc.double({ min: 1e-3, max: 10, noNaN: true }),
        (values, least) => {
          const axis = linearAxis(values, least);
          for (const one of values) {
            // A hair of the axis: what lies within a rounding error of a tick belongs to it.
            const slack = 1e-8 * (axis.high - axis.low);
            expect(one).toBeGreaterThanOrEqual(axis.low - slack);
            expect(one).toBeLessThanOrEqual(axis.high + slack);
          }
          expect(axis.ticks[0]).toBeCloseTo(axis.low, 9);
          expect(axis.ticks.length).toBeGreaterThanOrEqual(2);
          expect(axis.ticks.length).toBeLessThanOrEqual(9);
          expect(axis.high - axis.low).toBeGreaterThanOrEqual(least * (1 - 1e-6));
        },
      ),
    );
  });

  test('a few by hand: round numbers, zero and less are values like any other', () => {
    expect(linearAxis([-0.03, 0.02], 0.1)).toMatchObject({
      ticks: [-0.075, -0.05, -0.025, 0, 0.025, 0.05],
      decimals: 3,
    });
    expect(linearAxis([3.9, 4.2], 1)).toMatchObject({ ticks: [3.5, 3.75, 4, 4.25, 4.5, 4.75], decimals: 2 });
    expect(linearAxis([], 1).ticks.length).toBeGreaterThan(1);
    expect([0.3, 1.2, 21, 60].map(roundStep)).toEqual([0.5, 2, 25, 100]);
  });
});
