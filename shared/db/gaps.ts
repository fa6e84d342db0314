/** Where a series has no scans. */

export interface Gap {
  readonly from: Date;
  readonly to: Date;
}

/** Beyond so many periods without a scan there is a gap: the same as for a chamber that is stale. */
const PERIODS_OF_A_GAP = 3;

const median = (values: Float64Array): number | null => values.sort()[values.length >> 1] ?? null;

/**
 * Gaps longer than three usual periods; the usual period is the median of the intervals. The edges of the span count
 * as scans where scans tell a period, and a span without any is one gap.
 * @param timesMs times of the scans, ms since 1970, in any order
 * @param now a gap does not reach beyond it
 */
export const gapsBetween = (timesMs: readonly number[], span: Gap, now: Date): Gap[] => {
  const end = span.to < now ? span.to : now;
  const times = Float64Array.from(timesMs).sort();
  if (times.length === 0) return end > span.from ? [{ from: span.from, to: end }] : [];
  const intervals = times.subarray(1).map((time, i) => time - (times[i] ?? time));
  const period = median(intervals.filter((interval) => interval > 0));
  if (period === null) return [];
  const gaps: Gap[] = [];
  let before = span.from.getTime();
  for (const time of [...times, end.getTime()]) {
    if (time - before > PERIODS_OF_A_GAP * period) gaps.push({ from: new Date(before), to: new Date(time) });
    before = time;
  }
  return gaps;
};
