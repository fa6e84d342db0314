/** Where a series has no scans. */

export interface Gap {
  readonly from: Date;
  readonly to: Date;
}

/** Beyond so many periods without a scan there is a gap: the same as for a chamber that is stale. */
const PERIODS_OF_A_GAP = 3;
/** How many intervals on each side say how far apart scans are there: an analyser may scan more rarely for a day. */
const NEIGHBOURS = 5;

/**
 * Gaps longer than three usual periods; the usual period is the median of the intervals just before and just after. The
 * edges of the span count as scans where scans tell a period, and a span without any is one gap.
 * @param timesMs times of the scans, ms since 1970, in any order
 * @param now a gap does not reach beyond it
 */
export const gapsBetween = (timesMs: readonly number[], span: Gap, now: Date): Gap[] => {
  const end = span.to < now ? span.to : now;
  const times = Float64Array.from(new Set(timesMs)).sort();
  if (times.length === 0) return end > span.from ? [{ from: span.from, to: end }] : [];
  const intervals = times.subarray(1).map((time, i) => time - times[i]!);
  const gaps: Gap[] = [];
  let before = span.from.getTime();
  for (const [i, time] of [...times, end.getTime()].entries()) {
    const period = periodAround(intervals, i - 1);
    if (period !== null && time - before > PERIODS_OF_A_GAP * period)
      gaps.push({ from: new Date(before), to: new Date(time) });
    before = time;
  }
  return gaps;
};

/** Median of the intervals beside the one at `place`, which may lie before the first or after the last. */
function periodAround(intervals: Float64Array, place: number): number | null {
  const beside = [
    ...intervals.subarray(Math.max(0, place - NEIGHBOURS), Math.max(0, place)),
    ...intervals.subarray(place + 1, place + 1 + NEIGHBOURS),
  ].sort((a, b) => a - b);
  return beside[beside.length >> 1] ?? null;
}
