import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ratioScale } from '../../../web/compare/ratioScale.ts';

const ratio = fc.record({
  ratio: fc.option(fc.double({ min: 1e-8, max: 1e8, noNaN: true })),
  ratioLow: fc.option(fc.double({ min: 0, max: 1e8, noNaN: true })),
  ratioHigh: fc.option(fc.double({ min: 1e-8, max: 1e9, noNaN: true })),
});

describe('the scale of ratios', () => {
  test('1 stands in the middle whatever was found, more lies right of it, less left', () => {
    fc.assert(
      fc.property(fc.array(ratio, { maxLength: 12 }), (ratios) => {
        const { place } = ratioScale(ratios);
        expect(place(1)).toBeCloseTo(0.5, 9);
        expect(place(2)).toBeGreaterThan(0.5);
        expect(place(0.5)).toBeLessThan(0.5);
        for (const { ratio: one } of ratios) {
          if (one === null) continue;
          expect(place(one)).toBeGreaterThanOrEqual(0);
          expect(place(one)).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  test('twice as much and half as much are equally far from the middle', () => {
    const { place } = ratioScale([{ ratio: 40, ratioLow: 30, ratioHigh: 52 }]);
    expect(place(4) - 0.5).toBeCloseTo(0.5 - place(0.25), 9);
  });

  test('within a decade there are marks between the powers of ten', () => {
    expect(ratioScale([{ ratio: 4, ratioLow: 3, ratioHigh: 5 }]).ticks).toEqual([0.2, 0.5, 1, 2, 5]);
    const wide = ratioScale([{ ratio: 800, ratioLow: 300, ratioHigh: 2_000 }]).ticks;
    expect(wide).toContain(1);
    expect(wide.length).toBeGreaterThan(2);
  });
});
