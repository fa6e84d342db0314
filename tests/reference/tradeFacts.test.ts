/**
 * Facts of the trade. Common practice: any practitioner would object to an answer that ignores them.
 *
 * - A partial pressure of 8e-10 where the gauge reads 2.9e-11 in the same unit is impossible.
 * - Hydrogen at 1.46e-11 and a smallest detected partial pressure of 4.7e-14 are 2.5 decades apart
 *   (log10(1.46e-11 / 4.7e-14) = 2.492).
 * - Water gives m/z 18 : 17 : 16 as 100 : 21–25 : 1–3 (NIST Chemistry WebBook: 100 : 21.2 : 0.9; common practice for the
 *   range). A pattern far from that means more than water: ammonia lifts 17 and 16 (WebBook NH3 17:100, 16:80).
 */
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import type { AnalysisScan, Calibration } from '../../shared/analysis/types.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { seededRandom } from '../support/instrument.ts';

const CALIBRATION: Calibration = {
  analyser: 'a',
  principle: 'quadrupole',
  massRange: null,
  sensitivityAmperesPerPascal: 1e-6,
  multiplierGain: null,
  transmissionExponent: 0,
  version: '1',
};

interface Spectrum {
  /** m/z → N2-equivalent Pa. */
  readonly peaks: Readonly<Record<number, number>>;
  readonly noisePa: number;
  readonly gaugePa?: number;
}

function analyse({ peaks, noisePa, gaugePa }: Spectrum) {
  const random = seededRandom(12);
  const scan: AnalysisScan = {
    analyser: 'a',
    id: '1',
    atMs: 0,
    seconds: 20,
    averages: 1,
    masses: { first: 1, last: 100, perUnit: 1 },
    values: Float64Array.from({ length: 100 }, (_, i) => 1e-6 * ((peaks[i + 1] ?? 0) + noisePa * random.normal())),
    unit: 'A',
    detector: 'faraday',
    totalPressurePa: gaugePa ?? null,
    state: 'base',
    temperatureC: null,
  };
  return makeAnalyser(CALIBRATION, catalogueFor([])).analyse(scan).analysis;
}

describe('a part above the total', () => {
  const nitrogen = { 28: 8e-10, 14: 0.1379 * 8e-10, 29: 0.0074 * 8e-10 };

  test('8e-10 of nitrogen where the gauge reads 2.9e-11: told, and the ratios still stand', () => {
    const { notes, gases, kappa } = analyse({ peaks: nitrogen, noisePa: 1e-14, gaugePa: 2.9e-11 });
    expect(notes.map(({ code }) => code)).toContain('above-gauge');
    expect(gases.find(({ gas }) => gas === 'N2')?.valuePa).toBeGreaterThan(2.9e-11);
    // κ = gauge / Σ P s = 2.9e-11 / 8e-10.
    expect(kappa! / 0.03625).toBeCloseTo(1, 1);
  });

  test('the same with a gauge that reads 8e-10: nothing to object to', () => {
    const { notes } = analyse({ peaks: nitrogen, noisePa: 1e-14, gaugePa: 8e-10 });
    expect(notes.map(({ code }) => code)).not.toContain('above-gauge');
  });
});

test('hydrogen at 1.46e-11 and a floor of 4.7e-14 are 2.5 decades apart', () => {
  expect(Math.log10(1.46e-11 / 4.7e-14)).toBeCloseTo(2.492, 3);
  // Hydrogen is the largest peak; three standard deviations of the noise are 4.7e-14.
  const { decades, floorPa } = analyse({ peaks: { 2: 1.46e-11, 1: 3e-13 }, noisePa: 4.7e-14 / 3 });
  // Ninety empty masses know their width to 1/√(2·90) = 7.5 %, 0.03 decades; four of those.
  expect(Math.abs(decades! - 2.492)).toBeLessThan(0.13);
  expect(Math.abs(Math.log10(floorPa! / 4.7e-14))).toBeLessThan(0.13);
});

describe('18 : 17 : 16', () => {
  const spectrum = (seventeen: number, sixteen: number): Spectrum => ({
    peaks: { 18: 1e-7, 17: seventeen * 1e-9, 16: sixteen * 1e-9, 20: 3e-10, 28: 2e-8, 14: 0.1379 * 2e-8 },
    noisePa: 1e-12,
  });
  const more = (seventeen: number, sixteen: number) => {
    const { gases, peaks } = analyse(spectrum(seventeen, sixteen));
    const named = gases
      .filter(({ gas, detected }) => detected && ['NH3', 'CH4', 'O2'].includes(gas))
      .map(({ gas }) => gas);
    const left = peaks.filter(({ mass, unexplained }) => (mass === 16 || mass === 17) && unexplained > 0.2);
    return { named, left: left.map(({ mass }) => mass) };
  };

  test.each([
    [21.2, 0.9],
    [23, 2],
    [25, 1.5],
  ])('100 : %d : %d is water and nothing else', (seventeen, sixteen) => {
    expect(more(seventeen, sixteen)).toEqual({ named: [], left: [] });
  });

  test.each([
    [60, 32],
    [100, 65],
    [150, 105],
  ])('100 : %d : %d is more than water: ammonia is named, or the rest stays unexplained', (seventeen, sixteen) => {
    const { named, left } = more(seventeen, sixteen);
    expect(named.includes('NH3') || left.includes(17)).toBe(true);
  });

  test.each([
    [22, 15],
    [22, 60],
  ])(
    '100 : %d : %d has more at 16 than water: methane, oxygen or ions from surfaces, or it stays unexplained',
    (a, b) => {
      const { peaks } = analyse(spectrum(a, b));
      const at16 = peaks.find(({ mass }) => mass === 16)!;
      const water = at16.parts.find(({ gas }) => gas === 'H2O')?.share ?? 0;
      expect(water).toBeLessThan(0.35);
    },
  );
});
