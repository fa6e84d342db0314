import { type MassScale, type Profile, positionOf } from './massScale.ts';
import { median, quantileOfSorted, sortedNumbers } from './robust.ts';

/**
 * The level on which the peaks of a profile stand, from the valleys between them: the mean of the points within ±0.12 u
 * of half a unit beside every peak.
 *
 * A valley beside a large peak holds its tail. So in every twelve units the third of valleys with the smallest peaks
 * beside them makes a knot, by its median (chosen by those peaks, never by their own value: the lowest of many noisy
 * valleys would be too low), and a knot counts only if even these peaks are as small as in the quieter knots. Between
 * knots the level is a straight line.
 */
export interface Baseline {
  readonly knotMasses: readonly number[];
  readonly levels: readonly number[];
}

const VALLEY_HALF_WIDTH_U = 0.12;
const KNOT_SPACING_U = 12;
const QUIET_SHARE = 1 / 3;
/** Peaks beside the valleys of a knot may stand this many times as high as beside those of the quieter knots. */
const STILL_QUIET = 5;

interface Knot {
  readonly mass: number;
  readonly level: number;
  /** Height of the peaks beside its valleys above its level. */
  readonly beside: number;
}

export function valleyBaseline(profile: Profile, scale: MassScale, firstMass: number, lastMass: number): Baseline {
  const knots: Knot[] = [];
  for (let from = firstMass; from <= lastMass; from += KNOT_SPACING_U) {
    const knot = knotOf(profile, scale, from, Math.min(lastMass, from + KNOT_SPACING_U));
    if (knot !== null) knots.push(knot);
  }
  const usual = quantileOfSorted(sortedNumbers(knots.map((knot) => Math.abs(knot.beside))), QUIET_SHARE);
  const quiet = knots.filter((knot) => knot.beside <= STILL_QUIET * usual);
  return { knotMasses: quiet.map((knot) => knot.mass), levels: quiet.map((knot) => knot.level) };
}

function knotOf(profile: Profile, scale: MassScale, from: number, to: number): Knot | null {
  const valleys: Knot[] = [];
  for (let mass = from; mass < to; mass++) {
    const position = positionOf(scale, mass);
    const level = valleyAfter(profile, position);
    const beside = Math.max(nearestPoint(profile, position), nearestPoint(profile, position + 1));
    if (!Number.isNaN(level) && !Number.isNaN(beside)) valleys.push({ mass: mass + 0.5, level, beside });
  }
  if (valleys.length === 0) return null;
  valleys.sort((a, b) => a.beside - b.beside);
  const chosen = valleys.slice(0, Math.max(1, Math.round(QUIET_SHARE * valleys.length)));
  const level = median(chosen.map((valley) => valley.level));
  return {
    mass: median(chosen.map((valley) => valley.mass)),
    level,
    beside: median(chosen.map((valley) => valley.beside)) - level,
  };
}

function valleyAfter({ first, perUnit, values }: Profile, position: number): number {
  const centre = (position + 0.5 - first) * perUnit;
  const reach = Math.max(0.5, VALLEY_HALF_WIDTH_U * perUnit);
  const begin = Math.max(0, Math.ceil(centre - reach));
  const end = Math.min(values.length - 1, Math.floor(centre + reach));
  let sum = 0;
  for (let i = begin; i <= end; i++) sum += values[i]!;
  return end < begin ? Number.NaN : sum / (end - begin + 1);
}

const nearestPoint = ({ first, perUnit, values }: Profile, position: number): number =>
  values[Math.round((position - first) * perUnit)] ?? Number.NaN;

/** Straight lines between knots, level beyond the outer ones; a profile without any valley stands on zero. */
export function baselineAt({ knotMasses, levels }: Baseline, mass: number): number {
  const count = knotMasses.length;
  if (count === 0) return 0;
  let k = 0;
  while (k < count && knotMasses[k]! < mass) k++;
  if (k === 0) return levels[0]!;
  if (k === count) return levels[count - 1]!;
  const share = (mass - knotMasses[k - 1]!) / (knotMasses[k]! - knotMasses[k - 1]!);
  return levels[k - 1]! + share * (levels[k]! - levels[k - 1]!);
}
