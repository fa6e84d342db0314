import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { FRAGMENT_ERROR } from '../../../shared/analysis/fragments.ts';
import type { LearnedPattern } from '../../../shared/analysis/types.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { makeSimulatedAnalyser, seededRandom, simulateScan } from '../../support/instrument.ts';

const CATALOGUE = catalogueFor([]);
const MASSES = Array.from({ length: 100 }, (_, i) => i + 1);
/** Invented: an analyser whose fragment at 14 is 9 % and which sees 0.9 of what is assumed. */
const NITROGEN: LearnedPattern = {
  gas: 'N2',
  peaks: { 14: 9, 28: 100, 29: 0.73, 30: 0 },
  fragmentUncertainty: 0.05,
  responseAtLargest: 0.9,
  responseUncertainty: 0.04,
};

const columnOf = (id: string, patterns: LearnedPattern[] = [], masses = MASSES) => {
  const column = gasColumns(CATALOGUE, masses, { patterns }).columns.find((one) => one.id === id)!;
  const at = (mass: number) => column.rows.indexOf(masses.indexOf(mass));
  return {
    ...column,
    responseAt: (mass: number) => column.response[at(mass)] ?? 0,
    errorAt: (mass: number) => column.relativeError[at(mass)] ?? 0,
  };
};

describe('a pattern measured on this analyser', () => {
  test('takes the place of the records, with its own error and response', () => {
    const column = columnOf('N2', [NITROGEN]);
    expect(column.responseAt(28)).toBeCloseTo(0.9, 12);
    expect(column.responseAt(14)).toBeCloseTo(0.081, 12);
    expect(column.errorAt(28)).toBe(0);
    expect(column.errorAt(14)).toBeCloseTo(0.05, 12);
    expect(column.sensitivityError).toBeCloseTo(0.04, 12);
  });

  test('is never believed better than an analyser repeats', () => {
    const column = columnOf('N2', [{ ...NITROGEN, fragmentUncertainty: 0.001, responseUncertainty: 0 }]);
    expect(column.errorAt(14)).toBeGreaterThanOrEqual(0.02);
    expect(column.sensitivityError).toBeGreaterThanOrEqual(0.01);
  });

  test('without a known amount keeps the response of the records', () => {
    const published = columnOf('CO2');
    const learned = columnOf('CO2', [
      {
        gas: 'CO2',
        peaks: { 12: 5, 16: 8, 28: 12, 44: 100 },
        fragmentUncertainty: 0.04,
        responseAtLargest: null,
        responseUncertainty: null,
      },
    ]);
    expect(learned.peakResponse).toBeCloseTo(published.peakResponse, 12);
    expect(learned.sensitivityError).toBeCloseTo(published.sensitivityError, 12);
    expect(learned.responseAt(28) / learned.peakResponse).toBeCloseTo(0.12, 12);
    // 22 and 45 were not spoken of: the records stay, with their error.
    expect(learned.responseAt(22)).toBeCloseTo(published.responseAt(22), 12);
    expect(learned.errorAt(22)).toBeGreaterThanOrEqual(FRAGMENT_ERROR);
    expect(learned.errorAt(12)).toBeLessThan(FRAGMENT_ERROR);
  });

  test('read from another of its peaks, the gas is as sure as that fragment', () => {
    const column = columnOf('N2', [NITROGEN], [2, 14, 18, 40]);
    expect(column.referenceMass).toBe(14);
    expect(column.sensitivityError).toBeCloseTo(Math.hypot(0.04, 0.05), 12);
  });

  test('a measured empty mass is empty; other gases keep their columns; withdrawn, the records are back', () => {
    const without = columnOf('CO2', [
      {
        gas: 'CO2',
        peaks: { 22: 0, 44: 100 },
        fragmentUncertainty: 0.04,
        responseAtLargest: null,
        responseUncertainty: null,
      },
    ]);
    expect(without.responseAt(22)).toBe(0);
    expect(columnOf('Ar', [NITROGEN]).responseAt(40)).toBe(columnOf('Ar').responseAt(40));
    expect(columnOf('N2', []).responseAt(14)).toBeGreaterThan(0.1);
  });

  test('whose largest peak no record knows has no scale and is not used', () => {
    const odd = { ...NITROGEN, peaks: { 14: 9, 28: 90, 77: 100 } };
    expect(columnOf('N2', [odd]).responseAt(28)).toBe(1);
  });
});

test('the uncertainty of a certificate is that of nitrogen; only what is worse than usual adds to the other gases', () => {
  const of = (id: string, calibrationUncertainty: number) =>
    gasColumns(CATALOGUE, MASSES, { calibrationUncertainty }).columns.find((one) => one.id === id)!.sensitivityError;
  expect(of('N2', 0.02)).toBeCloseTo(0.02, 12);
  expect(of('N2', 0.3)).toBeCloseTo(0.3, 12);
  expect(of('O2', 0.02)).toBe(of('O2', 0.05));
  expect(of('O2', 0.3)).toBeGreaterThan(0.3);
});

/** Simulated analysers; what a marked scan of the pure gas would give is their own pattern, repeated to 3 %. */
test('patterns of this analyser part nitrogen and carbon monoxide that the records leave together', () => {
  const ids = ['N2', 'CO', 'H2O', 'CO2'];
  const count = { published: { error: 0, seen: 0, covered: 0 }, learned: { error: 0, seen: 0, covered: 0 } };
  const scans = 60;
  for (let seed = 1; seed <= scans; seed++) {
    const random = seededRandom(9000 + seed);
    const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread: 0.1 });
    const truth = { H2O: 1e-6, H2: 1e-7, N2: 1e-7, CO: 6e-8, CO2: 5e-8, O2: 1e-8, CH4: 5e-9 };
    const settings = { unit: 'Pa', masses: { first: 1, last: 100, perUnit: 1 }, range: 1e5, ions: 1e7 } as const;
    const { scan, calibration } = simulateScan(random, analyser, truth, settings);
    const patterns = ids.map((gas): LearnedPattern => {
      const response = analyser.responses.get(gas)!;
      const largest = response.reduce((most, value) => Math.max(most, value), 0);
      const heights = MASSES.map((mass): [number, number] => {
        const repeated = response[mass] === largest ? 1 : Math.exp(0.03 * random.normal());
        return [mass, ((100 * response[mass]!) / largest) * repeated];
      });
      const peaks = Object.fromEntries(heights);
      return { gas, peaks, fragmentUncertainty: 0.03, responseAtLargest: largest, responseUncertainty: 0.03 };
    });
    for (const [kind, known] of [
      ['published', calibration],
      ['learned', { ...calibration, patterns }],
    ] as const) {
      const { gases } = makeAnalyser(known, CATALOGUE).analyse(scan).analysis;
      const carbonMonoxide = gases.find(({ gas }) => gas === 'CO')!;
      if (carbonMonoxide.detected) count[kind].seen++;
      if (carbonMonoxide.lowPa <= truth.CO && carbonMonoxide.highPa >= truth.CO) count[kind].covered++;
      count[kind].error += Math.abs(carbonMonoxide.valuePa - truth.CO) / truth.CO / scans;
    }
  }
  expect(count.learned.seen).toBe(scans);
  expect(count.published.seen).toBeLessThan(0.95 * scans);
  expect(count.learned.error).toBeLessThan(count.published.error / 3);
  expect(count.learned.covered).toBeGreaterThanOrEqual(0.9 * scans);
});
