/** Alerts that cost attention without asking for a response: those that chatter, those that pass, those that stay. */
import type { Annunciation } from './annunciations.ts';

/** Three calls of one alert within a minute are chattering (usual reading of ISA-18.2; from memory). */
export const CHATTER = { times: 3, withinMs: 60_000 } as const;
/**
 * Scans come minutes apart, so an alert can swing without ever calling thrice a minute: four calls within eight hours
 * (our choice: more than a person can respond to within a shift) are chattering too.
 */
export const SLOW_CHATTER = { times: 4, withinMs: 8 * 3_600_000 } as const;
/** Gone before a person could act: our choice, the shortest time to respond of any record. */
export const FLEETING_MS = 5 * 60_000;
/** Standing for longer than a day (ISA-18.2: stale). */
export const STALE_MS = 24 * 3_600_000;

export interface Chatter {
  readonly alert: string;
  readonly times: number;
  readonly withinMs: number;
}

/** The densest run of calls of each alert that chatters. Calls of one chamber and signature count together. */
export function chatteringOf(calls: readonly Annunciation[]): Chatter[] {
  const series = new Map<string, Annunciation[]>();
  for (const call of calls) {
    const key = `${call.chamber}\n${call.signature}`;
    series.set(key, [...(series.get(key) ?? []), call]);
  }
  return [...series.values()].flatMap((of) => {
    const sorted = [...of].sort((a, b) => a.atMs - b.atMs);
    return densest(sorted, CHATTER) ?? densest(sorted, SLOW_CHATTER) ?? [];
  });
}

function densest(sorted: readonly Annunciation[], rule: { times: number; withinMs: number }): Chatter | null {
  let best: Chatter | null = null;
  let first = 0;
  for (let last = 0; last < sorted.length; last++) {
    while (sorted[last]!.atMs - sorted[first]!.atMs > rule.withinMs) first++;
    const times = last - first + 1;
    if (times < rule.times || times <= (best?.times ?? 0)) continue;
    best = { alert: sorted[last]!.alert, times, withinMs: sorted[last]!.atMs - sorted[first]!.atMs };
  }
  return best;
}

/** How an alert stood: between its call and its return, and whether a person had moved it meanwhile. */
export interface Stood {
  readonly alert: string;
  readonly calledAtMs: number;
  /** Null: it stands. */
  readonly returnedAtMs: number | null;
  readonly touched: boolean;
}

export const fleetingOf = (stood: readonly Stood[]): { alert: string; stoodMs: number }[] =>
  stood.flatMap(({ alert, calledAtMs, returnedAtMs, touched }) =>
    returnedAtMs !== null && !touched && returnedAtMs - calledAtMs < FLEETING_MS
      ? [{ alert, stoodMs: returnedAtMs - calledAtMs }]
      : [],
  );

/** Those that stand now. */
export const staleOf = (stood: readonly Stood[], nowMs: number): { alert: string; stoodMs: number }[] =>
  stood.flatMap(({ alert, calledAtMs, returnedAtMs }) =>
    returnedAtMs === null && nowMs - calledAtMs > STALE_MS ? [{ alert, stoodMs: nowMs - calledAtMs }] : [],
  );
