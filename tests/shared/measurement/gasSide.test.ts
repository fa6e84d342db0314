/**
 * Truth by construction: a gas that grows on one side of a comparison, read by an analyser whose sensitivity is off by an
 * unknown factor that is the same on both sides, with scans that resemble their neighbours.
 */
import { describe, expect, test } from 'vitest';
import { changeFactor } from '../../../shared/measurement/changeFactor.ts';
import type { Estimate } from '../../../shared/measurement/gasSeries.ts';
import { growthHalf, LEAST_ON_A_LINE, type Moment, sideOf } from '../../../shared/measurement/gasSide.ts';
import { scatterHalf } from '../../../shared/measurement/robustMean.ts';
import { normals } from './normals.ts';

const MINUTE = 60_000;
const SENSITIVITY = 0.2;
const PATTERN = 0.02;
const NOISE = 0.05;
const PHI = 0.5;
const ERROR = { absolute: SENSITIVITY, ratio: SENSITIVITY, catalogue: 0 };

interface Told {
  readonly scans: number;
  readonly pressurePa: number;
  /** From the first scan to the last. */
  readonly grows?: number;
  /** Every so many scans do not see it. */
  readonly unseenEvery?: number;
}

const looked = (next: () => number, { scans, pressurePa, grows = 1, unseenEvery = 0 }: Told) => {
  let memory = next();
  const estimates = Array.from({ length: scans }, (_, k): Estimate => {
    memory = PHI * memory + Math.sqrt(1 - PHI ** 2) * next();
    const valuePa = pressurePa * grows ** (k / (scans - 1)) * Math.exp(NOISE * memory);
    const width = 1.96 * Math.hypot(SENSITIVITY, PATTERN, NOISE);
    const detected = unseenEvery === 0 || k % unseenEvery !== 0;
    return { gas: 'N2', valuePa, lowPa: valuePa * Math.exp(-width), highPa: valuePa * Math.exp(width), detected };
  });
  return { atMs: estimates.map((_, k) => k * MINUTE), estimates };
};
const side = (told: Told, moment?: Moment, seed = 3) => sideOf(looked(normals(seed), told), ERROR, moment);

describe('a gas that grows', () => {
  const grown = side({ scans: 51, pressurePa: 1e-8, grows: 10 }, 'newest');

  test('is told at its newest scan, with its growth an hour', () => {
    expect([grown.course, grown.atMs]).toEqual(['line', 50 * MINUTE]);
    expect(Math.exp(grown.mean?.ln as number) / 1e-7).toBeCloseTo(1, 1);
    // Ten times in fifty minutes is 10^1.2 an hour.
    expect(Math.exp(grown.growth?.lnPerHour as number) / 10 ** 1.2).toBeGreaterThan(0.8);
    expect(Math.exp(grown.growth?.lnPerHour as number) / 10 ** 1.2).toBeLessThan(1.25);
  });

  test('in the middle of its side where that is asked for', () => {
    const middle = side({ scans: 51, pressurePa: 1e-8, grows: 10 }, 'middle');
    expect(middle.atMs).toBe(25 * MINUTE);
    expect(Math.exp(middle.mean?.ln as number) / (1e-8 * Math.sqrt(10))).toBeCloseTo(1, 1);
    expect(middle.mean?.sigma as number).toBeLessThan(grown.mean?.sigma as number);
  });

  test('its growth is not taken for scatter: what lasts is that of a gas at rest', () => {
    const resting = side({ scans: 51, pressurePa: 1e-8 }, 'newest');
    expect(grown.lasting / resting.lasting).toBeCloseTo(1, 2);
    expect(grown.pattern).toBeLessThan(2 * PATTERN + NOISE);
  });

  test('taken as settled it has no such answer', () => {
    const settled = side({ scans: 51, pressurePa: 1e-8, grows: 10 });
    expect(settled).toMatchObject({ course: 'level', atMs: null, growth: null });
    expect(scatterHalf(settled.mean as NonNullable<typeof settled.mean>)).toBeGreaterThan(1);
  });
});

