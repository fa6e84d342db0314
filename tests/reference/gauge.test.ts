/**
 * Relative sensitivities and gauge reconciliation.
 *
 * Table: P. A. Redhead, "Relative sensitivity of Bayard-Alpert ionization gauges to various gases", CRC Handbook of
 * Chemistry and Physics, section 15 (p. 15-12 of the 2005 edition); N2 = 1, mean of 12 experimenters, single gauges
 * differ by up to ±15 %. Typed from the table.
 * Mixture: worked by hand from the table with G = Σ P_i s_i, the definition of the relative sensitivity.
 */
import { describe, expect, test } from 'vitest';
import { GASES, type GasId, gasById } from '../../shared/catalogue/gases.ts';

const HANDBOOK: readonly (readonly [GasId, number])[] = [
  ['He', 0.18],
  ['Ne', 0.31],
  ['Ar', 1.4],
  ['Kr', 1.9],
  ['Xe', 2.7],
  ['N2', 1],
  ['H2', 0.43],
  ['O2', 0.96],
  ['CO', 1],
  ['CO2', 1.4],
  ['H2O', 0.93],
  ['SF6', 2.3],
  ['Hg', 3.5],
  ['CH4', 1.6],
  ['C2H6', 2.6],
  ['C3H8', 3.5],
  ['C4H10', 4.3],
];

/**
 * Unsaturated hydrocarbons: the handbook's factors lie far below the ratios of cross sections (SRD 107), which the
 * catalogue takes; the handbook value is the lower end of its range, and the quality says that they conflict.
 */
const CONFLICTING: readonly (readonly [GasId, number])[] = [
  ['C2H2', 0.61],
  ['C2H4', 1.3],
  ['C3H6', 1.8],
  ['benzene', 3.8],
];

/** Pressure that a nitrogen-calibrated gauge shows, in the unit of the partial pressures. */
const gaugeReading = (partial: Partial<Record<GasId, number>>): number =>
  (Object.entries(partial) as [GasId, number][]).reduce(
    (sum, [id, pressure]) => sum + pressure * gasById(id).relativeSensitivity.value,
    0,
  );

describe('relative sensitivities', () => {
  test.each(HANDBOOK)('%s is %d', (id, factor) => {
    expect(gasById(id).relativeSensitivity).toMatchObject({ value: factor, source: 'crcRedhead' });
  });

  test('nothing else claims to be from the handbook', () => {
    const claimed = GASES.filter((gas) => gas.relativeSensitivity.source === 'crcRedhead').map((gas) => gas.id);
    expect(claimed.sort()).toEqual(HANDBOOK.map(([id]) => id as string).sort());
  });

  test.each(CONFLICTING)('%s: the handbook says %d, the catalogue says that sources conflict', (id, factor) => {
    expect(gasById(id).relativeSensitivity).toMatchObject({ low: factor, quality: 'conflicting' });
    expect(gasById(id).relativeSensitivity.value).toBeGreaterThan(factor * 1.5);
  });
});

describe('gauge reconciliation', () => {
  test('a mixture of six gases: sum 8.60e-9 mbar, gauge 7.39e-9 mbar', () => {
    const partial = { H2: 2e-9, H2O: 5e-9, CO: 1e-9, CO2: 3e-10, Ar: 1e-10, CH4: 2e-10 };
    expect(Object.values(partial).reduce((a, b) => a + b)).toBeCloseTo(8.6e-9, 12);
    // 0.86 + 4.65 + 1.00 + 0.42 + 0.14 + 0.32 = 7.39
    expect(gaugeReading(partial) / 7.39e-9).toBeCloseTo(1, 6);
  });

  test('hydrogen with some CO and water: factor 0.537, so 1e-8 on the gauge is 1.862e-8 of gas', () => {
    // 0.8 × 0.43 + 0.1 × 1.00 + 0.1 × 0.93 = 0.537
    const factor = gaugeReading({ H2: 0.8, CO: 0.1, H2O: 0.1 });
    expect(factor).toBeCloseTo(0.537, 6);
    expect(1e-8 / factor / 1.8622e-8).toBeCloseTo(1, 4);
  });
});
