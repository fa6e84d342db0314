import { describe, expect, test } from 'vitest';
import { gainFromPair, gainPrior } from '../../../../shared/analysis/instrument/gain.ts';
import { type Sight, sightFor, sightOf } from '../../../../shared/analysis/instrument/sight.ts';
import { instrumentView } from '../../../../shared/analysis/instrument/view.ts';
import type { AnalysisScan } from '../../../../shared/analysis/types.ts';
import { GASES } from '../../../../shared/catalogue/gases.ts';
import { makeSimulatedAnalyser, type ScanSettings, seededRandom } from '../../../support/instrument.ts';
import { analyseSeries, calibrationOf, seriesScan } from '../../../support/series.ts';

const MASSES = { first: 1, last: 100, perUnit: 1 } as const;
const SETTINGS: ScanSettings = { unit: 'A', masses: MASSES, range: 1e5, ions: 1e7 };
const TRUTH = { H2: 3e-6, H2O: 4e-6, N2: 2e-6, CO: 1e-6, CO2: 6e-7, O2: 3e-7, Ar: 1e-7 };
const RECORD = 1e4;
const MINUTE = 60_000;

/** Ten Faraday scans, then six with the multiplier; `after`: what the pressure is multiplied by at the switch. */
function switched(seed: number, { gain = 0.65 * RECORD, after = 1, gauge = false, first = 'faraday' as const } = {}) {
  const random = seededRandom(seed);
  const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.1, sensitivitySpread: 0.1 });
  const detectors = [...Array(10).fill(first), ...Array(6).fill('multiplier')] as ('faraday' | 'multiplier')[];
  return detectors.map((detector, k) => {
    const factor = k < 10 ? 1 : after;
    const truth = Object.fromEntries(Object.entries(TRUTH).map(([gas, p]) => [gas, p * factor]));
    const gaugePa = gauge ? 1e-5 * factor : null;
    return seriesScan(random, analyser, { truth, settings: SETTINGS, atMs: k * MINUTE, detector, gain, gaugePa });
  });
}

const nitrogenPeaks = (scans: AnalysisScan[], calibration = calibrationOf({ multiplierGain: RECORD })) => {
  const { answers, memory } = analyseSeries(scans, calibration);
  return { heights: answers.map(({ peaks }) => peaks.heightPa[peaks.masses.indexOf(28)]!), answers, memory };
};

describe('a switch of the detector in mid-stream', () => {
  test.each([1, 2, 3, 4, 5])('seed %i: a gain of 0.65 of the record makes no step in m/z 28 and N2', (seed) => {
    const { heights, answers, memory } = nitrogenPeaks(switched(seed));
    for (let k = 10; k < 16; k++) expect(Math.abs(heights[k]! / heights[9]! - 1)).toBeLessThan(0.03);
    const nitrogen = answers.map(({ analysis }) => analysis.gases.find(({ gas }) => gas === 'N2')!.valuePa);
    for (let k = 10; k < 16; k++) expect(Math.abs(nitrogen[k]! / nitrogen[9]! - 1)).toBeLessThan(0.03);
    expect(answers[10]!.analysis.measurement!.gain).toMatchObject({ from: 'pair', atMs: 10 * MINUTE });
    expect(answers[15]!.analysis.measurement!.gain).toMatchObject({ from: 'pair', atMs: 10 * MINUTE });
    const view = instrumentView(memory)!.gain!;
    expect(view.pairs).toBe(1);
    expect(Math.abs(Math.log(view.value / (0.65 * RECORD)))).toBeLessThan(2 * view.uncertainty);
  });

  test('back on the Faraday detector there is no step either, and the second pair makes the gain surer', () => {
    const scans = switched(6);
    const random = seededRandom(6);
    const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.1, sensitivitySpread: 0.1 });
    const back = [16, 17, 18].map((k) =>
      seriesScan(random, analyser, { truth: TRUTH, settings: SETTINGS, atMs: k * MINUTE, detector: 'faraday' }),
    );
    const { heights, answers, memory } = nitrogenPeaks([...scans, ...back]);
    expect(Math.abs(heights[16]! / heights[15]! - 1)).toBeLessThan(0.03);
    expect(answers[16]!.analysis.measurement!.gain).toBeNull();
    const view = instrumentView(memory)!.gain!;
    expect(view.pairs).toBe(2);
    expect(view.uncertainty).toBeLessThan(answers[15]!.analysis.measurement!.gain!.uncertainty);
  });

  test('a gain that is not on record: once measured, multiplier scans are in pascal', () => {
    const calibration = calibrationOf({ multiplierGain: null });
    const { heights, answers } = nitrogenPeaks(switched(7), calibration);
    expect(answers[10]!.peaks.scaled).toBe(true);
    expect(Math.abs(heights[10]! / heights[9]! - 1)).toBeLessThan(0.03);
    const alone = analyseSeries(switched(7).slice(10), calibration).answers[0]!;
    expect(alone.peaks.scaled).toBe(false);
  });

  test('without a pair the gain is the one on record', () => {
    const { answers } = nitrogenPeaks(switched(8).slice(10));
    expect(answers[3]!.analysis.measurement!.gain).toMatchObject({ value: RECORD, from: 'record', atMs: null });
  });

  test('a new record begins anew', () => {
    const scans = switched(9);
    const { memory } = analyseSeries(scans.slice(0, 14), calibrationOf({ multiplierGain: RECORD }));
    const { answers } = analyseSeries(scans.slice(14), calibrationOf({ multiplierGain: 5000 }), memory);
    expect(answers[0]!.analysis.measurement!.gain).toMatchObject({ value: 5000, from: 'record' });
  });
});

