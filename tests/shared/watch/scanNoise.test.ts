/**
 * Bursts of quick scans: by counting statistics alone the noise of a scan goes with the root of its measuring time
 * (G. F. Knoll, Radiation Detection and Measurement, ch. 3, from memory). Simulated; faults known by construction.
 */
import { describe, expect, test } from 'vitest';
import type { AnalysisScan } from '../../../shared/analysis/types.ts';
import { type Baseline, draftOf } from '../../../shared/watch/memory.ts';
import {
  followSetting,
  isHasty,
  isNewSetting,
  meanExcess,
  meanNoise,
  noiseBookOf,
  noiseLevel,
  rescaledNoise,
  secondsInUse,
  settingScans,
  varianceAt,
} from '../../../shared/watch/scanNoise.ts';
import type { WatchInput } from '../../../shared/watch/types.ts';
import { makeWorld } from '../../support/world/chamber.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';
import { streamOf, watchStream } from '../../support/world/stream.ts';

const FULL = 15;
const QUICK = 0.45;
const PERIOD = 30;
const BURST = 150;
const world = makeWorld(611, {
  kind: 'baked',
  periodSeconds: PERIOD,
  unit: 'Pa',
  hasGauge: true,
  sendsTemperature: false,
  lastMass: 50,
});
/** Counting noise of a scan that is `FULL / QUICK` times as short. */
const more = FULL / QUICK - 1;

interface Bursts {
  /** First scans of the bursts, and the time between two of their scans. */
  readonly at: readonly number[];
  readonly everySeconds: number;
  /** Measuring time that the scans give, s. */
  readonly told?: number;
}

/** Scan number and time as sent: within a burst every scan is quick and noisy, what follows comes earlier by as much. */
function burstsIn({ at, everySeconds, told = QUICK }: Bursts) {
  const random = makeRandom(9);
  return (scan: AnalysisScan, seconds: number): AnalysisScan => {
    const i = Math.round(seconds / PERIOD);
    const passed = at.reduce((sum, first) => sum + Math.min(BURST, Math.max(0, i - first)), 0);
    const atMs = scan.atMs - passed * (PERIOD - everySeconds) * 1000;
    if (!at.some((first) => i >= first && i < first + BURST)) return { ...scan, atMs };
    const values = scan.values.map((height) => {
      const sigma = Math.sqrt(more * (world.readNoisePa ** 2 + world.shotPa * Math.max(0, height)));
      return Number((height + sigma * random.normal()).toPrecision(4));
    });
    return { ...scan, atMs, seconds: told, values };
  };
}

const run = (scans: number, bursts: Bursts, fault?: { readonly size: number; readonly scan: number }) =>
  watchStream(
    world,
    streamOf(
      world,
      {
        days: (scans * PERIOD) / 86_400,
        quietTimetable: true,
        mishaps: false,
        ...(fault && { fault: { kind: 'air', size: fault.size, fromSeconds: fault.scan * PERIOD, oxygen: 0.8 } }),
      },
      { scanAt: burstsIn(bursts) },
    ),
  );

const baseOf = (steps: ReturnType<typeof run>['steps']): Baseline => draftOf(steps.at(-1)!.memory)!.baselines.base!;
const none = { at: [], everySeconds: PERIOD };

describe('bursts of scans of half a second between scans of fifteen', () => {
  const plain = baseOf(run(800, none).steps);

  test.each([
    ['a second apart', 1],
    ['as far apart as any', PERIOD],
  ])('%s: nothing is called and what is usual stays', (_, everySeconds) => {
    const { said, steps } = run(1100, { at: [300, 700], everySeconds });
    expect(said).toEqual([]);
    const base = baseOf(steps);
    expect(secondsInUse(base)).toBe(FULL);
    base.masses.forEach((mass, i) => {
      const m = i + 1;
      const sigma = Math.sqrt(plain.variance[m]!);
      expect(Math.abs(base.mean[m]! - plain.mean[m]!), `m/z ${mass}`).toBeLessThan(sigma + 0.05 * plain.mean[m]!);
      expect(base.variance[m]! / plain.variance[m]!, `noise at m/z ${mass}`).toBeLessThan(1.6);
      expect(base.variance[m]! / plain.variance[m]!, `noise at m/z ${mass}`).toBeGreaterThan(0.6);
    });
    for (const own of base.own) {
      const before = plain.own.find(({ gas }) => gas === own.gas);
      if (before && before.clarity > 30) expect(own.wobble.square).toBeLessThan(before.wobble.square * 2 + 1e-4);
    }
    // Its own noise was learned beside it: 33 times the variance.
    const quick = Object.values(base.noise!)[0]!.settings.find(({ seconds }) => seconds === QUICK);
    const ratios = quick!
      .variance!.slice(1)
      .map((v, i) => v / base.variance[i + 1]!)
      .sort((a, b) => a - b);
    expect(ratios[Math.floor(ratios.length / 2)]! / (FULL / QUICK)).toBeGreaterThan(0.6);
    expect(ratios[Math.floor(ratios.length / 2)]! / (FULL / QUICK)).toBeLessThan(1.7);
  });

  test('the same noise in scans that say they took as long as ever is called', () => {
    const { said } = run(500, { at: [300], everySeconds: PERIOD, told: FULL });
    expect(said).toContain('raised noise');
  });

  test.each([
    ['a second apart', 1],
    ['as far apart as any', PERIOD],
  ])('%s: a leak that is born in a burst is called in it', (_, everySeconds) => {
    const { events, said, steps } = run(480, { at: [300], everySeconds }, { size: 100, scan: 330 });
    expect(said).toContain('raised air-leak');
    expect(said).not.toContain('raised noise');
    const first = events.find(({ event }) => event.signature === 'air-leak')!;
    expect(first.seconds).toBeGreaterThanOrEqual(330 * PERIOD);
    expect(first.seconds).toBeLessThan(450 * PERIOD);
    expect(steps.at(-1)!.state).toBe('base');
  });

  test('a leak that stands is followed through a burst', () => {
    const { said } = run(600, { at: [400], everySeconds: 1 }, { size: 30, scan: 300 });
    expect(said.filter((word) => word !== 'updated air-leak')).toEqual(['raised air-leak']);
  });
});

