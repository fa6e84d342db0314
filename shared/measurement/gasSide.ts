/** One gas on one side of a before-and-after: its middle, what of its error averages away, and what does not. */
import type { BeforeAfter } from '../contract/beforeAfter.ts';
import { DETECTED_SHARE, type Estimate, type Looked, lastingOf, middle, type SensitivityError } from './gasSeries.ts';
import { meanOf, TWO_SIDED_95 } from './meanError.ts';
import { type Growth, robustLine } from './robustLine.ts';
import { type RobustMean, robustMean, scatterHalf } from './robustMean.ts';

export type Course = NonNullable<BeforeAfter['gases'][number]['after']>['course'];
/** Of a gas that may move: its level at the newest scan of the side, or in the middle of the side. */
export type Moment = 'newest' | 'middle';

export interface GasSide {
  /** Scans that looked for it. */
  readonly scans: number;
  readonly detectedShare: number;
  /** Of ln(P/Pa), at `atMs`; null: fewer than half of the scans detect it, or there are too few. */
  readonly mean: RobustMean | null;
  /** `line`: `mean` lies on a line through the side. Else it is the middle of the side, and the word says why. */
  readonly course: Course;
  /** Null: of the whole side. */
  readonly atMs: number | null;
  /** Of a line alone. */
  readonly growth: Growth | null;
  /** Middle one of the upper limits of scans that did not detect it, Pa; null: all did. */
  readonly limitPa: number | null;
  /** Standard deviations of ln P that no averaging takes away: all of it, and what remains without the sensitivity. */
  readonly lasting: number;
  readonly pattern: number;
  /** What of `lasting` every analyser takes from the same catalogue. */
  readonly catalogue: number;
}

/** A line through fewer scans has an interval that holds too seldom: their memory cannot be told from a slope. */
export const LEAST_ON_A_LINE = 40;
/** With more scans below detection the ends of a line hang on what was not seen. */
const OFTEN = 0.9;
const HOUR_MS = 3_600_000;

interface Level {
  readonly mean: RobustMean | null;
  readonly course: Course;
  readonly atMs: number | null;
  readonly growth: Growth | null;
}

const settled = (logs: readonly number[], course: Course): Level => ({
  mean: robustMean(logs),
  course,
  atMs: null,
  growth: null,
});

function movingLevel(atMs: readonly number[], logs: readonly number[], moment: Moment): Level {
  if (logs.length < LEAST_ON_A_LINE) return settled(logs, 'few scans');
  if (logs.filter(Number.isFinite).length < OFTEN * logs.length) return settled(logs, 'seldom seen');
  const first = atMs[0] ?? 0;
  const hours = atMs.map((ms) => (ms - first) / HOUR_MS);
  const at = moment === 'newest' ? (hours.at(-1) ?? 0) : meanOf(hours);
  const line = robustLine(hours, logs, at);
  if (line === null) return settled(logs, 'few scans');
  if (line === 'curved') return settled(logs, 'curved');
  return { mean: line.level, course: 'line', atMs: first + at * HOUR_MS, growth: line.growth };
}

/** Estimates as they would be had the gas not moved along its line: a growth is no scatter. */
const heldStill = ({ atMs, estimates }: Looked, { growth, atMs: at }: Level): readonly Estimate[] =>
  growth === null || at === null
    ? estimates
    : estimates.map((one, k) => {
        const moved = Math.exp((growth.lnPerHour * ((atMs[k] ?? at) - at)) / HOUR_MS);
        return { ...one, valuePa: one.valuePa / moved, lowPa: one.lowPa / moved, highPa: one.highPa / moved };
      });

const seen = ({ detected, valuePa }: Estimate): boolean => detected && valuePa > 0;

/**
 * @param error of the gas on this analyser; undefined: not known, and all that lasts is taken as the pattern's
 * @param moment undefined: the gas is taken as settled, and the middle of the side is its level
 */
export function sideOf(looked: Looked, error: SensitivityError | undefined, moment?: Moment): GasSide {
  const { atMs, estimates } = looked;
  const detectedShare = estimates.filter(seen).length / estimates.length;
  const logs = estimates.map((one) => (seen(one) ? Math.log(one.valuePa) : Number.NEGATIVE_INFINITY));
  const often = detectedShare >= DETECTED_SHARE;
  const level: Level = !often
    ? { mean: null, course: 'seldom seen', atMs: null, growth: null }
    : moment === undefined
      ? settled(logs, 'level')
      : movingLevel(atMs, logs, moment);
  const found = heldStill(looked, level).filter(seen);
  const lasting = found.length === 0 ? 0 : lastingOf(found);
  return {
    scans: estimates.length,
    detectedShare,
    ...level,
    limitPa: middle(estimates.filter(({ detected }) => !detected).map(({ highPa }) => highPa)),
    lasting,
    pattern: error === undefined ? lasting : Math.sqrt(Math.max(0, lasting ** 2 - error.absolute ** 2)),
    catalogue: Math.min(lasting, error?.catalogue ?? 0),
  };
}

/**
 * Half width of a 95 % interval of a growth in ln P per hour. What the patterns of other gases leave in this one stays as it
 * is while this one grows: a pressure that is off by a share of itself has a slope that is off by the same share. The
 * sensitivity has no part in it.
 */
export const growthHalf = (growth: Growth, pattern: number): number =>
  Math.hypot(scatterHalf(growth), TWO_SIDED_95 * pattern * growth.lnPerHour);

/** Half width of a 95 % interval of ln P: scatter and `lasting` together. */
export const halfWidth = (mean: RobustMean, lasting: number): number =>
  Math.hypot(scatterHalf(mean), TWO_SIDED_95 * lasting);
