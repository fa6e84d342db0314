/** The gases that this world is made of, and what a gauge and a pump need to know of each. */

export const WORLD_GASES = [
  'H2',
  'He',
  'CH4',
  'H2O',
  'CO',
  'N2',
  'O2',
  'Ar',
  'CO2',
  'C3H6',
  'oil',
  'CF4',
  'NF3',
  'SF6',
] as const;
export type WorldGas = (typeof WORLD_GASES)[number];
export type PerGas = Readonly<Record<WorldGas, number>>;
export type SomeGases = Readonly<Partial<Record<WorldGas, number>>>;

/** g/mol; IUPAC standard atomic weights, from memory. `oil` stands for a hydrocarbon of about thirty carbons. */
export const MOLAR_MASS_GRAMS: PerGas = {
  H2: 2.016,
  He: 4.0026,
  CH4: 16.043,
  H2O: 18.015,
  CO: 28.01,
  N2: 28.014,
  O2: 31.998,
  Ar: 39.948,
  CO2: 44.01,
  C3H6: 42.081,
  oil: 422,
  CF4: 88.004,
  NF3: 71.002,
  SF6: 146.06,
};

/**
 * What an ionisation gauge shows for a gas, over what it shows for as much N2.
 *
 * H2 to CO2 and SF6: P. A. Redhead's table in the CRC Handbook of Chemistry and Physics, section 15 (mean of twelve
 * experimenters, ±15 %). C3H6, CF4, NF3: near the ratio of ionisation cross-sections, common practice.
 * oil: grows with the number of electrons; a round figure invented for the example.
 */
export const GAUGE_FACTOR: PerGas = {
  H2: 0.43,
  He: 0.18,
  CH4: 1.6,
  H2O: 0.93,
  CO: 1,
  N2: 1,
  O2: 0.96,
  Ar: 1.4,
  CO2: 1.4,
  C3H6: 3,
  oil: 14,
  CF4: 1.9,
  NF3: 1.2,
  SF6: 2.3,
};

/** Dry air by number: US Standard Atmosphere 1976, table 3; CO2 as of the 2020s (common knowledge). */
export const AIR_SHARE: SomeGases = { N2: 0.78084, O2: 0.20946, Ar: 0.00934, CO2: 0.00042, He: 5.24e-6, CH4: 2e-6 };

export const noGas = (): Record<WorldGas, number> => ({
  H2: 0,
  He: 0,
  CH4: 0,
  H2O: 0,
  CO: 0,
  N2: 0,
  O2: 0,
  Ar: 0,
  CO2: 0,
  C3H6: 0,
  oil: 0,
  CF4: 0,
  NF3: 0,
  SF6: 0,
});

/** Adds `more`, times `factor`, to `sum` in place. */
export function addGases(sum: Record<WorldGas, number>, more: SomeGases, factor = 1): void {
  for (const gas of WORLD_GASES) sum[gas] += (more[gas] ?? 0) * factor;
}
