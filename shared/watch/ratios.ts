/**
 * Ratios of peaks within the *change* of the spectrum: they name a gas whatever the sensitivity of the analyser is.
 * Expected ranges allow for the 10–30 % by which a real instrument's fragments differ from the published ones.
 */
import type { Evidence } from '../contract/alerts.ts';
import type { Frame } from './frame.ts';
import { number } from './wording.ts';

export interface RatioExpected {
  readonly name: string;
  readonly above: number;
  readonly below: number;
  readonly low: number;
  readonly high: number;
  /** What it means. */
  readonly inside: string;
  readonly under: string;
  readonly over: string;
}

const TWO_SIDED_95 = 1.96;
/** Three scans stand behind a middle of three; its variance is 0.45 of one scan's (order statistics of a normal). */
const MIDDLE_NOISE = Math.sqrt(0.45);

/** Null when the lower peak has not changed by more than its noise, or when a mass was not measured. */
export function ratioEvidence(frame: Frame, change: Float64Array, expected: RatioExpected): Evidence | null {
  const { baseline } = frame;
  const [i, j] = [baseline.masses.indexOf(expected.above) + 1, baseline.masses.indexOf(expected.below) + 1];
  if (i === 0 || j === 0) return null;
  const sigma = (m: number) =>
    Math.hypot(MIDDLE_NOISE * Math.sqrt(baseline.variance[m]!), 0.004 * frame.reference.spectrum[m]!);
  const [top, bottom] = [change[i]!, change[j]!];
  if (!(bottom > 3 * sigma(j))) return null;
  const value = top / bottom;
  const spread = (TWO_SIDED_95 * Math.hypot(sigma(i), value * sigma(j))) / bottom;
  // Nothing is less than none: what noise or breathing has put below zero is none, within the same spread.
  const [low, high] = [Math.max(0, value - spread), Math.max(0, value) + spread];
  const row = {
    name: expected.name,
    low,
    high,
    unit: '1',
    expected: `${number(expected.low)}–${number(expected.high)}`,
    expectedLow: expected.low,
    expectedHigh: expected.high,
  };
  // An interval that spans the range and more cannot decide.
  if (low < expected.low && high > expected.high)
    return { ...row, value: null, verdict: 'cannot tell: too small to see' };
  const verdict = high < expected.low ? expected.under : low > expected.high ? expected.over : expected.inside;
  return { ...row, value: Math.max(0, value), verdict };
}

/** Nitrogen 14/28: 0.138 (NIST WebBook), carbon monoxide 0.006: no instrument confuses them. */
export const NITROGEN: RatioExpected = {
  name: '14/28 of what came in',
  above: 14,
  below: 28,
  low: 0.07,
  high: 0.22,
  inside: 'nitrogen',
  under: 'not nitrogen alone: carbon monoxide',
  over: 'more 14 than nitrogen gives',
};
/** Carbon monoxide 12/28: 0.047 (NIST WebBook), nitrogen none. */
export const CARBON_MONOXIDE: RatioExpected = {
  name: '12/28 of what came in',
  above: 12,
  below: 28,
  low: 0.02,
  high: 0.1,
  inside: 'carbon monoxide',
  under: 'no carbon monoxide',
  over: 'more carbon than carbon monoxide gives',
};
/** Air: 0.00934/0.78084 with argon 1.07–1.4 times as sensitive, transmission and pumping speeds: half to twice. */
export const ARGON_IN_AIR: RatioExpected = {
  name: '40/28 of what came in',
  above: 40,
  below: 28,
  low: 0.007,
  high: 0.035,
  inside: 'as in air',
  under: 'no argon: not air',
  over: 'more argon than air holds',
};
/** Air: 0.2095/0.7808; oxygen is eaten by hot parts and getters. */
export const OXYGEN_IN_AIR: RatioExpected = {
  name: '32/28 of what came in',
  above: 32,
  below: 28,
  low: 0.13,
  high: 0.4,
  inside: 'as in air',
  under: 'oxygen is eaten on the way',
  over: 'more oxygen than air holds',
};
/** ³⁶Ar/⁴⁰Ar 0.00335 (IUPAC). */
export const ARGON_ISOTOPES: RatioExpected = {
  name: '36/40 of what came in',
  above: 36,
  below: 40,
  low: 0.0022,
  high: 0.005,
  inside: 'argon by its isotopes',
  under: 'less 36 than argon gives',
  over: 'more at 36 than argon gives',
};
/** Water 17/18: 0.212 (NIST WebBook). */
export const WATER: RatioExpected = {
  name: '17/18 of what came in',
  above: 17,
  below: 18,
  low: 0.15,
  high: 0.3,
  inside: 'water',
  under: 'less 17 than water gives',
  over: 'ammonia may be with it',
};
/** Paraffin oils 57/43 between 1.05 and 1.27 in the records, mineral oil 1.05. */
export const OIL: RatioExpected = {
  name: '57/43 of what came in',
  above: 57,
  below: 43,
  low: 0.6,
  high: 1.7,
  inside: 'oil',
  under: 'lighter than oil',
  over: 'not the comb of an oil',
};
export const OIL_COMB: RatioExpected = {
  name: '55/57 of what came in',
  above: 55,
  below: 57,
  low: 0.18,
  high: 0.95,
  inside: 'oil',
  under: 'too few unsaturated fragments',
  over: 'not the comb of an oil',
};
