/**
 * One chamber among its sisters: chambers of the same kind in the same state.
 *
 * Robust z, with the median and 1.4826 times the median absolute deviation of all of them, itself included, in ln P (of
 * four equal sisters alone the deviation would call one chamber in eight odd, with itself one in twenty: simulated);
 * beyond 3.5 a value does not belong (B. Iglewicz and D. C. Hoaglin, How to Detect and Handle Outliers, ASQC 1993, whose
 * 0.6745 is 1/1.4826). A few chambers can lie close together by luck, which makes the deviation far too small: it is
 * never taken for less than what measuring alone makes of equal chambers. Twice, because a chamber can be unlike its
 * sisters and always have been: by level, and by how far each has moved from its own usual.
 */
import type { Sisters } from '../contract/sisters.ts';
import { MAD_TO_SIGMA, medianOf } from './robustMean.ts';

export interface SisterGas {
  /** Middle of its newest scans; null: most do not detect it. */
  readonly lnPa: number | null;
  /** Middle of their upper limits, Pa. */
  readonly limitPa: number | null;
  /** Standard deviation of ln P for its analyser's sensitivity and patterns. */
  readonly lasting: number;
  /** ln of now over the chamber's own usual, and half the width of its usual range; null: not learned, or not seen. */
  readonly drift: { readonly ln: number; readonly halfLn: number } | null;
}

export interface Sister {
  readonly id: string;
  readonly gases: ReadonlyMap<string, SisterGas>;
}

export const BEYOND = 3.5;
/** Half of them must be in order for a median to be: with fewer than four beside it that is two chambers or one. */
export const LEAST_SISTERS = 4;
/** A chamber's own baseline is known to 0.05 decade at best (gasBaseline.ts); nothing is compared more closely. */
const LEAST_SIGMA = 0.05 * Math.LN10;

export interface Among {
  /** All in ln: itself, and the ends of the range in which z is within ±3.5. */
  readonly own: number;
  readonly low: number;
  readonly high: number;
  readonly z: number;
}

/** @param least what measuring alone makes of equal chambers, one standard deviation; null: too few to tell */
export function among(own: number, sisters: readonly number[], least: number): Among | null {
  if (sisters.length < LEAST_SISTERS) return null;
  const all = [own, ...sisters];
  const middle = medianOf(all);
  const spread = MAD_TO_SIGMA * medianOf(all.map((value) => Math.abs(value - middle)));
  const sigma = Math.max(spread, least, LEAST_SIGMA);
  return { own, low: middle - BEYOND * sigma, high: middle + BEYOND * sigma, z: (own - middle) / sigma };
}

export type SisterWord = Sisters['gases'][number]['so'];

export interface SisterAnswer {
  readonly gas: string;
  readonly level: Among | null;
  readonly drift: Among | null;
  /** Middle of the sisters without the chamber itself; null: fewer have it than a middle needs. */
  readonly middleLn: number | null;
  readonly middleDriftLn: number | null;
  /** Of `shared`: how many of how many have left their own usual range to the same side. */
  readonly shared: { readonly moved: number; readonly of: number } | null;
  /** Sisters that show it, and those that look for it and do not. */
  readonly seenBy: number;
  readonly unseenBy: number;
  readonly so: SisterWord;
}

const known = (values: readonly (number | null | undefined)[]): number[] =>
  values.filter((value): value is number => value !== null && value !== undefined && Number.isFinite(value));

/** More than half of those that can be judged, this chamber among them, have left their usual range to one side. */
function sharedDrift(own: SisterGas, others: readonly SisterGas[]): SisterAnswer['shared'] {
  const side = ({ drift }: SisterGas): number =>
    drift !== null && Math.abs(drift.ln) > drift.halfLn ? Math.sign(drift.ln) : 0;
  const judged = [own, ...others].filter(({ drift }) => drift !== null);
  const moved = judged.filter((one) => side(one) === side(own)).length;
  return side(own) !== 0 && judged.length > LEAST_SISTERS && moved * 2 > judged.length
    ? { moved, of: judged.length }
    : null;
}

/** Seen here above what its sisters would have seen: most of them do not see it at all. */
function onlyHere(own: SisterGas, others: readonly SisterGas[]): boolean {
  const limits = known(others.filter(({ lnPa }) => lnPa === null).map(({ limitPa }) => limitPa));
  return (
    own.lnPa !== null && limits.length >= LEAST_SISTERS && own.lnPa - 2 * own.lasting > Math.log(Math.max(...limits))
  );
}

const middleOf = (sisters: readonly number[]): number | null =>
  sisters.length < LEAST_SISTERS ? null : medianOf(sisters);

const beyond = (place: Among | null): boolean => place !== null && Math.abs(place.z) > BEYOND;

function wordOf(own: SisterGas, others: readonly SisterGas[], found: Omit<SisterAnswer, 'gas' | 'so'>): SisterWord {
  const { level, drift, shared } = found;
  if (own.lnPa === null && others.every(({ lnPa }) => lnPa === null)) return 'not seen';
  if (beyond(level)) return beyond(drift) ? 'level and drift' : 'level only';
  if (beyond(drift)) return 'drift only';
  if (shared !== null) return 'shared';
  if (level !== null) return 'alike';
  return onlyHere(own, others) ? 'seen only here' : 'too few';
}

/** Gases in the order in which the chamber itself lists them. */
export function amongSisters(self: Sister, sisters: readonly Sister[]): SisterAnswer[] {
  return [...self.gases].map(([gas, own]): SisterAnswer => {
    const others = sisters.flatMap(({ gases }) => gases.get(gas) ?? []);
    const levels = known(others.map(({ lnPa }) => lnPa));
    const drifts = known(others.map(({ drift }) => drift?.ln));
    // What measuring makes of equal chambers: the middle of their analysers' own errors.
    const lasting = medianOf([own, ...others].filter(({ lnPa }) => lnPa !== null).map((one) => one.lasting));
    const found = {
      level: own.lnPa === null ? null : among(own.lnPa, levels, Number.isFinite(lasting) ? lasting : 0),
      drift: own.drift === null ? null : among(own.drift.ln, drifts, 0),
      middleLn: middleOf(levels),
      middleDriftLn: middleOf(drifts),
      shared: sharedDrift(own, others),
      seenBy: levels.length,
      unseenBy: others.length - levels.length,
    };
    return { gas, ...found, so: wordOf(own, others, found) };
  });
}
