/**
 * The zero of an electrometer wanders, under all masses alike, and no average takes that out. Seen in peaks of one height
 * each it would be a little oil, or a mass scale that slides.
 */
import type { Baseline } from './memory.ts';

/** How far, in the noise of the quietest mass (our choice: three simulated chambers whose zero wandered by half of it were called ten times in ten days). */
const ZERO_SIGMAS = 0.7;

/** One sigma of it per channel, written into `column`; the gauge has no part in it. */
export function zeroWander({ variance }: Pick<Baseline, 'variance'>, column: Float64Array): Float64Array {
  let quietest = Number.POSITIVE_INFINITY;
  for (let m = 1; m < variance.length; m++) quietest = Math.min(quietest, variance[m]!);
  const weight = Number.isFinite(quietest) ? ZERO_SIGMAS * Math.sqrt(quietest) : 0;
  for (let m = 1; m < column.length; m++) column[m] = weight;
  return column;
}