describe('a pressure that really changes at the switch', () => {
  test('with a gauge the step is seen and the gain is right', () => {
    for (const seed of [11, 12, 13]) {
      const { heights, memory } = nitrogenPeaks(switched(seed, { gain: RECORD, after: 2, gauge: true }));
      expect(Math.abs(heights[10]! / heights[9]! / 2 - 1)).toBeLessThan(0.1);
      const { value, uncertainty } = instrumentView(memory)!.gain!;
      expect(Math.abs(Math.log(value / RECORD))).toBeLessThan(2 * uncertainty);
    }
  });

  test('without a gauge nobody can tell: the gain is several times less sure than from a quiet switch', () => {
    const quiet = nitrogenPeaks(switched(14, { gain: RECORD })).answers[10]!.analysis.measurement!.gain!;
    const stepped = nitrogenPeaks(switched(14, { gain: RECORD, after: 2 })).answers[10]!.analysis.measurement!.gain!;
    expect(stepped.uncertainty).toBeGreaterThan(3 * quiet.uncertainty);
  });

  test('when only some gases step, the peaks that stayed tell the gain and the others step', () => {
    const random = seededRandom(15);
    const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.1, sensitivitySpread: 0.1 });
    const scan = (k: number, detector: 'faraday' | 'multiplier', truth: Record<string, number>) =>
      seriesScan(random, analyser, { truth, settings: SETTINGS, atMs: k * MINUTE, detector, gain: RECORD });
    const argon = { ...TRUTH, Ar: 30 * TRUTH.Ar, O2: 5 * TRUTH.O2 };
    const scans = [scan(0, 'faraday', TRUTH), scan(1, 'faraday', TRUTH), scan(2, 'multiplier', argon)];
    const { answers, memory } = nitrogenPeaks(scans);
    const { value, uncertainty } = instrumentView(memory)!.gain!;
    expect(Math.abs(Math.log(value / RECORD))).toBeLessThan(2 * uncertainty);
    const at40 = answers.map(({ peaks }) => peaks.heightPa[peaks.masses.indexOf(40)]!);
    expect(at40[2]! / at40[1]!).toBeGreaterThan(25);
  });
});

describe('a pair', () => {
  const sight = (changes: Partial<Sight> = {}): Sight => ({
    atMs: 0,
    state: 'base',
    seconds: 20,
    periodMs: MINUTE,
    gaugePa: null,
    masses: [2, 17, 18, 28, 44],
    heights: [1, 2, 8, 5, 3],
    move: 0,
    used: false,
    ...changes,
  });
  const lifted = (factor: number, changes: Partial<Sight> = {}) =>
    sight({ atMs: MINUTE, heights: sight().heights.map((height) => height * factor), ...changes });

  test('peaks and gauge alike: the ratio of the peaks over the ratio of the gauge', () => {
    const gain = gainFromPair(sight({ gaugePa: 1 }), lifted(2400, { gaugePa: 1.2 }), { prior: null, record: 2000 })!;
    expect(gain.value / 2000).toBeCloseTo(1, 2);
  });

  test('too few peaks in common say nothing', () => {
    expect(
      gainFromPair(sight(), lifted(5, { masses: [100, 101, 102, 103, 44] }), { prior: null, record: 5 }),
    ).toBeNull();
  });

  test('pairs that agree narrow the gain down to what detectors are worth, one that contradicts them widens it', () => {
    let prior = gainFromPair(sight(), lifted(1300), { prior: null, record: 2000 })!;
    const first = prior.uncertainty;
    for (let k = 0; k < 5; k++) prior = gainFromPair(sight(), lifted(1300), { prior, record: 2000 })!;
    expect(prior.value / 1300).toBeCloseTo(1, 2);
    expect(prior.uncertainty).toBeLessThan(first);
    expect(prior.uncertainty).toBeGreaterThanOrEqual(0.02);
    const odd = gainFromPair(sight(), lifted(2600), { prior, record: 2000 })!;
    expect(odd.uncertainty).toBeGreaterThan(0.2);
    let raised = odd;
    for (let k = 0; k < 3; k++) raised = gainFromPair(sight(), lifted(2600), { prior: raised, record: 2000 })!;
    expect(raised.value / 2600).toBeCloseTo(1, 1);
  });

  test('an old gain is less sure than a fresh one', () => {
    const measured = { value: 1000, uncertainty: 0.05, atMs: 0, pairs: 3 };
    const memory = { record: 2000, measured, faraday: null, multiplier: null };
    expect(gainPrior(memory, 2000, 100 * 86_400_000)!.uncertainty).toBeCloseTo(Math.hypot(0.05, 0.2), 6);
    expect(gainPrior(memory, 3000, 0)).toBeNull();
  });

  test('another state, a long pause or a scan that was used make no pair', () => {
    const scan = { atMs: 2 * MINUTE, state: 'base', seconds: 20, averages: 1 };
    expect(sightFor(sight(), scan)).not.toBeNull();
    expect(sightFor(sight({ state: 'bake' }), scan)).toBeNull();
    expect(sightFor(sight({ used: true }), scan)).toBeNull();
    expect(sightFor(sight(), { ...scan, atMs: 10 * MINUTE })).toBeNull();
  });

  test('only peaks far above the noise are taken, and none that was cut off', () => {
    const [scan] = switched(1);
    const masses = [2, 18, 28, 44];
    const seen = { scan: scan!, masses, heights: Float64Array.of(100, 29, 50, 80), sigma: 1, leftOut: [{ mass: 44 }] };
    expect(sightOf(seen, MINUTE, null)!.masses).toEqual([2, 28]);
  });
});
