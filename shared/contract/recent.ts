/**
 * The last things that were told, each with its place in the stream, so that whoever was away hears what they missed.
 * Places are opaque: another run of the server has others. Kept by the server for its readers, and by the browser's
 * one stream for the pages that join it.
 */
export interface Recent<T> {
  readonly add: (place: string, item: T) => void;
  /** What lies before this place can no longer be told. */
  readonly startAt: (place: string) => void;
  /** Where the stream is now. */
  readonly place: () => string;
  /** What was told after a place, oldest first; null: not all of it is known, so that everything is to be read again. */
  readonly after: (place: string | null) => readonly T[] | null;
}

/** @param most how many are kept */
export function keepRecent<T>(start: string, most: number): Recent<T> {
  let before = start;
  let told: { readonly place: string; readonly item: T }[] = [];
  return {
    add: (place, item) => {
      told.push({ place, item });
      if (told.length > most) before = told.shift()?.place ?? before;
    },
    startAt: (place) => {
      before = place;
      told = [];
    },
    place: () => told.at(-1)?.place ?? before,
    after: (place) => {
      const at = place === before ? 0 : told.findIndex((one) => one.place === place) + 1;
      if (place !== before && at === 0) return null;
      return told.slice(at).map(({ item }) => item);
    },
  };
}
