/**
 * Visits that nobody has announced, known by what came: the spectrum above base at its height, its level and how long it
 * stayed. What has come and gone alike for some times is a habit of the chamber; the first times are called, as they must be.
 */
import { isSameList } from './channels.ts';
import { likeness, looksLikeAir } from './likeness.ts';
import type { Standing, Vector } from './memory.ts';
import { VAPOUR_SIGNATURES } from './nullModel.ts';
import type { Episode, Episodes, VisitShape } from './stateMemory.ts';

/** Visits that make a habit, and how far the next may be from the level and the length of those. */
const HABIT_VISITS = 3;
const LEVEL_ROOM = Math.log(3);
const LENGTH_ROOM = 2;
/** Same mixture; flows repeat within a few per cent, and a scan may catch a valve half-way. */
const SAME_DIRECTION = 0.98;
const STILL_DIRECTION = 0.95;
/** A visit of less than this is a pulse (our choice). */
const LEAST_SECONDS = 120;
const MOST_KEPT = 10;
/** What has not gone by then has come to stay. */
export const LONGEST_VISIT_SECONDS = 3 * 3600;

/** What one scan shows above base; NaN: not measured. */
export interface Above {
  readonly masses: Vector;
  readonly above: ArrayLike<number>;
}

export interface Visited {
  readonly masses: Vector;
  readonly excess: Vector;
  readonly atMs: number;
  readonly seconds: number;
}

/** One visit that came and went. */
export function rememberVisitShape(known: readonly VisitShape[], visited: Visited): readonly VisitShape[] {
  const { masses, excess, atMs, seconds } = visited;
  if (seconds < LEAST_SECONDS) return known;
  const same = alike(known, { masses, above: excess }, SAME_DIRECTION);
  const now: VisitShape = {
    masses,
    excess,
    visits: (same?.visits ?? 0) + 1,
    seconds: Math.max(seconds, same?.seconds ?? 0),
    usedAtMs: atMs,
  };
  return [now, ...known.filter((one) => one !== same)].slice(0, MOST_KEPT);
}

/** The spectrum of a visit, where it stood highest so far. */
export function higherShape(
  before: Episode['shape'],
  { masses, above, total }: Above & { readonly total: number },
): NonNullable<Episode['shape']> {
  if (before && before.total > total) return before;
  return { masses, excess: Array.from(above, (value) => (Number.isFinite(value) ? value : 0)), total };
}

/** A visit is over: what it was is remembered, by its gas or by its spectrum. */
export function leftBehind(
  { habits, shapes = [] }: Episodes,
  { gas, by, atMs, level, longestSeconds, shape, unwanted }: Episode,
  endMs: number,
): Pick<Episodes, 'habits' | 'shapes'> {
  const seconds = (endMs - atMs) / 1000;
  // A fault that was repaired is no habit, nor is a single scan a visit.
  if (seconds <= 0 || seconds > Math.min(longestSeconds, LONGEST_VISIT_SECONDS)) return { habits };
  if (shape && !unwanted && (by === undefined || by === 'shape')) {
    const { masses, excess } = shape;
    return { habits, shapes: rememberVisitShape(shapes, { masses, excess, atMs: endMs, seconds }) };
  }
  if (by !== 'habit') return { habits };
  const before = habits[gas];
  const now = { visits: (before?.visits ?? 0) + 1, level, seconds: Math.max(seconds, before?.seconds ?? 0) };
  return { habits: { ...habits, [gas]: now } };
}

/** The habit that this is; null: none. Air is none, however often it came. */
export function habitualShape(known: readonly VisitShape[], seen: Above, gases: readonly string[]): VisitShape | null {
  const one = alike(
    known.filter(({ visits }) => visits >= HABIT_VISITS),
    seen,
    SAME_DIRECTION,
  );
  if (!one) return null;
  return looksLikeAir({ masses: seen.masses, excess: seen.above, gases, foretold: null }) ? null : one;
}

/** It still is what it was told to be. */
export const isStillShape = (shape: Vector, above: ArrayLike<number>): boolean => {
  const { cosine, ratio } = likeness(above, shape);
  return cosine > STILL_DIRECTION && Math.log(ratio) < LEVEL_ROOM;
};

/** Whatever its level. */
export const isOtherMixture = (shape: Episode['shape'], above: ArrayLike<number>): boolean =>
  shape !== undefined && likeness(above, shape.excess).cosine <= STILL_DIRECTION;

export const longestOfShape = ({ seconds }: VisitShape): number => LENGTH_ROOM * seconds;

/**
 * Oil, its kin and solvents are no visitors, though they come in bursts with every turn of a valve: what was called one of
 * them since then is not remembered.
 */
export const isUnwanted = (standing: readonly Standing[], sinceMs: number): boolean =>
  standing.some(({ signature, raisedAtMs }) => raisedAtMs >= sinceMs && VAPOUR_SIGNATURES.has(signature));

function alike(known: readonly VisitShape[], { masses, above }: Above, direction: number): VisitShape | null {
  let best: VisitShape | null = null;
  let closest = direction;
  for (const one of known) {
    if (!isSameList(masses, one.masses)) continue;
    const { cosine, ratio } = likeness(above, one.excess);
    if (!(cosine > closest && Math.abs(Math.log(ratio)) < LEVEL_ROOM)) continue;
    best = one;
    closest = cosine;
  }
  return best;
}
