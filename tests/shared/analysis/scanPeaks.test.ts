import { describe, expect, test } from 'vitest';
import { scanPeaks } from '../../../shared/analysis/scanPeaks.ts';
import type { AnalysisScan } from '../../../shared/analysis/types.ts';
import { seededRandom } from '../../support/instrument.ts';

const FREE: Readonly<Record<number, number>> = { 2: 1, 18: 1, 28: 1, 44: 1 };

function scanOf(perUnit: number, { peaks = FREE, offset = 0 } = {}): AnalysisScan {
  const random = seededRandom(71);
  const values = Float64Array.from({ length: 50 * perUnit + 1 }, (_, i) => {
    const place = 1 + i / perUnit;
    return Object.entries(peaks).reduce(
      (sum, [mass, height]) => sum + height * Math.exp(-0.5 * ((place - Number(mass) - offset) / 0.25) ** 2),
      1e-5 * random.normal(),
    );
  });
  return {
    analyser: 'a',
    id: '1',
    atMs: 0,
    seconds: 10,
    averages: 1,
    masses: { first: 1, last: 51, perUnit },
    values,
    unit: 'A',
    detector: 'faraday',
    totalPressurePa: null,
    state: 'base',
    temperatureC: null,
  };
}

describe('peaks of a scan, whichever way it was taken', () => {
  test('few points per unit are bars: no scale, no width, no cut top', () => {
    const { masses, massScale, widthU, cutOff } = scanPeaks(scanOf(2), null);
    expect(masses.length).toBe(51);
    expect([massScale, widthU, cutOff]).toEqual([null, null, null]);
  });

  test('a profile tells where its peaks stand and how wide they are', () => {
    const { massScale, widthU, notes } = scanPeaks(scanOf(16, { offset: 0.2 }), null);
    expect(massScale!.offsetU).toBeCloseTo(0.2, 2);
    expect(widthU!.tenth).toBeCloseTo(0.5 * Math.sqrt(2 * Math.log(10)), 2);
    expect(notes.map(({ code }) => code)).toEqual(['mass-offset']);
  });

  test('where neighbours hide every foot a Gaussian goes on from half the height', () => {
    const crowded = Object.fromEntries(Array.from({ length: 50 }, (_, i) => [i + 1, i % 2 === 0 ? 1 : 0.3]));
    const { half, tenth, twentieth } = scanPeaks(scanOf(24, { peaks: crowded }), null).widthU!;
    expect(Math.abs(half - 0.5 * Math.sqrt(2 * Math.LN2))).toBeLessThan(0.1);
    expect(tenth / half).toBeCloseTo(Math.sqrt(Math.log(10) / Math.log(2)), 9);
    expect(twentieth / tenth).toBeCloseTo(Math.sqrt(Math.log(20) / Math.log(10)), 9);
  });

  test('a profile without peaks says so and is read where peaks stood before', () => {
    const { massScale, notes, masses } = scanPeaks(scanOf(16, { peaks: {} }), { offsetU: 0.3, slope: 0, pivot: 28 });
    expect(massScale).toBeNull();
    expect(notes).toEqual([]);
    expect(masses.length).toBeGreaterThan(45);
  });
});
