/**
 * From ion current to pressure and from a profile to peaks, against figures worked out by hand.
 *
 * - Argon from one peak: r_Ar 1.4 (P. A. Redhead, CRC Handbook, sec. 15), 86.98 % of argon's ions at m/z 40 and
 *   87.31 % of nitrogen's at 28 (NIST Chemistry WebBook): S(Ar, 40) = 1e-6 · 1.4 · 0.869792 / 0.873134 =
 *   1.39464e-6 A/Pa, so 3.5e-13 A are 2.5096e-7 Pa; with a transmission of 28/m they are 3.58515e-7 Pa.
 * - An ionisation gauge in a mixture: 2e-9 H2, 5e-9 H2O, 1e-9 CO, 3e-10 CO2, 1e-10 Ar, 2e-10 CH4 (any unit) read
 *   7.39e-9 with Redhead's factors.
 * - A Gaussian: full width at half height 2√(2 ln 2) σ; ISO 14291 recommends stating the width at 5 %, which for a
 *   Gaussian of 0.6 u at half height is 1.247 u.
 */
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import { gasColumns, gasResponse } from '../../shared/analysis/columns.ts';
import { makeDesign } from '../../shared/analysis/design.ts';
import { gaugeEquivalent } from '../../shared/analysis/gauge.ts';
import { profileHeights } from '../../shared/analysis/profile.ts';
import type { Calibration } from '../../shared/analysis/types.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { seededRandom } from '../support/instrument.ts';

const CATALOGUE = catalogueFor([]);
const CALIBRATION: Calibration = {
  analyser: 'a',
  principle: 'quadrupole',
  massRange: null,
  sensitivityAmperesPerPascal: 1e-6,
  multiplierGain: null,
  transmissionExponent: 0,
  version: '1',
};

describe('argon from one peak', () => {
  test('S(Ar, 40) is 1.39464e-6 A/Pa at S(N2, 28) = 1e-6', () => {
    expect(gasResponse(CATALOGUE, 'Ar', [40])[0]).toBeCloseTo(1.39464, 4);
    expect(gasResponse(CATALOGUE, 'N2', [28])[0]).toBeCloseTo(1, 12);
  });

  test.each([
    [0, 2.5096e-7],
    [1, 3.58515e-7],
  ])('with transmission exponent %s, 3.5e-13 A are %s Pa', (transmissionExponent, expected) => {
    const values = new Float64Array(50);
    values[39] = 3.5e-13;
    // The double-charged peak travels through the same filter.
    values[19] = 3.5e-13 * 0.1462 * 2 ** transmissionExponent;
    const analyser = makeAnalyser({ ...CALIBRATION, transmissionExponent }, CATALOGUE);
    const { analysis } = analyser.analyse({
      analyser: 'a',
      id: '1',
      atMs: 0,
      seconds: 1,
      averages: 1,
      masses: { first: 1, last: 50, perUnit: 1 },
      values,
      unit: 'A',
      detector: null,
      totalPressurePa: null,
      state: 'base',
      temperatureC: null,
    });
    const argon = analysis.gases.find(({ gas }) => gas === 'Ar')!;
    expect(argon.detected).toBe(true);
    expect(argon.valuePa / expected).toBeCloseTo(1, 3);
  });
});

describe('gauge', () => {
  test('reads 7.39e-9 in a mixture whose pressures add up to 8.60e-9', () => {
    const truth: Record<string, number> = { H2: 2e-9, H2O: 5e-9, CO: 1e-9, CO2: 3e-10, Ar: 1e-10, CH4: 2e-10 };
    const masses = Array.from({ length: 50 }, (_, i) => i + 1);
    const design = makeDesign(gasColumns(CATALOGUE, masses), 'quadrupole');
    const amounts = Float64Array.from(design.columns, ({ id }) => truth[id] ?? 0);
    expect(gaugeEquivalent({ design, amounts }) / 1e-9).toBeCloseTo(7.39, 2);
  });
});

describe('profile of Gaussian peaks', () => {
  const sigma = 0.6 / (2 * Math.sqrt(2 * Math.LN2));
  const peaks: Record<number, number> = { 2: 3, 16: 0.4, 17: 2, 18: 9, 28: 5, 32: 0.5, 40: 0.02, 44: 1.5 };

  const profile = (perUnit: number, offset: number, noise: number) => {
    const random = seededRandom(5);
    const values = Float64Array.from({ length: 50 * perUnit + 1 }, (_, i) => {
      const mass = 0.5 + i / perUnit - offset;
      return Object.entries(peaks).reduce(
        (sum, [m, height]) => sum + height * Math.exp(-0.5 * ((mass - Number(m)) / sigma) ** 2),
        0.01 + noise * random.normal(),
      );
    });
    return profileHeights({ first: 0.5, perUnit, values });
  };

  test.each([4, 8, 10, 16, 32, 64])('%s points per unit: heights, offset and width come back', (perUnit) => {
    for (const offset of [-0.4, -0.13, 0, 0.27, 0.4]) {
      const { masses, heights, offsetU, widthU } = profile(perUnit, offset, 0);
      expect(offsetU).toBeCloseTo(offset, 2);
      expect(Math.abs(widthU! - 0.6)).toBeLessThan(0.03);
      for (const [mass, height] of Object.entries(peaks)) {
        const found = heights[masses.indexOf(Number(mass))]!;
        expect(Math.abs(found / height - 1), `m/z ${mass} at offset ${offset}`).toBeLessThan(0.02);
      }
      const between = heights[masses.indexOf(24)]!;
      expect(Math.abs(between)).toBeLessThan(1e-3);
    }
  });

  test('in noise the heights of empty masses scatter about zero: nothing is read from the highest point', () => {
    const { masses, heights } = profile(16, 0.3, 0.01);
    const empty = masses.flatMap((mass, row) =>
      (mass > 20 && mass < 27) || (mass > 33 && mass < 39) ? [heights[row]!] : [],
    );
    const mean = empty.reduce((a, b) => a + b, 0) / empty.length;
    expect(Math.abs(mean)).toBeLessThan(0.006);
    expect(Math.max(...empty.map(Math.abs))).toBeLessThan(0.025);
  });
});
