import { describe, expect, test } from 'vitest';
import { dropOuts } from '../../../shared/analysis/dropOut.ts';
import { learnSteady, NO_STEADY, type SteadyMemory, steadyPeaks } from '../../../shared/analysis/instrument/steady.ts';
import { cutOffBars } from '../../../shared/analysis/saturation.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { makeSimulatedAnalyser, type ScanSettings, seededRandom } from '../../support/instrument.ts';
import { analyseSeries, calibrationOf, seriesScan } from '../../support/series.ts';

const BARS: ScanSettings = { unit: 'A', masses: { first: 1, last: 100, perUnit: 1 }, range: 1e5, ions: 1e7 };
const TRUTH = { H2: 3e-6, H2O: 4e-6, N2: 2e-6, CO: 1e-6, CO2: 6e-7, O2: 3e-7, Ar: 1e-7 };
const MINUTE = 60_000;

function series(count: number, change: (k: number) => Partial<Parameters<typeof seriesScan>[2]>, seed = 51) {
  const random = seededRandom(seed);
  const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.1, sensitivitySpread: 0.1 });
  const scans = Array.from({ length: count }, (_, k) =>
    seriesScan(random, analyser, { truth: TRUTH, settings: BARS, atMs: k * MINUTE, detector: 'faraday', ...change(k) }),
  );
  return analyseSeries(scans, calibrationOf()).answers.map(({ analysis }) => analysis.measurement!.leftOut);
}

describe('a gap in one mass', () => {
  test('is marked for two scans and then believed', () => {
    const leftOut = series(18, (k) => (k >= 12 ? { lost: [28] } : {}));
    expect(leftOut.slice(0, 12).flat()).toEqual([]);
    expect(leftOut[12]).toEqual([{ mass: 28, why: 'drop-out' }]);
    expect(leftOut[13]).toEqual([{ mass: 28, why: 'drop-out' }]);
    expect(leftOut.slice(14).flat()).toEqual([]);
  });

  test('that comes again later is marked again', () => {
    const leftOut = series(24, (k) => (k === 12 || k === 20 ? { lost: [18] } : {}));
    expect(leftOut.map((one) => one.length)).toEqual(
      Array.from({ length: 24 }, (_, k) => (k === 12 || k === 20 ? 1 : 0)),
    );
  });

  test('is none when the whole spectrum falls, when a gas goes with its fragments, or in the first scans', () => {
    const fallen = Object.fromEntries(Object.entries(TRUTH).map(([gas, p]) => [gas, p * 1e-6]));
    expect(series(16, (k) => (k >= 12 ? { truth: fallen } : {})).flat()).toEqual([]);
    expect(series(16, (k) => (k >= 12 ? { truth: { ...TRUTH, H2O: 0 } } : {})).flat()).toEqual([]);
    expect(series(4, (k) => (k === 3 ? { lost: [28] } : {})).flat()).toEqual([]);
  });

  test('is none when the others move too', () => {
    const steady = new Map([2, 18, 28, 44].map((mass) => [mass, { height: 100, deviation: 1, gaps: 0 }]));
    const masses = [2, 18, 28, 44];
    const found = (heights: number[]) => dropOuts({ masses, heights: Float64Array.from(heights), sigma: 0.1, steady });
    expect(found([101, 99, 0.2, 100])).toEqual([28]);
    expect(found([101, 60, 0.2, 100])).toEqual([]);
    expect(found([101, 0.1, 0.2, 100])).toEqual([]);
  });
});

describe('steady peaks', () => {
  test('a peak that falls slowly stays steady, one that jumps does not', () => {
    let memory: SteadyMemory = NO_STEADY;
    for (let k = 0; k < 30; k++) {
      memory = learnSteady(memory, {
        masses: [18, 28, 40],
        heights: Float64Array.of(1000 * 0.98 ** k, k % 2 === 0 ? 1000 : 300, 3),
        sigma: 1,
        neighbourError: 0,
        dropOuts: new Set(),
      });
    }
    expect([...steadyPeaks(memory).keys()]).toEqual([18]);
  });

  test('what a fit leaves beside the largest peak of a profile is none: it comes and goes with the fit', () => {
    const steadyAt = (neighbourError: number) => {
      let memory: SteadyMemory = NO_STEADY;
      for (let k = 0; k < 12; k++) {
        memory = learnSteady(memory, {
          masses: [1, 2, 3, 4, 5],
          heights: Float64Array.of(90, 9000, 0.1, 400, 3000),
          sigma: 1,
          neighbourError,
          dropOuts: new Set(),
        });
      }
      return [...steadyPeaks(memory).keys()];
    };
    expect(steadyAt(0)).toEqual([1, 2, 4, 5]);
    expect(steadyAt(0.01)).toEqual([2, 4, 5]);
  });

  test('a bounded number is kept', () => {
    const masses = Array.from({ length: 200 }, (_, i) => i + 1);
    const memory = learnSteady(NO_STEADY, {
      masses,
      heights: Float64Array.from(masses, (m) => 1000 + m),
      sigma: 1,
      neighbourError: 0,
      dropOuts: new Set(),
    });
    expect(memory.masses).toEqual(masses.slice(-24));
  });
});

describe('bars that are cut off', () => {
  const masses = [2, 18, 28, 44];
  const ended = (heights: number[], fullScale: number | null = null) =>
    cutOffBars({ masses, heights: Float64Array.from(heights), sigma: 0.01, fullScale });

  test('several at one top height, or one at the height where the detector ended before', () => {
    expect(ended([5, 9, 9, 1])).toEqual([18, 28]);
    expect(ended([5, 9, 7, 1])).toEqual([]);
    expect(ended([5, 9, 7, 1], 9)).toEqual([18]);
    expect(ended([5, 8.99, 7, 1], 9)).toEqual([]);
  });

  test('equal heights in the noise are none', () => {
    expect(ended([0.02, 0.02, 0.01, 0])).toEqual([]);
  });

  test('in a series: marked, and the end of the scale is remembered for a single peak', () => {
    const fullScale = 1.2e-12;
    const wet = { ...TRUTH, N2: 1e-7, CO: 1e-7 };
    const leftOut = series(9, (k) => (k < 3 ? { fullScale } : k < 6 ? { fullScale, truth: wet } : { truth: wet }));
    const masses = leftOut.map((one) => one.filter(({ why }) => why === 'cut off').map(({ mass }) => mass));
    expect(masses.slice(0, 3)).toEqual(Array(3).fill([18, 28]));
    expect(masses.slice(3, 6)).toEqual(Array(3).fill([18]));
    expect(masses.slice(6).flat()).toEqual([]);
  });
});
