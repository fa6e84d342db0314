import { describe, expect, test } from 'vitest';
import { countOf, poolScans, refuse } from '../../../../shared/analysis/marked/pooledScans.ts';
import { readTogether } from '../../../../shared/analysis/marked/readTogether.ts';
import { BARS, dosedScans } from '../../../support/markedScans.ts';

const marked = dosedScans({ seed: 1, gas: { N2: 1e-6 }, count: 3 });
const pooled = (scans = marked.scans, calibration = marked.calibration) => poolScans(scans, calibration);

describe('pool of marked scans', () => {
  test('holds the masses that all scans measured', () => {
    const gap = marked.scans.map((scan, i) =>
      i === 1 ? { ...scan, values: scan.values.map((value, row) => (row === 43 ? Number.NaN : value)) } : scan,
    );
    const pool = pooled(gap);
    if (!pool.ok) throw new Error(pool.problem);
    expect(pool.masses).toEqual(Array.from({ length: 100 }, (_, i) => i + 1).filter((mass) => mass !== 44));
    expect(pool.scans.map(({ heights, variance }) => [heights.length, variance.length])).toEqual([
      [99, 99],
      [99, 99],
      [99, 99],
    ]);
  });

  test('a recorded background is taken off, and its doubt is in the variance', () => {
    const plain = pooled();
    const peaks = { 28: { heightPa: 3e-8, sigmaPa: 1e-9 } };
    const own = pooled(marked.scans, { ...marked.calibration, background: { peaks, unsteadiness: 0.2 } });
    if (!plain.ok || !own.ok) throw new Error('no pool');
    const row = plain.masses.indexOf(28);
    expect(plain.scans[0]!.heights[row]! - own.scans[0]!.heights[row]!).toBeCloseTo(3e-8, 14);
    const added = own.scans[0]!.variance[row]! - plain.scans[0]!.variance[row]!;
    expect(added / (1e-9 ** 2 + (0.2 * 3e-8) ** 2)).toBeCloseTo(1, 6);
    expect(own.scans[0]!.heights[row - 1]).toBe(plain.scans[0]!.heights[row - 1]);
  });

  test('pressures and relative signals do not mix', () => {
    const relative = dosedScans({ seed: 1, gas: { N2: 1e-6 }, count: 2, settings: { ...BARS, unit: '1' } });
    const others = relative.scans.map((scan) => ({ ...scan, detector: 'faraday' as const }));
    expect(pooled([...marked.scans, ...others])).toEqual(
      refuse('Some of the scans are in pressures and others in relative signals.'),
    );
  });

  test('lists without a common mass', () => {
    const lists = [
      [2, 3],
      [18, 19],
      [28, 29],
    ].map((masses, i) => ({
      ...marked.scans[i]!,
      masses,
      values: Float64Array.of(1e-12, 1e-12),
    }));
    expect(pooled(lists)).toEqual(refuse('The scans have no mass in common.'));
  });

  describe('read together', () => {
    const eight = dosedScans({ seed: 2, gas: { N2: 1e-6 } });
    const top = Math.max(...eight.scans[0]!.values);

    test('one top height in all scans, to the last digit, is the end of the detector', () => {
      const cut = eight.scans.map((scan) => ({
        ...scan,
        values: scan.values.map((value) => Math.min(value, top / 2)),
      }));
      expect(readTogether(eight.scans, eight.calibration).flatMap(({ measured }) => measured.leftOut)).toEqual([]);
      for (const { measured } of readTogether(cut, eight.calibration)) {
        expect(measured.leftOut).toEqual([{ mass: 28, why: 'cut off' }]);
      }
      const pool = poolScans(cut, eight.calibration);
      expect(pool.ok && [...pool.cutOff]).toEqual([28]);
    });

    test('a scan with a gap in a steady peak is left out, and that is said', () => {
      const gap = eight.scans.map((scan, i) =>
        i === 3 ? { ...scan, values: scan.values.map((value, row) => (row === 13 ? 0 : value)) } : scan,
      );
      const pool = poolScans(gap, eight.calibration);
      if (!pool.ok) throw new Error(pool.problem);
      expect(pool.scans.map(({ scan }) => scan.id)).toEqual(['0', '1', '2', '4', '5', '6', '7']);
      expect(pool.remarks).toEqual(['1 scan left out for a drop-out in a peak.']);
    });

    test('three scans of which one has a gap are too few', () => {
      const gap = marked.scans.map((scan, i) =>
        i === 1 ? { ...scan, values: scan.values.map((value, row) => (row === 13 ? 0 : value)) } : scan,
      );
      expect(pooled(gap)).toEqual(refuse('2 scans without a drop-out: at least 3 are needed.'));
    });
  });

  test('one and many', () => {
    expect([countOf(0), countOf(1), countOf(2)]).toEqual(['0 scans', '1 scan', '2 scans']);
  });
});
