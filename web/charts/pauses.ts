/** Pauses of a series that has no gaps of its own: where its points stand much farther apart than they usually do. */
import type { Gap } from './gaps.ts';

/** A pause is this much longer than the points around it are apart. */
const PAUSE_FACTOR = 2.5;

/** `stepMs`: width of a bucket. Two neighbouring buckets with a value are never a pause. */
export function pausesOf(times: readonly number[], stepMs: number): Gap[] {
  const sorted = [...times].sort((a, b) => a - b);
  const steps = sorted.slice(1).map((t, i) => t - (sorted[i] ?? t));
  const usual = [...steps].sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
  const longest = PAUSE_FACTOR * Math.max(usual, stepMs);
  return sorted.slice(1).flatMap((to, i) => {
    const from = sorted[i] ?? to;
    return to - from > longest ? [{ from, to }] : [];
  });
}