test.each([1, 3, 10])('the interval of the factor up to now holds the truth: grown %d-fold on its side', (grows) => {
  const next = normals(100 + grows);
  const [runs, factor] = [400, 20];
  let [covered, told, half] = [0, 0, 0];
  for (let run = 0; run < runs; run++) {
    const off = Math.exp(SENSITIVITY * next());
    const before = { scans: 195, pressurePa: 1e-8 * off * Math.exp(PATTERN * next()) };
    const after = { scans: 50, pressurePa: ((1e-8 * factor) / grows) * off * Math.exp(PATTERN * next()), grows };
    const sides = [
      sideOf(looked(next, before), ERROR, 'middle'),
      sideOf(looked(next, after), ERROR, 'newest'),
    ] as const;
    if (sides.some(({ course }) => course !== 'line')) continue;
    told++;
    const found = changeFactor(...sides, { measure: 'same', seconds: 5 * 3600 });
    if ((found.ratioLow as number) <= factor && factor <= (found.ratioHigh as number)) covered++;
    half += Math.log((found.ratioHigh as number) / (found.ratio as number));
  }
  // Binomial scatter about 0.95 is 0.011.
  expect(covered / told).toBeGreaterThan(0.92);
  expect(told / runs).toBeGreaterThan(0.93);
  expect(half / told).toBeLessThan(0.25);
});

test('the interval of a growth holds the truth although other gases leave something of theirs in this one', () => {
  const next = normals(77);
  const [runs, grows, left] = [400, 2, 0.08];
  const truth = Math.log(grows) / (49 / 60);
  let [covered, scatterAlone, told] = [0, 0, 0];
  for (let run = 0; run < runs; run++) {
    const found = looked(next, { scans: 50, pressurePa: 1e-8, grows });
    // The same pressure in every scan, a share of the gas in the middle of its side.
    const off = 1e-8 * Math.SQRT2 * left * next();
    const estimates = found.estimates.map((one) => {
      const half = 1.96 * Math.hypot(SENSITIVITY, left, NOISE);
      const valuePa = one.valuePa + off;
      return { ...one, valuePa, lowPa: valuePa * Math.exp(-half), highPa: valuePa * Math.exp(half) };
    });
    const { growth, pattern } = sideOf({ ...found, estimates }, ERROR, 'newest');
    if (growth === null) continue;
    told++;
    if (Math.abs(growth.lnPerHour - truth) <= growthHalf(growth, pattern)) covered++;
    if (Math.abs(growth.lnPerHour - truth) <= scatterHalf(growth)) scatterAlone++;
  }
  expect(told / runs).toBeGreaterThan(0.9);
  expect(covered / told).toBeGreaterThan(0.92);
  expect(covered / told).toBeLessThan(0.995);
  expect(scatterAlone / told).toBeLessThan(0.92);
});

describe('no line, and why', () => {
  const word = (told: Told) => side(told, 'newest');

  test('too few scans', () => {
    expect(word({ scans: LEAST_ON_A_LINE - 1, pressurePa: 1e-8 })).toMatchObject({ course: 'few scans', growth: null });
    expect(word({ scans: LEAST_ON_A_LINE, pressurePa: 1e-8 }).course).toBe('line');
  });

  test('seen too seldom: its middle with a wide interval, or its limit', () => {
    const seldom = word({ scans: 60, pressurePa: 1e-8, unseenEvery: 5 });
    expect(seldom).toMatchObject({ course: 'seldom seen', growth: null, atMs: null });
    expect(seldom.mean).not.toBeNull();
    expect(word({ scans: 60, pressurePa: 1e-8, unseenEvery: 1 })).toMatchObject({ course: 'seldom seen', mean: null });
  });

  test('a bow', () => {
    const next = normals(6);
    const straight = looked(next, { scans: 50, pressurePa: 1e-8, grows: 3 });
    const bowed = straight.estimates.map((one, k) => {
      const bow = Math.exp(2 * (k / 49 - 0.5) ** 2);
      return { ...one, valuePa: one.valuePa * bow, lowPa: one.lowPa * bow, highPa: one.highPa * bow };
    });
    expect(sideOf({ ...straight, estimates: bowed }, ERROR, 'newest')).toMatchObject({
      course: 'curved',
      growth: null,
    });
  });
});
