import { describe, expect, test } from 'vitest';
import type { CalibrationValue } from '../../../shared/contract/calibration.ts';
import {
  calibrationAt,
  calibrationsOverTime,
  type FleetAnalyser,
  rowsInForce,
} from '../../../shared/db/calibrationInForce.ts';
import type { CalibrationRow } from '../../../shared/db/calibrations.ts';

const analyser: FleetAnalyser = {
  id: 'a',
  version: 4,
  document: { id: 'a', chamber: 'c', sensitivityAmperesPerPascal: 1e-6, multiplierGain: 800, massRange: [1, 100] },
};

const row = (id: string, stated: Partial<CalibrationRow> & { from: number; to?: number }): CalibrationRow => ({
  chamber: 'c',
  analyser: 'a',
  id,
  kind: 'sensitivity',
  gas: null,
  value: { value: 2e-6, relativeUncertainty: null },
  source: 'certificate',
  note: '',
  state: 'in-force',
  validFrom: new Date(stated.from),
  validTo: stated.to === undefined ? null : new Date(stated.to),
  setAt: new Date(0),
  setBy: 'ann',
  decidedAt: null,
  decidedBy: null,
  decisionNote: null,
  scansFrom: null,
  scansTo: null,
  scanCount: null,
  ...stated,
});
const at = (rows: readonly CalibrationRow[], ms: number) => calibrationAt(analyser, rows, ms);
const value = (number: number, relativeUncertainty: number | null = null): CalibrationValue => ({
  value: number,
  relativeUncertainty,
});

describe('which rows hold', () => {
  test('from the first instant of a span to just before its end', () => {
    const rows = [row('x', { from: 100, to: 200 })];
    expect([99, 100, 199, 200].map((ms) => at(rows, ms).version)).toEqual(['a/4', 'a/4+x', 'a/4+x', 'a/4']);
  });

  test('the one that was valid from the latest, and the one before it again when that has ended', () => {
    const rows = [row('new', { from: 200, to: 300, value: value(3e-6) }), row('old', { from: 100 })];
    expect([150, 250, 350].map((ms) => at(rows, ms).sensitivityAmperesPerPascal)).toEqual([2e-6, 3e-6, 2e-6]);
  });

  test('of two that begin together the one that was set later, in whatever order they come', () => {
    const rows = [row('b', { from: 100, setAt: new Date(7) }), row('a', { from: 100, setAt: new Date(8) })];
    expect(rowsInForce(rows, 150).map(({ id }) => id)).toEqual(['a']);
    expect(rowsInForce(rows.toReversed(), 150).map(({ id }) => id)).toEqual(['a']);
  });

  test('none that is proposed or withdrawn', () => {
    const rows = [row('p', { from: 100, state: 'proposed' }), row('w', { from: 100, state: 'withdrawn' })];
    expect(at(rows, 150).version).toBe('a/4');
  });

  test('each kind for itself, and patterns each for its gas', () => {
    const pattern = (gas: string) => ({
      gas,
      peaks: { '28': 100, '14': 9 },
      fragmentUncertainty: 0.03,
      responseAtLargest: null,
      responseUncertainty: null,
    });
    const rows = [
      row('n1', { from: 1, kind: 'pattern', gas: 'N2', value: pattern('N2') }),
      row('n2', { from: 2, kind: 'pattern', gas: 'N2', value: pattern('N2') }),
      row('co', { from: 1, kind: 'pattern', gas: 'CO', value: pattern('CO') }),
      row('g', { from: 1, kind: 'gain' }),
    ];
    expect(at(rows, 5).version).toBe('a/4+co+g+n2');
    expect(at(rows, 5).patterns?.map(({ gas }) => gas)).toEqual(['CO', 'N2']);
    expect(at(rows, 5).patterns?.[0]?.peaks[28]).toBe(100);
  });
});

describe('what they say', () => {
  const background = { peaks: { '2': { heightPa: 1e-9, sigmaPa: 1e-10 } }, unsteadiness: 0.2 };

  test('every kind has its place over the document', () => {
    const rows = [
      row('1', { from: 1, value: value(5e-6, 0.03) }),
      row('2', { from: 1, kind: 'gain', value: value(1200, 0.05) }),
      row('3', { from: 1, kind: 'transmission', value: value(0.4) }),
      row('4', { from: 1, kind: 'gauge-factor', value: value(1.3, 0.2) }),
      row('5', { from: 1, kind: 'background', value: background }),
    ];
    expect(at(rows, 2)).toEqual({
      analyser: 'a',
      principle: 'quadrupole',
      massRange: [1, 100],
      sensitivityAmperesPerPascal: 5e-6,
      sensitivityUncertainty: 0.03,
      multiplierGain: 1200,
      multiplierGainUncertainty: 0.05,
      transmissionExponent: 0.4,
      gaugeFactor: 1.3,
      gaugeFactorUncertainty: 0.2,
      background,
      version: 'a/4+1+2+3+4+5',
    });
  });

  test('without any row it is the document alone', () => {
    expect(at([], 2)).toEqual({
      analyser: 'a',
      principle: 'quadrupole',
      massRange: [1, 100],
      sensitivityAmperesPerPascal: 1e-6,
      multiplierGain: 800,
      transmissionExponent: 0,
      version: 'a/4',
    });
  });
});

test('over time it is the same answer, and one object from one turn to the next', () => {
  const rows = [
    row('x', { from: 100, to: 200 }),
    row('y', { from: 150, kind: 'gain' }),
    row('z', { from: 150, to: 150, kind: 'transmission' }),
  ];
  const overTime = calibrationsOverTime(analyser, rows);
  for (const ms of [250, 0, 99, 100, 149, 150, 199, 200, 1e12]) expect(overTime(ms)).toEqual(at(rows, ms));
  expect(overTime(120)).toBe(overTime(101));
});
