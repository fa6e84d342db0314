/**
 * A robust line through one gas over a stretch of scans, in ln P against time: where a gas grows or falls while it is
 * looked at, its middle says little and the scatter about its middle nothing.
 *
 * Start: the median of the slopes between all pairs (H. Theil, Proc. K. Ned. Akad. Wet. 53 (1950) 386; P. K. Sen, J. Am.
 * Stat. Assoc. 63 (1968) 1379), of medians of neighbours where there are many; the median absolute deviation from it is
 * the scale. Then P. J. Huber's estimate with that scale, by modified residuals (P. J. Huber and E. M. Ronchetti, Robust
 * Statistics, 2nd ed., ch. 7). A scan that does not see the gas enters as −∞, as in robustMean.ts.
 *
 * Error: that of least squares on the influence values, with the memory of what is left over (memory.ts). Values that
 * count, and their number less two as degrees of freedom, as B. D. Santer et al. take for trends of series with memory
 * (J. Geophys. Res. 105 (2000) 7337).
 *
 * Whether it is a line: terms in t² and t³ are fitted to the same values, for a bow and for what a step leaves. Where one
 * stands out, there is no line. Where none does, what was found of them beyond their errors is added to the interval of the
 * level, because it may be there all the same.
 */
import { paired, student95 } from './meanError.ts';
import { effectiveOf, memoryOf, rememberedSquare } from './memory.ts';
import { orthonormalOver } from './orthonormal.ts';
import { clipped, HUBER_K, LEAST_DEGREES, MAD_TO_SIGMA, medianOf, otherScale, type RobustMean } from './robustMean.ts';

export interface Growth {
  /** Slope of ln P, per hour. */
  readonly lnPerHour: number;
  /** One standard deviation, and the degrees of freedom that it rests on. */
  readonly sigma: number;
  readonly degrees: number;
}

export interface RobustLine {
  /** At the moment that was asked for. */
  readonly level: RobustMean;
  readonly growth: Growth;
}

/** Of two normal values one is beyond this once in a hundred times; in the standard deviations of one in twenty. */
const CLEARLY = 2.806 / 1.96;
const MOST_STEPS = 300;
const CLOSE_ENOUGH = 1e-10;
/** Values of ln P that scatter less than this scatter by rounding. */
const ROUNDING = 1e-12;
/** With fewer means of neighbours their memory cannot be seen. */
const LEAST_BLOCKS = 24;
/** So many medians of neighbours make 1770 pairs: enough for a start, and soon done. */
const MOST_IN_PAIRS = 60;

const sumOf = (values: readonly number[], weights: readonly number[]): number =>
  values.reduce((sum, value, k) => sum + value * (weights[k] ?? 0), 0);

const groupedMedians = (values: readonly number[], groups: number): number[] =>
  Array.from({ length: groups }, (_, k) =>
    medianOf(values.slice(Math.floor((k * values.length) / groups), Math.floor(((k + 1) * values.length) / groups))),
  );

/** Median of the slopes between all pairs of finite values at different times; 0 where there is no pair. */
export function pairedSlope(hours: readonly number[], values: readonly number[]): number {
  const groups = Math.min(values.length, MOST_IN_PAIRS);
  const [at, of] = [groupedMedians(hours, groups), groupedMedians(values, groups)];
  const slopes: number[] = [];
  for (let j = 0; j < groups; j++)
    for (let k = j + 1; k < groups; k++) {
      const slope = ((of[k] ?? 0) - (of[j] ?? 0)) / ((at[k] ?? 0) - (at[j] ?? 0));
      if (Number.isFinite(slope)) slopes.push(slope);
    }
  return slopes.length === 0 ? 0 : medianOf(slopes);
}

export interface Line {
  readonly intercept: number;
  readonly slope: number;
}

/** Huber's line with a given scale. Unique, as the sum that it minimises is convex. @param k in units of `scale` */
export function huberLine(hours: readonly number[], values: readonly number[], scale: number, k = HUBER_K): Line {
  const centre = hours.reduce((sum, hour) => sum + hour, 0) / hours.length;
  const u = hours.map((hour) => hour - centre);
  const squares = sumOf(u, u);
  let slope = pairedSlope(hours, values);
  let level = medianOf(values.map((value, j) => value - slope * (u[j] ?? 0)));
  for (let step = 0, moved = 1; step < MOST_STEPS && moved > CLOSE_ENOUGH; step++) {
    const pulls = values.map((value, j) => scale * clipped((value - level - slope * (u[j] ?? 0)) / scale, k));
    const up = pulls.reduce((sum, pull) => sum + pull, 0) / pulls.length;
    const turned = sumOf(pulls, u) / squares;
    level += up;
    slope += turned;
    moved = (Math.abs(up) + Math.abs(turned) * Math.sqrt(squares / u.length)) / scale;
  }
  return { intercept: level - slope * centre, slope };
}

/** Variance of one value about what was fitted, of which the memory lets the fit take away more than its terms. */
const varianceAbout = (residuals: readonly number[], terms: readonly (readonly number[])[], phi: number): number =>
  sumOf(residuals, residuals) /
  Math.max(1, residuals.length - terms.reduce((sum, term) => sum + rememberedSquare(term, phi), 0));

