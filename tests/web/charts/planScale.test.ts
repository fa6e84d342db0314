import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planAxes, shareOf } from '../../../web/charts/planScale.ts';

const curve = fc.array(
  fc.record({
    sweeps: fc.integer({ min: 1, max: 1_000_000 }),
    seconds: fc.double({ min: 0.01, max: 1e5, noNaN: true }),
    detectable: fc.double({ min: 1e-14, max: 1e-6, noNaN: true }),
    white: fc.double({ min: 1e-14, max: 1e-6, noNaN: true }),
  }),
  { minLength: 1, maxLength: 20 },
);

describe('the planner’s picture', () => {
  test('holds the curve and the pressure that is wanted', () => {
    fc.assert(
      fc.property(curve, fc.double({ min: 1e-14, max: 1e-6, noNaN: true }), (points, wanted) => {
        const { x, y } = planAxes(points, wanted);
        const places = [
          shareOf(wanted, y),
          ...points.flatMap((point) => [
            shareOf(point.sweeps, x),
            shareOf(point.detectable, y),
            shareOf(point.white, y),
          ]),
        ];
        for (const place of places) {
          expect(place).toBeGreaterThanOrEqual(-1e-6);
          expect(place).toBeLessThanOrEqual(1 + 1e-6);
        }
      }),
    );
  });

  test('a decade is a decade everywhere', () => {
    const axis = { low: 1e-12, high: 1e-8, ticks: [] };
    expect(shareOf(1e-10, axis)).toBeCloseTo(0.5, 12);
    expect(shareOf(1e-9, axis) - shareOf(1e-10, axis)).toBeCloseTo(0.25, 12);
  });
});
