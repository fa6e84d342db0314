/**
 * What lies over the calling state of an alert and keeps it from calling anybody: shelving, suppression by design, a
 * break of service. They are independent of each other; the state of the alert says the first that is on.
 */
import type { AlertState } from '../contract/words.ts';
import type { AlertLife, CallingState, Move, MoveResult } from './lifecycle.ts';

const DAY_MS = 86_400_000;
/** A day has every shift in it: what is put away for longer is out of service, and that is an engineer's decision. */
export const LONGEST_SHELVING_MS = DAY_MS;
export const LONGEST_BREAK_MS = 90 * DAY_MS;

interface Until {
  readonly atMs: number;
  readonly untilMs: number;
  readonly reason: string;
}

export const refuse = (reason: string): MoveResult => ({ ok: false, reason });
export const instant = (atMs: number): string => new Date(atMs).toISOString();

/** Rows of before the holds could be told apart name no state under them. */
export function underHolds({ state, stateBefore, active, acknowledged }: AlertLife): CallingState {
  if (stateBefore !== null) return stateBefore;
  if (state === 'unacknowledged' || state === 'acknowledged' || state === 'returned-unacknowledged') return state;
  if (acknowledged) return 'acknowledged';
  return active ? 'unacknowledged' : 'returned-unacknowledged';
}

const heldAs = (alert: Pick<AlertLife, 'outOfService' | 'suppressed' | 'shelved'>): AlertState | null => {
  if (alert.outOfService) return 'out-of-service';
  if (alert.suppressed) return 'suppressed';
  return alert.shelved ? 'shelved' : null;
};

/** The alert with a change and its calling state, and the state that follows from both. */
export function settle(
  before: AlertLife,
  change: Partial<AlertLife>,
  under: CallingState = underHolds(before),
): MoveResult {
  const alert = { ...before, ...change };
  const held = heldAs(alert);
  const over = under === 'acknowledged' && !alert.active && !alert.latching;
  const to = held ?? (over ? 'normal' : under);
  return { ok: true, alert: { ...alert, state: to, stateBefore: held ? under : null }, from: before.state, to };
}

/** An alert with what already lies over it in its first moment; nobody has been called. */
export function raisedUnder(alert: AlertLife, holds: Pick<AlertLife, 'suppressed' | 'outOfService'>): AlertLife {
  const held = { ...alert, ...holds };
  const state = heldAs(held);
  return state === null ? held : { ...held, state, stateBefore: underHolds(alert) };
}

export function whyHeld({ outOfService, suppressed, shelved }: AlertLife): string | null {
  if (outOfService) {
    return `already taken out of service by ${outOfService.by} until ${instant(outOfService.untilMs)} (${outOfService.reason})`;
  }
  if (suppressed) return `suppressed by design since ${instant(suppressed.sinceMs)} (${suppressed.reason})`;
  return shelved ? `already shelved until ${instant(shelved.untilMs)} (${shelved.reason})` : null;
}

function whyNotUntil({ atMs, untilMs, reason }: Until, what: string, longestMs: number): string | null {
  if (!(untilMs > atMs)) return `${what} must end in the future`;
  if (untilMs - atMs > longestMs) {
    return `${what} lasts ${longestMs === LONGEST_SHELVING_MS ? '24 hours' : `${longestMs / DAY_MS} days`} at most`;
  }
  return reason.trim() === '' ? `${what} needs a reason` : null;
}

export function shelve(alert: AlertLife, move: Move<'shelve'>): MoveResult {
  const why = whyHeld(alert) ?? whyNotUntil(move, 'shelving', LONGEST_SHELVING_MS);
  if (why !== null) return refuse(why);
  const { untilMs, reason } = move;
  return settle(alert, { shelved: { untilMs, reason }, shelvings: alert.shelvings + 1 });
}

export function unshelve(alert: AlertLife, { by, atMs }: Move<'unshelve'>): MoveResult {
  const { shelved, active } = alert;
  if (!shelved) return refuse(`not shelved: it is ${alert.state}`);
  if (by === null && atMs < shelved.untilMs) return refuse(`shelved until ${instant(shelved.untilMs)}`);
  // What was acknowledged before it was put away must be looked at again if it still stands.
  if (active) return settle(alert, { shelved: null, acknowledged: null }, 'unacknowledged');
  return settle(alert, { shelved: null });
}

export function suppress(alert: AlertLife, { atMs, reason }: Move<'suppress'>): MoveResult {
  if (alert.suppressed) return refuse(whyHeld({ ...alert, outOfService: null }) ?? '');
  // What has returned only waits to be seen: a state of the chamber changes nothing about that.
  if (!alert.active) return refuse(`the condition returned at ${instant(alert.returnedAtMs ?? alert.raisedAtMs)}`);
  return settle(alert, { suppressed: { sinceMs: atMs, reason } });
}

export function unsuppress(alert: AlertLife): MoveResult {
  if (!alert.suppressed) return refuse(`not suppressed: it is ${alert.state}`);
  return settle(alert, { suppressed: null });
}

export function takeOut(alert: AlertLife, move: Move<'out-of-service'>): MoveResult {
  const first = alert.outOfService ? whyHeld(alert) : null;
  const why = first ?? whyNotUntil(move, 'a break of service', LONGEST_BREAK_MS);
  if (why !== null) return refuse(why);
  const { by, untilMs, reason } = move;
  return settle(alert, { outOfService: { by, untilMs, reason } });
}

export function takeBack(alert: AlertLife, { by, atMs }: Move<'return-to-service'>): MoveResult {
  const { outOfService } = alert;
  if (!outOfService) return refuse(`not out of service: it is ${alert.state}`);
  if (by === null && atMs < outOfService.untilMs)
    return refuse(`out of service until ${instant(outOfService.untilMs)}`);
  return settle(alert, { outOfService: null });
}
