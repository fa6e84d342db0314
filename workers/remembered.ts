/** Small things kept between batches, so that a steady chamber costs no reading and unpacking. Bounded. */
import type { InstrumentMemory } from '../shared/analysis/types.ts';
import type { WatchMemory } from '../shared/watch/types.ts';

/** What is remembered of an analyser, as this process last wrote it. */
export interface Remembered {
  readonly memory: WatchMemory;
  readonly instrument: InstrumentMemory | null;
  readonly version: number;
}

export interface RecentlyUsed<K, V> {
  readonly get: (key: K) => V | undefined;
  readonly set: (key: K, value: V) => void;
  /** Gives and forgets: for a value that its taker may change. */
  readonly take: (key: K) => V | undefined;
}

/** A map that forgets what was not used for longest. */
export const recentlyUsed = <K, V>(most: number): RecentlyUsed<K, V> => {
  const entries = new Map<K, V>();
  const take = (key: K) => {
    const value = entries.get(key);
    entries.delete(key);
    return value;
  };
  const set = (key: K, value: V) => {
    entries.delete(key);
    entries.set(key, value);
    if (entries.size > most) entries.delete(entries.keys().next().value as K);
  };
  const get = (key: K) => {
    const value = take(key);
    if (value !== undefined) entries.set(key, value);
    return value;
  };
  return { get, set, take };
};
