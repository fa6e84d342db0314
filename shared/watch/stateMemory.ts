/** What the watch remembers of operating states beside their baselines. Plain JSON; vectors are replaced, never changed. */
import type { Baseline, Vector } from './memory.ts';

/** Largest spectrum of a short state, on the masses of base. */
export interface Visit {
  readonly masses: Vector;
  readonly highest: Vector;
}

/** A plain gas that came in within one scan, while no state was sent. */
export interface Episode {
  readonly gas: string;
  /** When it came, and to which total over the usual. */
  readonly atMs: number;
  readonly level: number;
  /** A gas of the chamber's list. */
  readonly listed: boolean;
  /** The state that it is judged as; null: as what was sent. */
  readonly state: string | null;
  /** What stays longer is no visit. */
  readonly longestSeconds: number;
}

export interface Episodes {
  readonly running: Episode | null;
  /** Total over the usual in the scan before; null: none. */
  readonly total: number | null;
  /** What has come and gone before. */
  readonly habits: Readonly<
    Record<string, { readonly visits: number; readonly level: number; readonly seconds: number }>
  >;
}

/** What is usual with one recipe of a state that lets gas in. */
export interface Recipe {
  readonly baseline: Baseline;
  readonly usedAtMs: number;
}

export interface StateBook {
  /** Ids of the pinned baselines that were adopted or refused, oldest first. */
  readonly pins: readonly string[];
  /** What the chamber's short states let in. */
  readonly habit: Visit | null;
  readonly episodes: Episodes;
  /** Recipes that are not in use, per state; the one in use is the state's baseline. */
  readonly recipes: Readonly<Record<string, readonly Recipe[]>>;
  /** The visit whose recipe is being told: since when, scans so far (−1: it is told), level of the last. */
  readonly telling: { readonly sinceMs: number; readonly scans: number; readonly level: number | null };
}

export const emptyEpisodes = (): Episodes => ({ running: null, total: null, habits: {} });

export const emptyStateBook = (): StateBook => ({
  pins: [],
  habit: null,
  episodes: emptyEpisodes(),
  recipes: {},
  telling: { sinceMs: 0, scans: 0, level: null },
});

/** Memories of before hold less: what is missing is empty. */
export const copyStateBook = (book: StateBook | undefined): StateBook => ({ ...emptyStateBook(), ...book });