/** What was found of a term that a line does not have: a bow, or a turn as of a step. */
export interface Bend {
  readonly found: number;
  /** One standard deviation. */
  readonly error: number;
  /** What it is at the moment, for one of it. */
  readonly atMoment: number;
}

export interface Errors {
  /** Standard deviations of the level at the moment, and of the slope per hour. */
  readonly level: number;
  readonly slope: number;
  readonly bends: readonly Bend[];
  /** Values that count about a line, and about a cubic. */
  readonly effective: number;
  readonly aboutBends: number;
}

/** Errors of a line by least squares with these residuals. @param memory φ of residuals about so many terms */
export function errorsOf(
  hours: readonly number[],
  residuals: readonly number[],
  moment: number,
  memory = memoryOf,
): Errors {
  const n = hours.length;
  const terms = orthonormalOver(hours, 3);
  const [one = [], tilt = [], ...bends] = terms.columns;
  const [ofOne, ofTilt, ...ofBends] = terms.at(moment) as [number, number];
  const found = bends.map((bend) => sumOf(residuals, bend));
  const straight = residuals.map(
    (value, k) => value - found.reduce((sum, of, j) => sum + of * (bends[j]?.[k] ?? 0), 0),
  );
  const [phi, bendPhi] = [memory(residuals, 2), memory(straight, 4)];
  const sigma = Math.sqrt(varianceAbout(residuals, [one, tilt], phi));
  const bendSigma = Math.sqrt(varianceAbout(straight, [one, tilt, ...bends], bendPhi));
  const weights = one.map((value, k) => value * ofOne + (tilt[k] ?? 0) * ofTilt);
  return {
    level: sigma * Math.sqrt(rememberedSquare(weights, phi)),
    slope: Math.abs((terms.at(moment + 1)[1] ?? 0) - ofTilt) * sigma * Math.sqrt(rememberedSquare(tilt, phi)),
    bends: bends.map((bend, j) => ({
      found: found[j] ?? 0,
      error: bendSigma * Math.sqrt(rememberedSquare(bend, bendPhi)),
      atMoment: ofBends[j] ?? 0,
    })),
    effective: Math.max(1, Math.min(n, effectiveOf(n, phi))),
    aboutBends: effectiveOf(n, bendPhi),
  };
}

/** Of single values and of means of neighbours, the errors that come out largest: noise hides a longer memory. */
function largestErrors(hours: readonly number[], residuals: readonly number[], moment: number): Errors {
  let found = errorsOf(hours, residuals, moment);
  let [at, of] = [paired(hours), paired(residuals)];
  for (; at.length >= LEAST_BLOCKS; [at, of] = [paired(at), paired(of)]) {
    const here = errorsOf(at, of, moment);
    if (here.level > found.level) found = here;
  }
  return found;
}

/** What the bends would make of the level, as far as they are beyond their own errors. */
const hiddenIn = ({ bends }: Errors): number =>
  Math.hypot(...bends.map(({ found, error, atMoment }) => atMoment * Math.sqrt(Math.max(0, found ** 2 - error ** 2))));

/**
 * @param hours of the values, rising
 * @param moment hour whose level is asked for, within them
 * @returns null: half of the values or more are −∞, or all lie at one time; `curved`: their course is no line
 */
export function robustLine(
  hours: readonly number[],
  values: readonly number[],
  moment: number,
): RobustLine | 'curved' | null {
  const n = values.length;
  if (n < 4 || !((hours[n - 1] ?? 0) > (hours[0] ?? 0))) return null;
  const start = pairedSlope(hours, values);
  const flat = values.map((value, k) => value - start * (hours[k] ?? 0));
  const middle = medianOf(flat);
  if (!Number.isFinite(middle)) return null;
  const scale = MAD_TO_SIGMA * medianOf(flat.map((value) => Math.abs(value - middle))) || otherScale(flat);
  const sure = { sigma: 0, degrees: n - 2 };
  if (!(scale > ROUNDING))
    return { level: { ln: middle + start * moment, effective: n, ...sure }, growth: { lnPerHour: start, ...sure } };
  const { intercept, slope } = huberLine(hours, values, scale);
  const z = values.map((value, k) => (value - intercept - slope * (hours[k] ?? 0)) / scale);
  const unclipped = z.filter((one) => Math.abs(one) <= HUBER_K).length / n;
  const influence = z.map((one) => (scale * clipped(one, HUBER_K)) / Math.max(unclipped, 0.1));
  const found = largestErrors(hours, influence, moment);
  const clear = CLEARLY * student95(Math.max(LEAST_DEGREES, found.aboutBends - 4));
  if (found.bends.some((bend) => Math.abs(bend.found) > clear * bend.error)) return 'curved';
  const { effective } = found;
  const degrees = Math.max(LEAST_DEGREES, effective - 2);
  return {
    level: {
      ln: intercept + slope * moment,
      // What may be bent stands in the interval once, not times Student's t.
      sigma: Math.hypot(found.level, hiddenIn(found) / student95(degrees)),
      effective,
      degrees,
    },
    growth: { lnPerHour: slope, sigma: found.slope, degrees },
  };
}
