import { type MassScale, positionOf } from './massScale.ts';
import { medianInPlace, quantileInPlace } from './quickselect.ts';
import type { Profile } from './strongPeaks.ts';

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
  const swings = new Float64Array(knots.length);
  for (let k = 0; k < knots.length; k++) swings[k] = Math.abs(knots[k]!.beside);
  const usual = quantileInPlace(swings, swings.length, QUIET_SHARE);
  const knotMasses: number[] = [];
  const levels: number[] = [];
  for (const knot of knots) {
    if (knot.beside > STILL_QUIET * usual) continue;
    knotMasses.push(knot.mass);
    levels.push(knot.level);
  }
  return { knotMasses, levels };
}

/** Reused from knot to knot: masses of valleys and the larger point beside each, ascending by that point. */
const places = new Float64Array(KNOT_SPACING_U + 1);
const besides = new Float64Array(KNOT_SPACING_U + 1);
const chosenLevels = new Float64Array(KNOT_SPACING_U + 1);
const chosenMasses = new Float64Array(KNOT_SPACING_U + 1);

function knotOf(profile: Profile, scale: MassScale, from: number, to: number): Knot | null {
  let count = 0;
  let left = nearestPoint(profile, positionOf(scale, from));
  for (let mass = from; mass < to; mass++) {
    const right = nearestPoint(profile, positionOf(scale, mass + 1));
    const beside = Math.max(left, right);
    left = right;
    if (Number.isNaN(beside)) continue;
    let k = count++;
    while (k > 0 && besides[k - 1]! > beside) {
      besides[k] = besides[k - 1]!;
      places[k] = places[k - 1]!;
      k--;
    }
    besides[k] = beside;
    places[k] = mass;
  }
  const wanted = Math.max(1, Math.round(QUIET_SHARE * count));
  let kept = 0;
  for (let k = 0; k < count && kept < wanted; k++) {
    const level = valleyAfter(profile, positionOf(scale, places[k]!));
    if (Number.isNaN(level)) continue;
    chosenLevels[kept] = level;
    besides[kept] = besides[k]!;
    chosenMasses[kept++] = places[k]! + 0.5;
  }
  if (kept === 0) return null;
  const level = medianInPlace(chosenLevels, kept);
  return { mass: medianInPlace(chosenMasses, kept), level, beside: quantileInPlace(besides, kept, 0.5) - level };
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

/**
 * The level at `count` masses from `firstMass` on, into `out`: straight lines between knots, level beyond the outer ones;
 * without knots zero.
 */
export function levelsOf({ knotMasses, levels }: Baseline, firstMass: number, out: Float64Array, count: number): void {
  const knots = knotMasses.length;
  let k = 0;
  for (let i = 0; i < count; i++) {
    const mass = firstMass + i;
    while (k < knots && knotMasses[k]! < mass) k++;
    if (k === 0 || k === knots) {
      out[i] = knots === 0 ? 0 : levels[Math.min(k, knots - 1)]!;
      continue;
    }
    const share = (mass - knotMasses[k - 1]!) / (knotMasses[k]! - knotMasses[k - 1]!);
    out[i] = levels[k - 1]! + share * (levels[k]! - levels[k - 1]!);
  }
}
