/**
 * Truth by construction: pressures whose true factor is known, read by an analyser whose sensitivity is off by an
 * unknown factor, with errors of patterns that differ between the sides, and scans that resemble their neighbours.
 */
import { describe, expect, test } from 'vitest';
import { changeFactor, lastingBetween } from '../../../shared/measurement/changeFactor.ts';
import type { Estimate } from '../../../shared/measurement/gasSeries.ts';
import { type GasSide, sideOf } from '../../../shared/measurement/gasSide.ts';
import { normals } from './normals.ts';

const DAY = 86_400;
const MONTH = 30.44 * DAY;
const SENSITIVITY = 0.2;
const PATTERN = 0.04;
const NOISE = 0.06;
const PHI = 0.8;
const SCANS = 240;

const estimate = (valuePa: number, sigma: number, detected = true): Estimate => ({
  gas: 'N2',
  valuePa,
  lowPa: valuePa * Math.exp(-1.96 * sigma),
  highPa: valuePa * Math.exp(1.96 * sigma),
  detected,
});

const scansOf = (next: () => number, ln: number, count = SCANS): Estimate[] => {
  let memory = next();
  return Array.from({ length: count }, () => {
    memory = PHI * memory + Math.sqrt(1 - PHI ** 2) * next();
    return estimate(Math.exp(ln + NOISE * memory), Math.hypot(SENSITIVITY, PATTERN, NOISE));
  });
};

const ERROR = { absolute: SENSITIVITY, ratio: SENSITIVITY, catalogue: 0 };
const side = (estimates: Estimate[], error: typeof ERROR | undefined = ERROR): GasSide =>
  sideOf({ atMs: estimates.map((_, k) => k * 60_000), estimates }, error);

const RUNS = 500;
const TRUE_FACTOR = 1 / 37;

/** Share of intervals that hold the true factor, and their mean half width in ln. */
const study = (measure: 'same' | 'other analyser'): { covered: number; half: number } => {
  const next = normals(measure === 'same' ? 21 : 22);
  let [covered, half] = [0, 0];
  for (let run = 0; run < RUNS; run++) {
    const sensitivity = SENSITIVITY * next();
    const other = measure === 'same' ? sensitivity + 0.05 * Math.sqrt(4 / 30.44) * next() : SENSITIVITY * next();
    const before = side(scansOf(next, Math.log(3.3e-7) + sensitivity + PATTERN * next()));
    const after = side(scansOf(next, Math.log(3.3e-7 * TRUE_FACTOR) + other + PATTERN * next()));
    const found = changeFactor(before, after, { measure, seconds: 4 * DAY });
    if ((found.ratioLow as number) <= TRUE_FACTOR && TRUE_FACTOR <= (found.ratioHigh as number)) covered++;
    half += Math.log((found.ratioHigh as number) / (found.ratio as number));
  }
  return { covered: covered / RUNS, half: half / RUNS };
};

describe('the 95 % interval of a factor', () => {
  test('holds the truth, although the sensitivity is unknown to 20 %, because it is the same on both sides', () => {
    const { covered, half } = study('same');
    expect(covered).toBeGreaterThan(0.925);
    // What is left: patterns on both sides, wandering, and scatter of some 27 scans that count on each.
    const ideal =
      1.96 * Math.hypot(PATTERN, PATTERN, 0.05 * Math.sqrt(4 / 30.44), (NOISE / Math.sqrt(27)) * Math.SQRT2);
    expect(half / ideal).toBeGreaterThan(0.85);
    expect(half / ideal).toBeLessThan(1.6);
    // The sensitivity alone would have been ±55 %.
    expect(half).toBeLessThan(1.96 * SENSITIVITY);
  });

  test('holds the truth with another analyser too, and is as wide as both sensitivities make it', () => {
    const { covered, half } = study('other analyser');
    expect(covered).toBeGreaterThan(0.925);
    expect(half).toBeGreaterThan(1.96 * SENSITIVITY);
  });
});

describe('what does not average away', () => {
  const next = normals(7);
  const [before, after] = [side(scansOf(next, -15)), side(scansOf(next, -18))];

  test('the sensitivity drops out with the same calibration, and comes back with another', () => {
    const same = lastingBetween(before, after, { measure: 'same', seconds: 0 });
    const other = lastingBetween(before, after, { measure: 'other calibration', seconds: 0 });
    expect(same).toBeLessThan(0.12);
    expect(other).toBeGreaterThan(SENSITIVITY * Math.SQRT2 * 0.9);
  });

  test('it wanders: a month apart is 5 % more', () => {
    const now = lastingBetween(before, after, { measure: 'same', seconds: 0 });
    const later = lastingBetween(before, after, { measure: 'same', seconds: MONTH });
    expect(Math.sqrt(later ** 2 - now ** 2)).toBeCloseTo(0.05, 9);
  });

  test('where the sensitivity’s part is not known, all of it stays', () => {
    const unknown = sideOf({ atMs: [0, 1], estimates: scansOf(next, -15, 40) }, undefined);
    expect(unknown.pattern).toBe(unknown.lasting);
  });
});

describe('below detection', () => {
  const next = normals(9);
  const seen = side(scansOf(next, Math.log(7.1e-8)));
  const unseen = side(Array.from({ length: 60 }, () => ({ ...estimate(0, 0, false), highPa: 4e-11 })));

  test('after: a factor at least, from the lower end of what was before', () => {
    const found = changeFactor(seen, unseen, { measure: 'same', seconds: DAY });
    expect(found).toMatchObject({ ratio: null, ratioLow: 0 });
    expect(found.ratioHigh).toBeGreaterThan(4e-11 / 7.1e-8);
    expect(found.ratioHigh).toBeLessThan((4e-11 / 7.1e-8) * 1.4);
  });

  test('before: likewise upwards', () => {
    const found = changeFactor(unseen, seen, { measure: 'same', seconds: DAY });
    expect(found).toMatchObject({ ratio: null, ratioHigh: null });
    expect(found.ratioLow).toBeLessThan(7.1e-8 / 4e-11);
    expect(found.ratioLow).toBeGreaterThan(7.1e-8 / 4e-11 / 1.4);
  });

  test('on both sides: cannot tell', () => {
    expect(changeFactor(unseen, unseen, { measure: 'same', seconds: DAY })).toEqual({
      ratio: null,
      ratioLow: null,
      ratioHigh: null,
    });
  });
});
