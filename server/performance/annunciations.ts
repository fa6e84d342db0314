/**
 * Calls to a person, in time: per day, per ten minutes, and in floods. The measures and their bounds are those of
 * ISA-18.2 / IEC 62682; ten-minute periods stand on the clock, as the standards count them.
 */
import type { Priority, Signature } from '../../shared/contract/words.ts';
import { floods } from '../../shared/watch/floods.ts';

export const TEN_MINUTES_MS = 600_000;
export const DAY_MS = 86_400_000;
/** A ten-minute period with more calls than this is crowded (ISA-18.2). */
export const CROWDED_ABOVE = 10;

/** One call: an alert that became unacknowledged by itself. */
export interface Annunciation {
  readonly atMs: number;
  readonly alert: string;
  readonly chamber: string;
  readonly signature: Signature;
  readonly priority: Priority;
}

export interface Period {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Calls of one group that came with its beginning are one call: the first. */
export function countedOnce(
  calls: readonly (Annunciation & { readonly first: boolean })[],
  groupOf: ReadonlyMap<string, string>,
): Annunciation[] {
  const told = new Set<string>();
  return calls.filter(({ alert, first }) => {
    const group = groupOf.get(alert);
    if (group === undefined || !first) return true;
    if (told.has(group)) return false;
    told.add(group);
    return true;
  });
}

/** Calls per ten-minute period of the clock; periods without any are not in the map. */
export function perTenMinutes(calls: readonly Annunciation[]): Map<number, Annunciation[]> {
  const out = new Map<number, Annunciation[]>();
  for (const call of calls) {
    const period = Math.floor(call.atMs / TEN_MINUTES_MS);
    const there = out.get(period);
    if (there) there.push(call);
    else out.set(period, [call]);
  }
  return out;
}

export const periodsIn = ({ fromMs, toMs }: Period): number =>
  Math.max(1, Math.ceil(toMs / TEN_MINUTES_MS) - Math.floor(fromMs / TEN_MINUTES_MS));

export interface Flood extends Period {
  readonly annunciations: number;
  readonly chambers: number;
}

/** @param calls in time order */
export const floodsOf = (calls: readonly Annunciation[]): Flood[] =>
  floods(calls.map((call) => ({ ...call, open: false }))).map(({ fromMs, toMs, chambers }) => ({
    fromMs,
    toMs,
    annunciations: calls.filter(({ atMs }) => atMs >= fromMs && atMs < toMs).length,
    chambers: chambers.length,
  }));

/** One entry per local day of the span, days without calls included. `dayOf` names the local day of an instant. */
export function perDay(calls: readonly Annunciation[], { fromMs, toMs }: Period, dayOf: (atMs: number) => string) {
  const days = new Map<string, number>();
  for (let at = fromMs; at < toMs; at += DAY_MS / 4) days.set(dayOf(at), 0);
  for (const { atMs } of calls) days.set(dayOf(atMs), (days.get(dayOf(atMs)) ?? 0) + 1);
  return [...days].sort(([a], [b]) => (a < b ? -1 : 1)).map(([day, annunciations]) => ({ day, annunciations }));
}

/** What calls most, by chamber and signature. */
export function topOf(calls: readonly Annunciation[], most: number) {
  const counts = new Map<string, { chamber: string; signature: Signature; annunciations: number }>();
  for (const { chamber, signature } of calls) {
    const key = `${chamber}\n${signature}`;
    const known = counts.get(key) ?? { chamber, signature, annunciations: 0 };
    known.annunciations++;
    counts.set(key, known);
  }
  return [...counts.values()]
    .sort((a, b) => b.annunciations - a.annunciations || (a.chamber < b.chamber ? -1 : 1))
    .slice(0, most)
    .map((entry) => ({ ...entry, share: entry.annunciations / calls.length }));
}
