/**
 * What declared states have let in here, as a spectrum above base with its level and for how long. A gateway that forgets
 * to send a state is known by it: the same gas comes again at about the same level, and goes again in about the same time.
 */
import { isSameList } from './channels.ts';
import { likeness, looksLikeAir } from './likeness.ts';
import type { Vector } from './memory.ts';
import type { LetIn } from './stateMemory.ts';

const SAME_DIRECTION = 0.98;
/** Two of one recipe; what may still be told by a known one; the same flow going on. */
const SAME_LEVEL = Math.log(1.35);
const LEVEL_ROOM = Math.log(3);
const GOING_ON = Math.log(2);
/** How much longer than any declared one a visit may last; visits of a few scans tell no length. */
const LENGTH_ROOM = 2;
const LEAST_LONGEST_SECONDS = 1800;
const MOST_KEPT = 10;
/** Scans after which a spectrum follows as a running mean. */
const MEAN_SCANS = 20;

/** What one scan shows above base. */
export interface Excess {
  readonly masses: Vector;
  /** NaN: not measured. */
  readonly excess: Float64Array;
}

export interface DeclaredScan extends Excess {
  readonly state: string;
  /** Since the state began. */
  readonly seconds: number;
  readonly atMs: number;
}

const isOn = (masses: Vector, { masses: other }: LetIn): boolean => isSameList(masses, other);

/** One scan of a declared state, once the flow stands. */
export function rememberLetIn(known: readonly LetIn[], scan: DeclaredScan): readonly LetIn[] {
  const { state, masses, excess, seconds, atMs } = scan;
  const same = known.find((one) => {
    if (one.state !== state || !isOn(masses, one)) return false;
    const { cosine, ratio } = likeness(excess, one.excess);
    return cosine > SAME_DIRECTION && Math.abs(Math.log(ratio)) < SAME_LEVEL;
  });
  const share = 1 / (Math.min(same?.scans ?? 0, MEAN_SCANS) + 1);
  const mean = Array.from(excess, (value, m) => {
    const before = same?.excess[m] ?? 0;
    return Number.isFinite(value) ? before + share * (value - before) : before;
  });
  const now: LetIn = {
    state,
    masses,
    excess: mean,
    scans: (same?.scans ?? 0) + 1,
    seconds: Math.max(seconds, same?.seconds ?? 0),
    usedAtMs: atMs,
  };
  return [now, ...known.filter((one) => one !== same)].slice(0, MOST_KEPT);
}

/** The known one that this looks like most; null: none, or it is air that none of them let in. */
export function likeLetIn(known: readonly LetIn[], seen: Excess, gases: readonly string[]): LetIn | null {
  let best: LetIn | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const one of known) {
    if (!isOn(seen.masses, one)) continue;
    const { cosine, ratio } = likeness(seen.excess, one.excess);
    const level = Math.abs(Math.log(ratio));
    if (!(cosine > SAME_DIRECTION && level < LEVEL_ROOM)) continue;
    const distance = (1 - cosine) / (1 - SAME_DIRECTION) + level / LEVEL_ROOM;
    if (distance >= least) continue;
    const foretold = one.excess.map((value) => value * ratio);
    if (looksLikeAir({ ...seen, gases, foretold })) continue;
    best = one;
    least = distance;
  }
  return best;
}

/** At the level of this known one: the same flow, or the next step of a recipe. */
export const standsAt = (one: LetIn, excess: ArrayLike<number>): boolean =>
  Math.abs(Math.log(likeness(excess, one.excess).ratio)) < SAME_LEVEL;

/** The state has just been withdrawn, and what it let in is still there. */
export function goesOn(known: readonly LetIn[], seen: Excess, state: string, lastAtMs: number | null): boolean {
  const [latest] = known;
  if (!latest || latest.usedAtMs !== lastAtMs || latest.state !== state || !isOn(seen.masses, latest)) return false;
  const { cosine, ratio } = likeness(seen.excess, latest.excess);
  return cosine > SAME_DIRECTION && Math.abs(Math.log(ratio)) < GOING_ON;
}

/** What comes by habit has gone by then; null: no such state was ever declared. Gas-on and plasma are one habit. */
export function longestOf(known: readonly LetIn[], state: string): number | null {
  const kin = known.filter((one) => (one.state === 'transfer') === (state === 'transfer'));
  if (kin.length === 0) return null;
  return Math.max(LEAST_LONGEST_SECONDS, ...kin.map(({ seconds }) => LENGTH_ROOM * seconds));
}

/** The most of one flow that was ever declared; null: none was. */
export const highestOf = (known: readonly LetIn[]): number | null =>
  known.length === 0 ? null : Math.max(...known.map(({ excess }) => totalExcess(excess)));

export function totalExcess(excess: ArrayLike<number>): number {
  let sum = 0;
  for (let m = 1; m < excess.length; m++) if (excess[m]! > 0) sum += excess[m]!;
  return sum;
}
