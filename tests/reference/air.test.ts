/**
 * The air that leaks into a chamber.
 *
 * - IUPAC Glossary of atmospheric chemistry terms, Pure Appl. Chem. 62 (1990) 2167, "composition of pure air" (Gold Book
 *   C01214): N2 78.084 %, O2 20.946 %, Ar 0.934 % by volume; the catalogue's source.
 * - U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF), table 3: N2 0.78084, O2 0.209476, Ar 0.00934.
 * - Metrologia 44 (2007) 448: argon in ambient dry air 0.9330e-2 ± 0.0032e-2 mol/mol.
 * - A. Khelifa, A. Lecollinet, M. Himbert, "Molar mass of dry air in mass metrology", IMEKO TC3 (2005): Ar/N2 1.196e-2.
 * - Peaks of N2, O2 and Ar: NIST Chemistry WebBook (SRD 69), largest peak 100, typed below. Relative sensitivities: CRC
 *   Handbook, section 15 (Redhead): N2 1, O2 0.96, Ar 1.4.
 * - Ranges met in practice (28 : 32 : 40 : 14): common practice of accelerator and semiconductor vacuum.
 */
import { describe, expect, test } from 'vitest';
import { AIR_FRACTIONS, AIR_RATIOS, AIR_SOURCE } from '../../shared/catalogue/air.ts';
import { gasById } from '../../shared/catalogue/gases.ts';
import { SOURCES } from '../../shared/catalogue/sources.ts';

/** Ion currents of dry air with flat transmission, worked from the typed values; m/z 28 = 100. */
const HANDBOOK_AIR = (() => {
  const parts = [
    { fraction: 0.78084, sensitivity: 1, sum: 114.53, peaks: { 14: 13.79, 28: 100, 29: 0.74 } },
    { fraction: 0.20946, sensitivity: 0.96, sum: 122.29, peaks: { 16: 21.8, 32: 100 } },
    { fraction: 0.00934, sensitivity: 1.4, sum: 114.97, peaks: { 20: 14.62, 36: 0.3, 40: 100 } },
  ];
  const currents = new Map<number, number>();
  for (const { fraction, sensitivity, sum, peaks } of parts)
    for (const [mass, peak] of Object.entries(peaks)) currents.set(Number(mass), (fraction * sensitivity * peak) / sum);
  const at28 = currents.get(28) as number;
  return new Map([...currents].map(([mass, current]) => [mass, (100 * current) / at28]));
})();

/** The same from the catalogue. */
const catalogueAir = (): ReadonlyMap<number, number> => {
  const currents = new Map<number, number>();
  for (const id of ['N2', 'O2', 'Ar'] as const) {
    const gas = gasById(id);
    const perPeak = (AIR_FRACTIONS[id] * gas.relativeSensitivity.value) / gas.primarySum;
    for (const [mass, peak] of Object.entries(gas.records[0].peaks))
      currents.set(Number(mass), (currents.get(Number(mass)) ?? 0) + perPeak * peak);
  }
  const at28 = currents.get(28) as number;
  return new Map([...currents].map(([mass, current]) => [mass, (100 * current) / at28]));
};

describe('composition of dry air', () => {
  test('the source is the published table', () => {
    expect(SOURCES[AIR_SOURCE].kind).toBe('published');
    expect(AIR_FRACTIONS).toEqual({ N2: 0.78084, O2: 0.20946, Ar: 0.00934 });
  });

  test('a second table agrees: U.S. Standard Atmosphere, 1976', () => {
    expect(AIR_FRACTIONS.N2).toBeCloseTo(0.78084, 5);
    expect(Math.abs(AIR_FRACTIONS.O2 - 0.209476)).toBeLessThanOrEqual(2e-5);
    expect(AIR_FRACTIONS.Ar).toBeCloseTo(0.00934, 5);
  });

  test('argon as measured: 0.9330e-2 ± 0.0032e-2, and Ar/N2 = 1.196e-2', () => {
    expect(Math.abs(AIR_FRACTIONS.Ar - 0.00933)).toBeLessThanOrEqual(0.000032);
    expect(AIR_RATIOS.argonToNitrogen).toBeCloseTo(0.01196, 5);
  });

  test('N2 to O2: 78.084 / 20.946 = 3.7279', () => {
    expect(AIR_RATIOS.nitrogenToOxygen).toBeCloseTo(3.7279, 4);
  });
});

describe('spectrum of an air leak', () => {
  test.each([...HANDBOOK_AIR])('m/z %i is %d per 100 of m/z 28, as from the handbooks', (mass, expected) => {
    // The catalogue rounds nothing that the handbooks print: what is left is the arithmetic.
    expect((catalogueAir().get(mass) as number) / expected).toBeCloseTo(1, 3);
  });

  test.each([
    [14, 5, 15],
    [29, 0.7, 0.8],
    [32, 20, 28],
    [40, 1, 1.7],
  ])('m/z %i lies within what is met at a leak in practice: %d to %d %% of m/z 28', (mass, low, high) => {
    const share = catalogueAir().get(mass) as number;
    expect(share).toBeGreaterThanOrEqual(low);
    expect(share).toBeLessThanOrEqual(high);
  });

  test('doubly charged argon and the oxygen atom lie within 5–20 % and 8–25 % of their parents', () => {
    const air = catalogueAir();
    expect((air.get(20) as number) / (air.get(40) as number)).toBeGreaterThan(0.05);
    expect((air.get(20) as number) / (air.get(40) as number)).toBeLessThan(0.2);
    expect((air.get(16) as number) / (air.get(32) as number)).toBeGreaterThan(0.08);
    expect((air.get(16) as number) / (air.get(32) as number)).toBeLessThan(0.25);
  });
});
