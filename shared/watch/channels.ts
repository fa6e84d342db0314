/**
 * One spectrum as a vector: channel 0 is the gauge (Pa, N2-equivalent), channel i the i-th mass of the baseline's
 * list (N2-equivalent Pa). What was not measured is NaN here and takes part in nothing.
 */
import { selectInPlace } from '../analysis/quickselect.ts';
import type { PeakList } from '../analysis/types.ts';
import type { Vector } from './memory.ts';
import { vector } from './rows.ts';

/** `leftOut`: masses that the analysis does not believe in this scan. */
export function toChannels(
  peaks: PeakList,
  gaugePa: number | null,
  masses: Vector,
  leftOut: readonly { readonly mass: number }[] = [],
): Float64Array {
  const out = vector(masses.length + 1).fill(Number.NaN);
  out[0] = gaugePa ?? Number.NaN;
  let k = 0;
  for (let i = 0; i < masses.length; i++) {
    while (k < peaks.masses.length && peaks.masses[k]! < masses[i]!) k++;
    if (peaks.masses[k] === masses[i]) out[i + 1] = peaks.heightPa[k]!;
  }
  for (const { mass } of leftOut) {
    const i = masses.indexOf(mass);
    if (i >= 0) out[i + 1] = Number.NaN;
  }
  return out;
}

/** The masses of a scan that hold a value. */
export function measuredMasses(peaks: PeakList): number[] {
  return peaks.masses.filter((mass, i) => mass >= 1 && Number.isFinite(peaks.heightPa[i]));
}

/** True when at least one of them does. */
export function isMeasured({ masses, heightPa }: PeakList): boolean {
  for (let i = 0; i < masses.length; i++) if (masses[i]! >= 1 && Number.isFinite(heightPa[i])) return true;
  return false;
}

/** Two lists of masses are the same. */
export const isSameList = (a: Vector, b: Vector): boolean =>
  a.length === b.length && a.every((mass, i) => mass === b[i]);

/** Share of the baseline's masses that this scan measured, and whether it brings many that the baseline lacks. Both rise. */
export function fits(peaks: PeakList, masses: Vector): boolean {
  let shared = 0;
  let measured = 0;
  let k = 0;
  for (let i = 0; i < peaks.masses.length; i++) {
    const mass = peaks.masses[i]!;
    if (mass < 1 || !Number.isFinite(peaks.heightPa[i])) continue;
    measured++;
    while (k < masses.length && masses[k]! < mass) k++;
    if (masses[k] === mass) shared++;
  }
  return shared >= 0.6 * masses.length && measured - shared <= 0.2 * masses.length;
}

/** A copy to calculate with, and a copy to remember: loops, since the built-in conversions cost twenty times as much. */
export function typed(values: Vector): Float64Array {
  const out = vector(values.length);
  for (let i = 0; i < out.length; i++) out[i] = values[i]!;
  return out;
}

export function plain(values: Float64Array): number[] {
  const out = new Array<number>(values.length);
  for (let i = 0; i < out.length; i++) out[i] = values[i]!;
  return out;
}

/** Sum of the positive masses (not the gauge). */
export function totalOf(q: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 1; i < q.length; i++) if (q[i]! > 0) sum += q[i]!;
  return sum;
}

/** Rearranged in place again and again: medians are taken by the hundred. */
let scratch = new Float64Array(256);

/** Of the first `length` values; those that are not finite take no part. */
export function median(values: ArrayLike<number>, length = values.length): number {
  if (length > scratch.length) scratch = new Float64Array(2 * length);
  let count = 0;
  for (let i = 0; i < length; i++) if (Number.isFinite(values[i])) scratch[count++] = values[i]!;
  if (count === 0) return Number.NaN;
  const half = count >> 1;
  const upper = selectInPlace(scratch, count, half);
  if (count % 2 === 1) return upper;
  let lower = scratch[0]!;
  for (let i = 1; i < half; i++) if (scratch[i]! > lower) lower = scratch[i]!;
  return (lower + upper) / 2;
}

export const middleOf = (a: number, b: number, c: number): number =>
  Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
