import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import type { ScanHeights } from '../../../shared/analysis/heights.ts';
import { scanHeights } from '../../../shared/analysis/heights.ts';
import { makePrepare } from '../../../shared/analysis/prepare.ts';
import type { Measurement } from '../../../shared/analysis/types.ts';
import { leftOutRemark, usableHeights, withUnusedPeaks } from '../../../shared/analysis/usable.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { makeSimulatedAnalyser, seededRandom, simulateScan } from '../../support/instrument.ts';

const CATALOGUE = catalogueFor([]);
const SETTINGS = { unit: 'Pa', masses: { first: 1, last: 60, perUnit: 1 }, range: 1e5, ions: 1e7 } as const;
const TRUTH = { H2O: 1e-6, H2: 2e-7, N2: 3e-7, O2: 7e-8, Ar: 4e-9, CO2: 3e-8 };

function simulated(seed: number) {
  const random = seededRandom(seed);
  const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread: 0.1 });
  return simulateScan(random, analyser, TRUTH, SETTINGS);
}

const marked = (heights: ScanHeights, leftOut: Measurement['leftOut']): ScanHeights => ({
  ...heights,
  measured: { ...heights.measured, leftOut },
});

/** Fits what is usable of a scan in which one mass was cut off or dropped out at `value`. */
function fitWith(seed: number, mass: number, value: number) {
  const { scan, calibration } = simulated(seed);
  const heights = marked(scanHeights(scan, calibration), [{ mass, why: 'drop-out' }]);
  heights.heights[mass - 1] = value;
  const usable = usableHeights(heights);
  const { fitter } = makePrepare(calibration, CATALOGUE)(usable.masses, usable.leftOut);
  return { usable, heights, fit: fitter.fit(usable.heights, usable.variance) };
}

describe('a mass that was cut off or dropped out', () => {
  test('takes no part: whatever stood there, the answer is the same', () => {
    const low = fitWith(1, 18, 0);
    const high = fitWith(1, 18, 5e-7);
    expect(low.usable.masses).not.toContain(18);
    expect(low.usable.heights).toHaveLength(59);
    expect([...low.fit.amounts]).toEqual([...high.fit.amounts]);
  });

  test('leaves its gas to be read from its other peaks, less surely', () => {
    const { fit } = fitWith(2, 18, 0);
    const water = fit.design.columns.findIndex(({ id }) => id === 'H2O');
    expect(fit.design.columns[water]!.referenceMass).toBe(17);
    expect(fit.design.columns[water]!.reportable).toBe(true);
    expect(fit.design.columns[water]!.sensitivityError).toBeGreaterThan(0.3);
    expect(Math.abs(Math.log(fit.amounts[water]! / TRUTH.H2O))).toBeLessThan(1);
  });

  test('that was never measured does not make a gas out of a fragment', () => {
    const masses = Array.from({ length: 60 }, (_, i) => i + 1).filter((mass) => mass !== 18);
    const { fitter } = makePrepare(simulated(1).calibration, CATALOGUE)(masses, []);
    expect(fitter.design.columns.find(({ id }) => id === 'H2O')!.reportable).toBe(false);
  });

  test('is still drawn, with nothing said of what makes it up', () => {
    const { heights } = fitWith(3, 28, 0);
    const drawn = withUnusedPeaks([], heights, 2);
    expect(drawn).toHaveLength(60);
    expect(drawn[27]).toMatchObject({ mass: 28, heightPa: 0, parts: [], unexplained: 0 });
    expect(drawn[27]!.residualPa).toBe(undefined);
  });

  test('is told with the reason', () => {
    const { heights } = fitWith(4, 28, 0);
    const leftOut = [
      { mass: 18, why: 'cut off' },
      { mass: 28, why: 'drop-out' },
    ] as const;
    const { code, text } = leftOutRemark(marked(heights, leftOut))!;
    expect(code).toBe('masses-left-out');
    expect(text).toMatch(/m\/z 18 \(more than the detector can show\); m\/z 28 \(fell to the floor/);
    expect(leftOutRemark(marked(heights, []))).toBe(null);
  });
});

test('all heights are used when nothing was left out', () => {
  const { scan, calibration } = simulated(5);
  const heights = scanHeights(scan, calibration);
  expect(usableHeights(heights)).toMatchObject({ masses: heights.masses, heights: heights.heights, leftOut: [] });
});

test('noise that was only assumed is doubted: a list of masses without empty ones sees less', () => {
  const { scan, calibration } = simulated(6);
  const masses = [2, 14, 16, 17, 18, 28, 32, 40, 44];
  const values = Float64Array.from(masses, (mass) => scan.values[mass - 1]!);
  const heights = scanHeights({ ...scan, masses, values }, calibration);
  expect(heights.measured.noiseFrom).toBe('assumed');
  usableHeights(heights).variance.forEach((variance, row) => {
    expect(variance).toBeGreaterThanOrEqual(heights.variance[row]! + 15 * heights.readNoiseAt28 ** 2);
  });
  const { analysis } = makeAnalyser(calibration, CATALOGUE).analyse({ ...scan, masses, values });
  expect(analysis.gases.find(({ gas }) => gas === 'H2O')!.detected).toBe(true);
});
