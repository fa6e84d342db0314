/**
 * Every row of the catalogue, checked alike.
 * Molar masses against npm `isotopic-distribution` 3.6.0 (IUPAC 2009 abundances, isotope masses of the Atomic Mass
 * Evaluation): the mean mass of the natural mixture of the formula.
 */
import { IsotopicDistribution } from 'isotopic-distribution';
import { describe, expect, test } from 'vitest';
import { CATALOGUE_VERSION, GASES, gasById } from '../../../shared/catalogue/gases.ts';
import { SOURCES } from '../../../shared/catalogue/sources.ts';
import type { FragmentRecord } from '../../../shared/catalogue/types.ts';

const peaksOf = (record: FragmentRecord): [mass: number, intensity: number][] =>
  Object.entries(record.peaks).map(([mass, intensity]) => [Number(mass), intensity]);

/** Mean molar mass of the natural isotopic mixture, g/mol. */
const meanMolarMass = (formula: string): number => {
  const { x, y } = new IsotopicDistribution(formula, { fwhm: 0.001, minY: 1e-12, limit: 1e6 }).getXY();
  const total = y.reduce((a, b) => a + b, 0);
  return x.reduce((sum, mass, i) => sum + mass * (y[i] as number), 0) / total;
};

/** What the row calls one formula is another isotope or a surrogate's. */
const FORMULA_OF: Readonly<Record<string, string>> = { D2: '[2H]2', 'hydrocarbon-oil': 'C24H50' };

describe.each(GASES.map((gas) => [gas.id, gas] as const))('%s', (id, gas) => {
  test('every record is scaled to 100 and holds positive intensities at whole masses', () => {
    for (const record of gas.records) {
      const peaks = peaksOf(record);
      expect(Math.max(...peaks.map(([, intensity]) => intensity))).toBe(100);
      for (const [mass, intensity] of peaks) {
        expect(Number.isInteger(mass) && mass >= 1, `m/z ${mass}`).toBe(true);
        expect(intensity, `m/z ${mass}`).toBeGreaterThan(0);
      }
    }
  });

  test('no record speaks below its own cut-off, and the energy is that of electron ionisation', () => {
    for (const record of gas.records) {
      expect(Math.min(...peaksOf(record).map(([mass]) => mass))).toBeGreaterThanOrEqual(record.lowMassCutoff);
      if (record.energyElectronVolt !== null) {
        expect(record.energyElectronVolt).toBeGreaterThanOrEqual(70);
        expect(record.energyElectronVolt).toBeLessThanOrEqual(80);
      }
    }
  });

  test('no ion is heavier than the molecule with its heaviest isotopes', () => {
    const molarMass = gas.molarMassGramsPerMole?.value;
    if (molarMass === undefined) return expect(gas.kind).toBe('mixture');
    const heaviest = Math.max(...gas.records.flatMap((record) => peaksOf(record).map(([mass]) => mass)));
    expect(heaviest).toBeLessThanOrEqual(molarMass + 6);
  });

  test('the sum of the primary record holds all its peaks and little beside them', () => {
    const sum = peaksOf(gas.records[0]).reduce((total, [, intensity]) => total + intensity, 0);
    expect(gas.primarySum).toBeGreaterThanOrEqual(sum - 1e-9);
    // Half-integer m/z of doubly charged ions: 5 % of the total in xenon, the largest case.
    expect(gas.primarySum).toBeLessThanOrEqual(sum * 1.06);
  });

  test('every number names a source that exists', () => {
    const named = [
      ...gas.records.map((record) => record.source),
      gas.relativeSensitivity.source,
      ...(gas.molarMassGramsPerMole === null ? [] : [gas.molarMassGramsPerMole.source]),
    ];
    for (const source of named) expect(SOURCES).toHaveProperty([source]);
  });

  test('the relative sensitivity lies in its own range, and an assumption is called one', () => {
    const { value, low, high, quality, source } = gas.relativeSensitivity;
    expect(low).toBeGreaterThan(0);
    expect(value).toBeGreaterThanOrEqual(low);
    expect(value).toBeLessThanOrEqual(high);
    expect(quality === 'none').toBe(source === 'fourRepeatUnits');
    if (quality === 'good') expect(SOURCES[source].kind).toBe('published');
    if (SOURCES[source].kind === 'from memory') expect(['poor', 'none']).toContain(quality);
  });

  test('the molar mass follows from the formula', () => {
    if (gas.molarMassGramsPerMole === null) return expect(gas.formula).toMatch(/\)n$/);
    expect(gas.molarMassGramsPerMole.value).toBeCloseTo(meanMolarMass(FORMULA_OF[id] ?? gas.formula), 2);
  });
});

describe('the list', () => {
  test('holds at least 45 gases and mixtures, each once', () => {
    expect(GASES.length).toBeGreaterThanOrEqual(45);
    expect(new Set(GASES.map((gas) => gas.id.toLowerCase())).size).toBe(GASES.length);
    for (const gas of GASES) expect(gas, 'an id without an entry').toBeDefined();
  });

  test('gases keep their places: a new one is appended', () => {
    expect(GASES.slice(0, 12).map((gas) => gas.id)).toEqual([
      'H2',
      'He',
      'CH4',
      'NH3',
      'H2O',
      'Ne',
      'C2H2',
      'CO',
      'N2',
      'C2H4',
      'C2H6',
      'O2',
    ]);
    expect(GASES.indexOf(gasById('Hg'))).toBe(77);
  });

  test('nitrogen is the reference: sensitivity 1, largest peak at 28', () => {
    expect(gasById('N2').relativeSensitivity.value).toBe(1);
    expect(gasById('N2').records[0].peaks[28]).toBe(100);
  });

  test('ids can stand in an address and in a table heading', () => {
    for (const gas of GASES) expect(gas.id).toMatch(/^[A-Z][A-Za-z0-9]*$|^[a-z]+(-[a-z]+)*$/);
  });

  test('what can hurt people says so', () => {
    for (const id of ['CO', 'HF', 'HCN', 'H2S', 'PH3', 'AsH3', 'B2H6', 'Cl2', 'WF6'] as const)
      expect(gasById(id).hazards).toContain('toxic');
    for (const id of ['SiH4', 'PH3', 'B2H6'] as const) expect(gasById(id).hazards).toContain('pyrophoric');
    for (const id of ['H2', 'CH4', 'acetone', 'isopropanol'] as const)
      expect(gasById(id).hazards).toContain('flammable');
  });

  test('the version is eight hex digits made from the content', () => {
    expect(CATALOGUE_VERSION).toMatch(/^[0-9a-f]{8}$/);
  });
});
