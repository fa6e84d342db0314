import { describe, expect, test } from 'vitest';
import {
  follow,
  isDue,
  isReady,
  learnFirst,
  learnNoise,
  newBaseline,
  remembered,
  scansNeeded,
  totalOfMean,
} from '../../../shared/watch/baseline.ts';
import { DAY } from '../../../shared/watch/parameters.ts';
import { makeRandom } from '../../support/world/random.ts';

const masses = [2, 18, 28, 40, 44];
const LEVEL = [5e-8, 1e-8, 2e-7, 5e-8, 1e-10, 1e-8];
const SIGMA = 2e-10;
const random = makeRandom(5);
const scan = (factor = 1) => Float64Array.from(LEVEL, (v) => v * factor + SIGMA * random.normal());
const learned = (scans = 12) => {
  const baseline = newBaseline({ masses, scaled: true, detector: null, atMs: 0 });
  for (let i = 0; i < scans; i++) learnFirst(baseline, scan(), scans, 1e-11);
  return baseline;
};
const step = (q: Float64Array, mean: readonly number[], seconds: number) => ({
  q,
  deviation: q.map((v, m) => v - mean[m]!),
  atMs: 0,
  seconds,
  lifted: null,
  settling: false,
});

describe('the first scans', () => {
  test('twelve in most states, more where gas is let in', () => {
    expect([scansNeeded('base'), scansNeeded('gas-on')]).toEqual([12, 24]);
  });

  test('give median and noise: first differences know the scatter that was put in', () => {
    const baseline = learned(200);
    expect(isReady(baseline)).toBe(true);
    expect(baseline.hasGauge).toBe(true);
    baseline.mean.forEach((mean, m) => {
      expect(Math.abs(mean - LEVEL[m]!)).toBeLessThan(5 * SIGMA * Math.sqrt(1.57 / 200));
    });
    // The start is wide by 1.3 in variance.
    for (const v of baseline.variance.slice(1)) expect(Math.sqrt(v) / SIGMA).toBeCloseTo(Math.sqrt(1.3), 0);
    expect(totalOfMean(baseline) / 2.681e-7).toBeCloseTo(1, 1);
  });

  test.each([
    [1, 600],
    [30, 600],
    [60, 660],
    [600, 6600],
  ])('with a scan every %i s they are taken over %i s', (periodSeconds, lastsSeconds) => {
    const baseline = newBaseline({ masses, scaled: true, detector: null, atMs: 0 });
    let seconds = 0;
    for (; !isReady(baseline); seconds += periodSeconds)
      if (isDue(baseline, 12, 5000 + seconds * 1000)) learnFirst(baseline, scan(), 12, 1e-11);
    expect(seconds - periodSeconds).toBe(lastsSeconds);
    expect(baseline.scans).toBe(12);
    expect(baseline.sinceMs).toBe(5000);
  });

  test('a spiked scan among them does no harm', () => {
    const baseline = newBaseline({ masses, scaled: true, detector: null, atMs: 0 });
    for (let i = 0; i < 12; i++) learnFirst(baseline, i === 5 ? scan(100) : scan(), 12, 1e-11);
    expect(baseline.mean[2]! / LEVEL[2]!).toBeCloseTo(1, 1);
  });

  test('a last scan that is noisier than all before it sets no floor to the noise', () => {
    const baseline = newBaseline({ masses, scaled: true, detector: null, atMs: 0 });
    for (let i = 0; i < 24; i++) learnFirst(baseline, scan(), 24, i === 23 ? 20 * SIGMA : 0.1 * SIGMA);
    expect(isReady(baseline)).toBe(true);
    for (const variance of baseline.variance.slice(1)) expect(Math.sqrt(variance) / SIGMA).toBeLessThan(2);
    expect(baseline).not.toHaveProperty('firstNoisesPa');
  });

  test('read noise that nobody can tell is no floor', () => {
    const baseline = newBaseline({ masses, scaled: true, detector: null, atMs: 0 });
    for (let i = 0; i < 12; i++) learnFirst(baseline, scan(), 12, Number.NaN);
    for (const variance of baseline.variance.slice(1)) expect(Math.sqrt(variance) / SIGMA).toBeLessThan(2);
  });

  test('a mass that is never measured stays out', () => {
    const baseline = newBaseline({ masses, scaled: true, detector: null, atMs: 0 });
    for (let i = 0; i < 12; i++) learnFirst(baseline, scan().fill(Number.NaN, 0, 1), 12, 1e-11);
    expect(baseline.hasGauge).toBe(false);
  });
});

describe('following', () => {
  test('one scan carries the mean no further than its clip', () => {
    const baseline = learned();
    const before = baseline.mean[2]!;
    follow(baseline, step(scan(50), baseline.mean, 60));
    expect(baseline.mean[2]! / before).toBeLessThan(1.05);
  });

  test('once pinned it rises by a fifth a month at most, and the reference never', () => {
    const baseline = learned();
    for (let i = 0; i < 200; i++) follow(baseline, step(scan(), baseline.mean, DAY / 24));
    const pinned = baseline.pinned!.mean[2]!;
    // Fifteen per cent up, for thirty days: far inside the clip, so only the clamp holds it.
    const before = baseline.mean[2]!;
    for (let i = 0; i < 30 * 24; i++) follow(baseline, step(scan(1.15), baseline.mean, DAY / 24));
    expect(baseline.mean[2]! / before).toBeLessThan(1.21);
    expect(baseline.pinned!.mean[2]!).toBe(pinned);
  });

  test('a chamber that became cleaner is believed within a day, and the reference falls with it', () => {
    const baseline = learned();
    for (let i = 0; i < 200; i++) follow(baseline, step(scan(), baseline.mean, DAY / 24));
    for (let i = 0; i < 48; i++) follow(baseline, step(scan(0.5), baseline.mean, DAY / 24));
    expect(baseline.mean[2]! / LEVEL[2]!).toBeLessThan(0.75);
    expect(baseline.pinned!.mean[2]!).toBe(baseline.mean[2]!);
  });

  test('below nothing nothing is cleaner: what a neighbour leaves there is forgotten as it was learned', () => {
    const baseline = learned();
    baseline.mean = baseline.mean.with(4, 0);
    const nothing = (height: number) => {
      const q = scan();
      q[4] = height + SIGMA * random.normal();
      return q;
    };
    for (let i = 0; i < 200; i++) follow(baseline, step(nothing(0), baseline.mean, DAY / 24));
    for (let i = 0; i < 24; i++) follow(baseline, step(nothing(-20 * SIGMA), baseline.mean, DAY / 24));
    const low = baseline.mean[4]!;
    // A day of five, at three sigma a scan at most; as for a cleaner chamber it would have been all of it.
    expect(low / SIGMA).toBeGreaterThan(-4);
    for (let i = 0; i < 20 * 24; i++) follow(baseline, step(nothing(0), baseline.mean, DAY / 24));
    expect(Math.abs(baseline.mean[4]!)).toBeLessThan(0.3 * Math.abs(low));
  });

  test('noise is learned from differences, and a step does not count as noise', () => {
    const baseline = learned(200);
    const before = baseline.variance[2]!;
    learnNoise(baseline, scan(10), remembered(scan()), () => false);
    expect(baseline.variance[2]! / before).toBeLessThan(1.1);
  });
});
