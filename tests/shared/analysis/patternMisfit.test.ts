/** Simulated analysers with fragments off by a known spread; seeds are fixed. */
import { describe, expect, test } from 'vitest';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { makeDesign } from '../../../shared/analysis/design.ts';
import { makeFitter } from '../../../shared/analysis/fit.ts';
import { patternMisfit } from '../../../shared/analysis/patternMisfit.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { seededRandom } from '../../support/instrument.ts';

const MASSES = Array.from({ length: 100 }, (_, i) => i + 1);
const design = makeDesign(gasColumns(catalogueFor([]), MASSES), 'quadrupole');
const fitter = makeFitter(design);
const TRUTH: Record<string, number> = {
  H2O: 1,
  H2: 0.2,
  N2: 0.2,
  CO: 0.1,
  CO2: 0.1,
  O2: 0.03,
  Ar: 0.005,
};

/** Median over 40 analysers. */
function usualMisfit(spread: number, noise = 1e-6): number {
  const random = seededRandom(77);
  const found: number[] = [];
  for (let i = 0; i < 40; i++) {
    const heights = Float64Array.from(MASSES, () => noise * random.normal());
    for (const { id, rows, response, referencePlace } of design.columns) {
      rows.forEach((row, k) => {
        const off = k === referencePlace ? 1 : Math.exp(spread * random.normal());
        heights[row]! += (TRUTH[id] ?? 0) * response[k]! * off;
      });
    }
    found.push(
      patternMisfit(
        fitter.fit(
          heights,
          heights.map(() => noise ** 2),
        ),
      ),
    );
  }
  return found.sort((a, b) => a - b)[20]!;
}

describe('how far the fragments of an analyser are off', () => {
  test('is seen in one scan: little, usual, much', () => {
    const [little, usual, much] = [0.05, 0.3, 0.6].map((spread) => usualMisfit(spread)) as [number, number, number];
    expect(little).toBeLessThan(0.75);
    expect(usual).toBeGreaterThan(0.75);
    expect(usual).toBeLessThan(1.25);
    expect(much).toBeGreaterThan(usual);
  });

  test('stays within bounds, and does not depend on the scale of the heights', () => {
    expect(usualMisfit(0.05)).toBeGreaterThanOrEqual(0.55);
    expect(usualMisfit(3)).toBeLessThanOrEqual(1.5);
    const heights = Float64Array.from(MASSES, (mass) => (mass === 18 ? 1 : mass === 17 ? 0.3 : 1e-6));
    const at = (factor: number) =>
      patternMisfit(
        fitter.fit(
          heights.map((h) => h * factor),
          heights.map(() => (1e-6 * factor) ** 2),
        ),
      );
    expect(at(1e-9)).toBeCloseTo(at(1), 8);
  });

  test('noise alone says nothing of it: the prior stays', () => {
    expect(usualMisfit(0.3, 0.3)).toBeCloseTo(usualMisfit(0.05, 0.3), 1);
  });
});
