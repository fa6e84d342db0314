/** What the watch remembers of operating states beside their baselines. Plain JSON; vectors are replaced, never changed. */
import type { Baseline, Vector } from './memory.ts';

/** Largest spectrum of a short state, on the masses of base. */
export interface Visit {
  readonly masses: Vector;
  readonly highest: Vector;
}

/** What comes in while no state is sent is told by: the chamber's list, what declared states let in, or its own habit. */
export type EpisodeBy = 'list' | 'declared' | 'late' | 'habit' | 'shape';

/** Gas that came in within one scan, while no state was sent. */
export interface Episode {
  /** That makes most of it. */
  readonly gas: string;
  /** When it came, and to which total over the usual. */
  readonly atMs: number;
  readonly level: number;
  /** How it was told; absent: it was not. */
  readonly by?: EpisodeBy;
  /** The state that it is judged as; null: as what was sent. */
  readonly state: string | null;
  /** What stays longer is no visit. */
  readonly longestSeconds: number;
  /** Since when it is no longer what it was told by; absent: it is. */
  readonly unlikeSinceMs?: number;
  /** Its spectrum above base where it stood highest; absent where a gas of its own names it. */
  readonly shape?: { readonly masses: Vector; readonly excess: Vector; readonly total: number };
  /** It was called something that no visit is. */
  readonly unwanted?: boolean;
}

/** A visit that has come and gone, known by its spectrum (visitShapes.ts). */
export interface VisitShape {
  readonly masses: Vector;
  /** Above base where it stood highest, N2-equivalent Pa per channel. */
  readonly excess: Vector;
  readonly visits: number;
  /** The longest of them. */
  readonly seconds: number;
  readonly usedAtMs: number;
}

export interface Episodes {
  readonly running: Episode | null;
  /** Lowest total over the usual in the last minute, at least of the scan before; null: none. */
  readonly total: number | null;
  readonly totalAtMs?: number;
  /** What has come and gone before. */
  readonly habits: Readonly<
    Record<string, { readonly visits: number; readonly level: number; readonly seconds: number }>
  >;
  /** The same by spectrum, latest first; absent: none. */
  readonly shapes?: readonly VisitShape[];
}

/** What a declared state has let in, once it stood. */
export interface LetIn {
  readonly state: string;
  readonly masses: Vector;
  /** Above base, N2-equivalent Pa per channel. */
  readonly excess: Vector;
  readonly scans: number;
  /** How long after the state began it was still there, s. */
  readonly seconds: number;
  readonly usedAtMs: number;
}

/** What is usual with one recipe of a state that lets gas in. */
export interface Recipe {
  readonly baseline: Baseline;
  readonly usedAtMs: number;
}

/** How much of what a short state let in is usually left when base is judged again (usualTail.ts). */
export interface UsualTail {
  readonly masses: Vector;
  /** After the state, at the latest. */
  readonly seconds: number;
  /** Per channel: visits after which it fell; the largest share of them; and what of that was left an hour later. Below zero: not known. */
  readonly visits: Vector;
  readonly ratios: Vector;
  readonly lefts: Vector;
}

export interface StateBook {
  /** Ids of the pinned baselines that were adopted or refused, oldest first. */
  readonly pins: readonly string[];
  /** What the chamber's short states let in. */
  readonly habit: Visit | null;
  readonly episodes: Episodes;
  /** What declared states have let in, latest first. */
  readonly letIn: readonly LetIn[];
  /** Recipes that are not in use, per state; the one in use is the state's baseline. */
  readonly recipes: Readonly<Record<string, readonly Recipe[]>>;
  readonly tails: Readonly<Record<string, UsualTail>>;
  /** The visit whose recipe is being told: since when, scans so far (−1: it is told), level of the last. */
  readonly telling: { readonly sinceMs: number; readonly scans: number; readonly level: number | null };
}

export const emptyEpisodes = (): Episodes => ({ running: null, total: null, habits: {} });

export const emptyStateBook = (): StateBook => ({
  pins: [],
  habit: null,
  episodes: emptyEpisodes(),
  letIn: [],
  recipes: {},
  tails: {},
  telling: { sinceMs: 0, scans: 0, level: null },
});

/** Memories of before hold less: what is missing is empty. */
export const copyStateBook = (book: StateBook | undefined): StateBook => ({ ...emptyStateBook(), ...book });
