/**
 * One budget of false alarms for a chamber and a month, shared out among all statistics of the lanes; from it their
 * thresholds. A chamber with more directions, or one that is scanned more often, asks for more sigma.
 *
 * A call needs n scans in a row above the threshold h, and n scans in a row hold exactly one whose number divides by n.
 * So whatever the correlation from scan to scan, a statistic calls at most (scans per month / n) · P(z > h) times.
 */
import { averageRunLengthFor, thresholdForSingleValues } from '../analysis/sequential/alarmBudget.ts';
import type { Lane } from './nullModel.ts';
import { DAY } from './parameters.ts';

/** Staff who are called once in two years by a chamber that is well still believe the next call (the aim of the watch). */
export const FALSE_ALARMS_PER_MONTH = 0.05;
const LANES_WATCHED = 3;
const MONTH_SECONDS = 30 * DAY;
/**
 * What the normal distribution does not know: heights have heavier tails than it, and the average of many scans shows
 * the errors of the model itself. With these the thresholds at five minutes a scan are the 6 and 6.5 sigma that held
 * their rate on simulated fleets; what the day lane calls must convince the naming (12 nats are 4.9 sigma).
 */
const MARGIN: Record<Lane, number> = { scan: 1.17, mean: 1.27, day: 1 };

export interface Looks {
  /** Directions that are watched. */
  readonly statistics: number;
  /** On-delay, scans, and the scan period, s. */
  readonly onDelay: number;
  readonly periodSeconds: number;
}

const known = new Map<string, number>();
const MOST_KNOWN = 500;

/** Sigma. */
export function thresholdOf(lane: Lane, { statistics, onDelay, periodSeconds }: Looks): number {
  const looks = Math.max(1, Math.round(MONTH_SECONDS / (onDelay * periodSeconds)));
  const key = `${lane} ${statistics} ${looks}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const runLength = averageRunLengthFor({
    falseAlarmsPerMonth: FALSE_ALARMS_PER_MONTH,
    scansPerMonth: looks,
    statistics: LANES_WATCHED * Math.max(1, statistics),
  });
  const threshold = MARGIN[lane] * thresholdForSingleValues(runLength);
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(key, threshold);
  return threshold;
}

/** Share of the budget that one statistic has in `seconds`: a probability. */
export const shareIn = (seconds: number, statistics: number): number =>
  (FALSE_ALARMS_PER_MONTH * seconds) / MONTH_SECONDS / (LANES_WATCHED * Math.max(1, statistics));
