import type { OperatingState } from '../../../shared/contract/words.ts';
import type { Cycle } from '../plant.ts';

const MINUTE_MS = 60_000;

/** A state that was or will be declared once, from and to. */
export interface Span {
  readonly state: OperatingState;
  readonly fromMs: number;
  readonly toMs: number;
}

/** A time with the chamber open, until the pumps have it again. */
export interface Vent {
  readonly fromMs: number;
  readonly toMs: number;
  /** 1: open for long in room air; less for a short vent with dry gas. */
  readonly wetness: number;
  /** Air that is left when the high-vacuum pump takes over, Pa. */
  readonly roughPa: number;
}

export interface CycleMoment {
  readonly on: boolean;
  /** Since it last came on, or since it last went off. */
  readonly seconds: number;
  /** How long it had been on when it went off. */
  readonly lastedSeconds: number;
}

export function cycleAt(cycle: Cycle, atMs: number): CycleMoment {
  const minutes = atMs / MINUTE_MS - cycle.startMinute;
  const into = minutes - Math.floor(minutes / cycle.everyMinutes) * cycle.everyMinutes;
  const on = into < cycle.lastsMinutes;
  return {
    on,
    seconds: (on ? into : into - cycle.lastsMinutes) * 60,
    lastedSeconds: cycle.lastsMinutes * 60,
  };
}

/** A declared span goes before the daily cycles; without either the chamber is at base. */
export function stateAt(spans: readonly Span[], cycles: readonly Cycle[], atMs: number): OperatingState {
  const span = spans.find(({ fromMs, toMs }) => atMs >= fromMs && atMs < toMs);
  if (span) return span.state;
  return cycles.find((cycle) => cycleAt(cycle, atMs).on)?.state ?? 'base';
}