describe('the book of measuring times', () => {
  const chamber = watched(612, { hasGauge: true, lastMass: 50 }, 40);
  const scanOf = (seconds: number, averages = 1): WatchInput => ({
    ...chamber.last,
    scan: { ...chamber.last.scan, seconds, averages },
    peaks: { ...chamber.last.peaks, readNoisePa: 0 },
  });
  const fresh = () => {
    const base = draft(chamber).baselines.base!;
    base.noise = noiseBookOf(base.inUse, 30);
    for (let i = 0; i < 50; i++) followSetting(base, scanOf(30), 60);
    return base;
  };

  test('a shorter time is expected by its length, a longer one not below what is known; the gauge stays', () => {
    const base = fresh();
    const usual = base.variance;
    followSetting(base, scanOf(0.75, 2), 60);
    expect(base.variance[5]! / usual[5]!).toBeCloseTo(20, 6);
    expect(base.variance[0]).toBe(usual[0]);
    expect([isHasty(base), isNewSetting(base), settingScans(base)]).toEqual([true, true, 1]);
    expect(noiseLevel(base)).toBeCloseTo(20, 6);
    expect(varianceAt(base, 30)).toBe(usual);
    followSetting(base, scanOf(30), 60);
    expect(base.variance).toBe(usual);
    expect([isHasty(base), isNewSetting(base), noiseLevel(base)]).toEqual([false, false, 1]);
    followSetting(base, scanOf(300), 60);
    expect(base.variance).toEqual(usual);
    expect(isHasty(base)).toBe(false);
  });

  test('times within a quarter are one, and only a few are kept', () => {
    const base = fresh();
    followSetting(base, scanOf(33), 60);
    expect(secondsInUse(base)).toBe(30);
    for (let k = 1; k < 12; k++) followSetting(base, scanOf(30 / 2 ** k), 1);
    expect(base.noise![base.inUse ?? '']!.settings.length).toBe(6);
    expect(varianceAt(base, 30)[5]! / base.variance[5]!).toBeCloseTo(1 / 2 ** 11, 9);
  });

  test('the read noise that a scan tells is a floor', () => {
    const base = fresh();
    const readNoisePa = 100 * Math.sqrt(Math.max(...base.variance.slice(1)));
    followSetting(base, { ...scanOf(3), peaks: { ...chamber.last.peaks, readNoisePa } }, 60);
    for (const v of base.variance.slice(1)) expect(v).toBeCloseTo(0.5 * readNoisePa ** 2, 40);
  });

  test('a lasting change of the measuring time becomes the usual one within a day', () => {
    const base = fresh();
    for (let i = 0; i < 24 * 60; i++) followSetting(base, scanOf(1), 60);
    expect(isHasty(base)).toBe(false);
  });

  test('goes with the scale of the heights', () => {
    const base = fresh();
    followSetting(base, scanOf(1), 60);
    const doubled = rescaledNoise(base.noise, (variance) => variance.map((v) => 4 * v))!;
    base.variance = base.variance.map((v) => 4 * v);
    expect(varianceAt({ ...base, noise: doubled }, 30)[5]! / varianceAt(base, 30)[5]!).toBeCloseTo(4, 9);
    expect(rescaledNoise(undefined, (v) => v)).toBeUndefined();
  });
});

test('the noise in a running mean: variance of white noise in an exponential mean is a/(2 − a)', () => {
  const share = 0.05;
  let [noise, weight] = [0, 0];
  for (let i = 0; i < 400; i++) {
    weight += share * (1 - weight);
    noise = meanNoise(noise, { share, weight, levels: [1] });
  }
  expect(noise / (share / (2 - share))).toBeCloseTo(1, 6);
  expect(meanExcess(noise, { share, weight, levels: [1] })).toBeCloseTo(1, 6);
  // One scan of 33 times the variance, and the scans after it: half of its share is still in the mean after 13 scans.
  noise = meanNoise(noise, { share, weight, levels: [33] });
  const by = (share ** 2 * 33 + (1 - share) ** 2 * (share / (2 - share))) / (share / (2 - share));
  expect(meanExcess(noise, { share, weight, levels: [1] })).toBeCloseTo(Math.sqrt(by), 6);
  expect(meanExcess(undefined, { share, weight, levels: [33] })).toBe(1);
});
