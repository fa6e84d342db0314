/**
 * Peak widths as they are stated for a mass analyser, from profiles.
 *
 * - ISO 14291:2012, cl. 5.4 and 6.1: resolution as a width in m/z, preferably at 5 % of the height; 10 % is the older
 *   recommended practice (AVS 2.3), 50 % is allowed.
 * - A Gaussian has the full width 2 σ √(2 ln(1/q)) at the share q of its height, so that 0.6 u at 50 % are 1.09357 u at
 *   10 % and 1.24735 u at 5 %. A triangle of 0.6 u at 50 % is 1.08 u wide at 10 % and 1.14 u at 5 %. Closed forms.
 */
import { describe, expect, test } from 'vitest';
import { profileHeights } from '../../shared/analysis/profile.ts';

/** Far enough apart that no tail of a neighbour lifts a flank. */
const PEAKS: Readonly<Record<number, number>> = { 4: 0.3, 12: 2, 20: 1, 28: 9, 36: 0.7, 44: 4 };

type Shape = (awayU: number, halfWidthU: number) => number;
const gaussian: Shape = (away, width) => Math.exp(-4 * Math.LN2 * (away / width) ** 2);
const triangle: Shape = (away, width) => Math.max(0, 1 - Math.abs(away) / width);

function widthsOf(shape: Shape, halfWidthU: number, perUnit: number, offsetU: number) {
  const values = Float64Array.from({ length: 50 * perUnit + 1 }, (_, i) => {
    const mass = 0.5 + i / perUnit - offsetU;
    return Object.entries(PEAKS).reduce((sum, [at, height]) => sum + height * shape(mass - Number(at), halfWidthU), 0);
  });
  return profileHeights({ first: 0.5, perUnit, values }).widths;
}

const gaussianWidth = (halfWidthU: number, share: number): number =>
  halfWidthU * Math.sqrt(Math.log(1 / share) / Math.LN2);

describe('Gaussian peaks', () => {
  test('the closed form: 0.6 u at 50 % are 1.09357 u at 10 % and 1.24735 u at 5 %', () => {
    expect(gaussianWidth(0.6, 0.1)).toBeCloseTo(1.09357, 5);
    expect(gaussianWidth(0.6, 0.05)).toBeCloseTo(1.24735, 5);
  });

  test.each([8, 10, 16, 32, 64])('%i points per unit: widths at 50, 10 and 5 %% come back to 2 %%', (perUnit) => {
    for (const width of [0.5, 0.6, 0.75]) {
      for (const offset of [-0.2, 0, 0.13]) {
        const { half, tenth, twentieth } = widthsOf(gaussian, width, perUnit, offset);
        const told = `${width} u at offset ${offset}`;
        expect(Math.abs(half! / width - 1), told).toBeLessThan(0.02);
        expect(Math.abs(tenth! / gaussianWidth(width, 0.1) - 1), told).toBeLessThan(0.02);
        expect(Math.abs(twentieth! / gaussianWidth(width, 0.05) - 1), told).toBeLessThan(0.02);
      }
    }
  });
});

describe('triangular peaks', () => {
  test.each([16, 32, 64])('%i points per unit: 0.6 u at 50 %% are 1.08 u at 10 %% and 1.14 u at 5 %%', (perUnit) => {
    const { half, tenth, twentieth } = widthsOf(triangle, 0.6, perUnit, 0);
    expect(Math.abs(half! - 0.6)).toBeLessThan(0.02);
    expect(Math.abs(tenth! - 1.08)).toBeLessThan(0.03);
    expect(Math.abs(twentieth! - 1.14)).toBeLessThan(0.03);
  });
});
