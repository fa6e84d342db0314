import { describe, expect, test } from 'vitest';
import { scanHeights } from '../../../shared/analysis/heights.ts';
import { heightVariance } from '../../../shared/analysis/heightVariance.ts';
import type { AnalysisScan, Calibration } from '../../../shared/analysis/types.ts';
import { seededRandom } from '../../support/instrument.ts';

const calibration = (changes: Partial<Calibration> = {}): Calibration => ({
  analyser: 'a',
  principle: 'quadrupole',
  massRange: null,
  sensitivityAmperesPerPascal: 1e-6,
  multiplierGain: 1000,
  transmissionExponent: 0,
  version: '1',
  ...changes,
});

function scan(changes: Partial<AnalysisScan> = {}): AnalysisScan {
  const random = seededRandom(1);
  return {
    analyser: 'a',
    id: '1',
    atMs: 0,
    seconds: 10,
    averages: 1,
    masses: { first: 1, last: 50, perUnit: 1 },
    values: Float64Array.from(
      { length: 50 },
      (_, i) => 1e-15 * random.normal() + (i === 27 ? 1e-10 : i === 39 ? 2e-11 : 0),
    ),
    unit: 'A',
    detector: 'faraday',
    totalPressurePa: null,
    state: 'base',
    temperatureC: null,
    ...changes,
  };
}

describe('one scale for all units', () => {
  test('current over sensitivity', () => {
    expect(scanHeights(scan(), calibration()).heights[27]! / 1e-4).toBeCloseTo(1, 3);
  });

  test('a multiplier divides by its gain as well; without a gain there is no scale', () => {
    const seen = scanHeights(scan({ detector: 'multiplier' }), calibration());
    expect(seen.heights[27]! / 1e-7).toBeCloseTo(1, 3);
    expect(scanHeights(scan({ detector: 'multiplier' }), calibration({ multiplierGain: null })).scale).toBe('relative');
  });

  test.each([
    ['Pa', 1],
    ['mbar', 100],
    ['Torr', 101325 / 760],
  ] as const)('%s as given', (unit, pascal) => {
    const { heights, scale } = scanHeights(scan({ unit }), calibration());
    expect(scale).toBe('pascal');
    expect(heights[27]! / (1e-10 * pascal)).toBeCloseTo(1, 3);
  });

  test('transmission (28/m)^t is undone for currents, noise with it', () => {
    const flat = scanHeights(scan(), calibration());
    const tilted = scanHeights(scan(), calibration({ transmissionExponent: 1 }));
    expect(tilted.heights[39]! / flat.heights[39]!).toBeCloseTo(40 / 28, 9);
    expect(tilted.heights[27]! / flat.heights[27]!).toBeCloseTo(1, 9);
    expect(Math.sqrt(tilted.variance[6]! / flat.variance[6]!)).toBeCloseTo(7 / 28, 6);
    expect(tilted.readNoiseAt28).toBe(flat.readNoiseAt28);
  });

  test('without sensitivity, and for a relative signal, heights are shares', () => {
    for (const relative of [
      scanHeights(scan(), calibration({ sensitivityAmperesPerPascal: null })),
      scanHeights(scan({ unit: '1' }), calibration()),
    ]) {
      expect(relative.scale).toBe('relative');
      expect(relative.heights.reduce((sum, height) => sum + Math.max(0, height), 0)).toBeCloseTo(1, 9);
    }
  });
});

describe('what is said about a scan', () => {
  test('peaks off their masses', () => {
    const values = Float64Array.from({ length: 50 * 8 + 1 }, (_, i) => {
      const mass = 1 + i / 8;
      return [2, 18, 28, 44].reduce((sum, m) => sum + 1e-10 * Math.exp(-0.5 * ((mass - m - 0.3) / 0.25) ** 2), 0);
    });
    const { notes } = scanHeights(scan({ masses: { first: 1, last: 51, perUnit: 8 }, values }), calibration());
    expect(notes.find(({ code }) => code === 'mass-offset')?.text).toMatch(/0\.30 u above/);
  });

  test('noise that the scan hides or cannot show', () => {
    const hidden = scanHeights(
      scan({ values: Float64Array.from({ length: 50 }, (_, i) => (i === 27 ? 1e-10 : 0)) }),
      calibration(),
    );
    expect(hidden.notes.map(({ code }) => code)).toEqual(['noise-hidden']);
    expect(hidden.readNoiseAt28).toBeGreaterThan(0);
    const selected = scanHeights(
      scan({ masses: [2, 18, 28, 44], values: Float64Array.of(1e-12, 1e-11, 3e-12, 1e-13) }),
      calibration(),
    );
    expect(selected.notes.map(({ code }) => code)).toEqual(['noise-assumed']);
  });
});

describe('variance of a height', () => {
  const noise = {
    read: Float64Array.of(1, 1, 1),
    shot: Float64Array.of(0.01, 0.01, 0.01),
    neighbourError: 0,
    hiddenFoot: false,
  };

  test('read noise and counting noise; a negative height counts no ions', () => {
    expect(Array.from(heightVariance([20, 21, 22], Float64Array.of(100, 0, -5), noise))).toEqual([2, 1, 1]);
  });

  test('a large neighbour in a profile', () => {
    const [, beside] = heightVariance([20, 21, 22], Float64Array.of(100, 0, 0), { ...noise, neighbourError: 0.01 });
    expect(beside).toBeCloseTo(1 + 1, 9);
  });

  test('a foot that nothing shows makes helium and hydrogen uncertain, not water', () => {
    const heights = Float64Array.of(10, 0, 1000);
    const [two, four, eighteen] = heightVariance([2, 4, 18], heights, { ...noise, hiddenFoot: true });
    expect(Math.sqrt(four!)).toBeGreaterThan(2.5);
    expect(two!).toBeGreaterThan(four!);
    expect(eighteen).toBe(1 + 10);
  });
});
