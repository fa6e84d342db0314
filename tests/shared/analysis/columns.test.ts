import { describe, expect, test } from 'vitest';
import { gasColumns, gasResponse } from '../../../shared/analysis/columns.ts';
import { meanPattern } from '../../../shared/analysis/pattern.ts';
import { sensitivityUncertainty } from '../../../shared/analysis/sensitivity.ts';
import { gasById } from '../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';

const CATALOGUE = catalogueFor([]);
const masses = Array.from({ length: 100 }, (_, i) => i + 1);

describe('mean of records', () => {
  test('CO: two records disagree about 14/28 (none, 1.7 %), so the mean is half and the spread all of it', () => {
    const { masses: at, intensity, spread } = meanPattern(gasById('CO'));
    const row = at.indexOf(14);
    expect(intensity[row]).toBeCloseTo(0.85, 6);
    expect(spread[row]).toBe(1);
    expect(intensity[at.indexOf(28)]).toBe(100);
    expect(spread[at.indexOf(28)]).toBe(0);
  });

  test('a record says nothing below its own cut-off', () => {
    const gas = gasById('hydrocarbon-oil');
    const lowest = Math.min(...gas.records.map((record) => record.lowMassCutoff));
    const pattern = meanPattern(gas);
    for (const mass of pattern.masses) expect(mass).toBeGreaterThanOrEqual(Math.min(lowest, 12));
  });
});

describe('columns', () => {
  const { columns } = gasColumns(CATALOGUE, masses);
  const of = (id: string) => columns.find((column) => column.id === id)!;

  test('nitrogen at m/z 28 is one, and its reference peak has no fragment error', () => {
    expect(gasResponse(CATALOGUE, 'N2', [14, 28])[1]).toBeCloseTo(1, 12);
    const nitrogen = of('N2');
    nitrogen.rows.forEach((row, k) => {
      expect(nitrogen.relativeError[k]! === 0).toBe(masses[row] === 28);
    });
  });

  test('a fragment error is at least 0.3 and grows with the distance in mass', () => {
    const oxygen = of('O2');
    const at16 = oxygen.rows.indexOf(15);
    expect(oxygen.relativeError[at16]).toBeCloseTo(Math.hypot(0.3, 0.18 * Math.log(2)), 6);
  });

  test('a gas without a measured peak has no column; one whose main peak is missing is not reported', () => {
    const few = gasColumns(CATALOGUE, [16, 17, 28]).columns;
    expect(few.some((column) => column.id === 'Ar')).toBe(false);
    expect(few.find((column) => column.id === 'H2O')!.reportable).toBe(false);
    expect(few.find((column) => column.id === 'CH4')!.reportable).toBe(true);
  });

  test('a transmission that is still in the heights can be put into the response', () => {
    const plain = gasResponse(CATALOGUE, 'Ar', [20, 40]);
    const filtered = gasResponse(CATALOGUE, 'Ar', [20, 40], 1);
    expect(filtered[1]! / plain[1]!).toBeCloseTo(28 / 40, 12);
    expect(filtered[0]! / plain[0]!).toBeCloseTo(28 / 20, 12);
  });

  test('an unknown gas is refused by name', () => {
    expect(() => gasResponse(CATALOGUE, 'unobtainium', [1])).toThrow(/unobtainium/);
  });
});

describe('sensitivity', () => {
  const error = (id: 'N2' | 'Ar' | 'H2O', referenceError = 0) =>
    sensitivityUncertainty({ gas: gasById(id), referenceMass: 28, referenceError });

  test('nitrogen is what the analyser was calibrated with; others add catalogue and instrument', () => {
    expect(error('N2')).toBe(0.05);
    expect(error('H2O')).toBeCloseTo(Math.hypot(0.1, 0.19), 12);
    expect(error('Ar')).toBeGreaterThan(error('H2O'));
  });

  test('a gas seen by a fragment only carries the error of the fragment', () => {
    expect(error('H2O', 0.3)).toBeCloseTo(Math.hypot(0.1, 0.19, 0.3), 12);
  });
});
