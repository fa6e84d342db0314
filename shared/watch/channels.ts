/**
 * One spectrum as a vector: channel 0 is the gauge (Pa, N2-equivalent), channel i the i-th mass of the baseline's
 * list (N2-equivalent Pa). What was not measured is NaN here and takes part in nothing.
 */
import type { PeakList } from '../analysis/types.ts';
import type { Vector } from './memory.ts';

/** `leftOut`: masses that the analysis does not believe in this scan. */
export function toChannels(
  peaks: PeakList,
  gaugePa: number | null,
  masses: Vector,
  leftOut: readonly { readonly mass: number }[] = [],
): Float64Array {
  const out = new Float64Array(masses.length + 1).fill(Number.NaN);
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

/** Share of the baseline's masses that this scan measured, and whether it brings many that the baseline lacks. */
export function fits(peaks: PeakList, masses: Vector): boolean {
  const known = new Set(masses);
  const measured = measuredMasses(peaks);
  const shared = measured.filter((mass) => known.has(mass)).length;
  return shared >= 0.6 * masses.length && measured.length - shared <= 0.2 * masses.length;
}

export const typed = (vector: Vector): Float64Array => new Float64Array(vector);
export const plain = (vector: Float64Array): number[] => Array.from(vector);

/** Sum of the positive masses (not the gauge). */
export function totalOf(q: Float64Array): number {
  let sum = 0;
  for (let i = 1; i < q.length; i++) if (q[i]! > 0) sum += q[i]!;
  return sum;
}

/** Sorted in place again and again: medians are taken by the hundred. */
let scratch = new Float64Array(256);

export function median(values: readonly number[]): number {
  if (values.length > scratch.length) scratch = new Float64Array(2 * values.length);
  let count = 0;
  for (const value of values) if (Number.isFinite(value)) scratch[count++] = value;
  if (count === 0) return Number.NaN;
  const sorted = scratch.subarray(0, count).sort();
  const half = count >> 1;
  return count % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

export const middleOf = (a: number, b: number, c: number): number =>
  Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
