/**
 * Alarm floods. One begins when more than ten alerts call within ten minutes, more than a person can answer, and ends when
 * fewer than five do (ISA-18.2, alarm flood; the same ten in ten minutes: HSE information sheet CHIS6).
 */
import { PRIORITIES, type Priority } from '../contract/words.ts';
import type { FoundGroup } from './groups.ts';
import { duration } from './wording.ts';

export const FLOOD_WINDOW_MS = 10 * 60_000;
const STARTS_ABOVE = 10;
const ENDS_BELOW = 5;

/** An alert that calls a person: raised, raised again, or asking again. */
export interface Call {
  readonly alert: string;
  readonly chamber: string;
  readonly priority: Priority;
  readonly atMs: number;
  /** The alert still needs a person. */
  readonly open: boolean;
}

/** When the window holds fewer than five of the calls up to here: as the fifth from the end leaves it. */
const driedUpAtMs = (calls: readonly Call[]): number => {
  const fifth = calls.at(-ENDS_BELOW);
  return fifth ? fifth.atMs + FLOOD_WINDOW_MS : Number.NEGATIVE_INFINITY;
};

export function floods(calls: readonly Call[]): FoundGroup[] {
  const found: FoundGroup[] = [];
  let window: Call[] = [];
  let flood: Call[] | null = null;
  for (const call of [...calls].sort((a, b) => a.atMs - b.atMs || (a.alert < b.alert ? -1 : 1))) {
    if (flood && call.atMs >= driedUpAtMs(flood)) {
      found.push(floodOf(flood));
      flood = null;
    }
    if (flood) {
      flood.push(call);
      continue;
    }
    window = [...window.filter(({ atMs }) => atMs > call.atMs - FLOOD_WINDOW_MS), call];
    if (window.length <= STARTS_ABOVE) continue;
    flood = window;
    window = [];
  }
  return flood ? [...found, floodOf(flood)] : found;
}

function floodOf(calls: readonly Call[]): FoundGroup {
  const fromMs = (calls[0] as Call).atMs;
  const toMs = driedUpAtMs(calls);
  const byAlert = new Map(calls.map((call) => [call.alert, call]));
  const chambers = [...new Set(calls.map(({ chamber }) => chamber))];
  const where = `${chambers.length} chamber${chambers.length === 1 ? '' : 's'}`;
  return {
    id: `flood-${fromMs.toString(36)}`,
    kind: 'flood',
    signature: null,
    priority: PRIORITIES.find((word) => calls.some(({ priority }) => priority === word)) ?? 'low',
    fromMs,
    toMs,
    shared: [],
    alerts: [...byAlert.keys()],
    chambers,
    open: [...byAlert.values()].filter(({ open }) => open).length,
    summary: `A flood: ${calls.length} calls within ${duration((toMs - fromMs) / 1000)} in ${where}, more than a person can answer.`,
    firstStep:
      'First take the high ones; then look for what all of them share: power, network, cooling water, the temperature of the hall.',
  };
}
