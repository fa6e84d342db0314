/**
 * The slowest of the three lanes: a day's mean against the pinned reference, for what grows by a few per cent a week. It
 * gathers all quiet hours there are: while the tail of a short state falls, the masses that have no part in it.
 */
import { plain, typed } from './channels.ts';
import type { Frame } from './frame.ts';
import { DAY_LANE_HOURS, HOUR } from './parameters.ts';
import { pinnedNow } from './reference.ts';

/** The lane speaks once its average holds this much weight. */
const DAY_READY = 0.7;
/** The mean rises by a fifth a month at most. */
const LEAST_PINNED_SHARE = 0.6;

export function advanceDay(frame: Frame): Float64Array | null {
  const { memory, baseline, reference, middle, q, seconds, periodSeconds } = frame;
  const { lifted } = reference;
  const { settling } = memory;
  // A pump-down moves every gas for days.
  if (settling && (!settling.short || settling.under)) return null;
  const pinned = pinnedNow(memory, baseline, reference.spectra);
  if (!pinned) return null;
  const share = Math.min(0.5, Math.min(seconds, 4 * periodSeconds) / (DAY_LANE_HOURS * HOUR));
  const { weight: before, sum: known } = baseline.day ?? { weight: 0, sum: null };
  const sum = known ? typed(known) : new Float64Array(q.length);
  const weight = before + share * (1 - before);
  for (let m = 0; m < q.length; m++) {
    // Left out for now: its average stays what it was, whatever the weight of the others.
    if (lifted?.[m] || !Number.isFinite(q[m]!)) {
      if (before > 0) sum[m]! *= weight / before;
      continue;
    }
    const limit = 4 * Math.sqrt(baseline.variance[m]!) + 0.5 * Math.abs(pinned[m]!);
    const x = middle[m]! + reference.spectrum[m]! - pinned[m]!;
    sum[m]! += share * (Math.max(-limit, Math.min(limit, x)) - sum[m]!);
  }
  baseline.day = { sum: plain(sum), weight };
  if (weight <= DAY_READY) return null;
  for (let m = 0; m < sum.length; m++) sum[m]! /= weight;
  return sum;
}

/**
 * What is usual of a direction in the pinned reference, over what it is in the mean that follows: the mean has grown a
 * little with what grows, and asks for more than the band of what was usual.
 */
export function pinnedShare({ baseline }: Frame, direction: Float64Array): number {
  const { pinned, mean } = baseline;
  if (!pinned) return 1;
  let [then, now] = [0, 0];
  for (let m = 1; m < direction.length; m++) {
    if (!(direction[m]! > 0)) continue;
    then += direction[m]! * Math.max(0, pinned.mean[m]!);
    now += direction[m]! * Math.max(0, mean[m]!);
  }
  return now > 0 ? Math.max(LEAST_PINNED_SHARE, Math.min(1, then / now)) : 1;
}
