/**
 * What a view shows is written in its address, and an address that somebody kept is read with patience: unknown
 * fields are ignored, nonsense falls back to the default, defaults are left out.
 */
export interface Field<T> {
  readonly read: (text: string | null) => T;
  /** Null: the default, which an address does not hold. */
  readonly write: (value: T) => string | null;
}
export type Codec<T> = { readonly [K in keyof T]: Field<T[K]> };

export const textField = (longest = 200): Field<string> => ({
  read: (text) => (text ?? '').slice(0, longest),
  write: (value) => (value === '' ? null : value),
});

export const choiceField = <const W extends string>(words: readonly W[], fallback: NoInfer<W>): Field<W> => ({
  read: (text) => words.find((word) => word === text) ?? fallback,
  write: (value) => (value === fallback ? null : value),
});

/** A list of plain words, parted by commas; order is kept, repeats are dropped. */
export const listField = (most: number): Field<readonly string[]> => ({
  read: (text) => [...new Set((text ?? '').split(',').filter((word) => word !== ''))].slice(0, most),
  write: (value) => (value.length === 0 ? null : value.join(',')),
});

/** An instant to the second, as RFC 3339; null when it is not set. */
export const instantField: Field<number | null> = {
  read: (text) => {
    const ms = text === null ? Number.NaN : Date.parse(text);
    return Number.isNaN(ms) ? null : Math.floor(ms / 1000) * 1000;
  },
  write: (value) =>
    value === null ? null : new Date(Math.floor(value / 1000) * 1000).toISOString().replace('.000Z', 'Z'),
};

export function readAddress<T>(codec: Codec<T>, search: string): T {
  const params = new URLSearchParams(search);
  const entries = (Object.keys(codec) as (keyof T & string)[]).map((name) => [
    name,
    codec[name].read(params.get(name)),
  ]);
  return Object.fromEntries(entries) as T;
}

/** The part after `?`, without it; fields in the codec's order, so that the same view has the same address. */
export function writeAddress<T>(codec: Codec<T>, value: T): string {
  const params = new URLSearchParams();
  for (const name of Object.keys(codec) as (keyof T & string)[]) {
    const text = codec[name].write(value[name]);
    if (text !== null) params.set(name, text);
  }
  return params.toString();
}
