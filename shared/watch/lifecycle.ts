/**
 * The life of one alert: which moves are legal, and what they do. States and their words: ISA-18.2 / IEC 62682.
 *
 *   raise ─► unacknowledged ── acknowledge ─► acknowledged ── return ─► normal
 *                 │  ▲                             (over)
 *          return │  │ re-raise
 *                 ▼  │
 *        returned-unacknowledged ── acknowledge ─► normal
 *
 *   shelve:   from any of the three open states, for seven days at most; the condition is followed underneath.
 *   unshelve: by a person or when the time is up ─► unacknowledged if the condition stands; else over if it had been
 *             acknowledged before it was shelved, or returned-unacknowledged.
 *   close:    from every open state ─► normal, with a cause.
 *
 * Acknowledging never ends a condition; only its return or a person who names the cause does.
 */
import type { AlertState } from '../contract/words.ts';

export const LONGEST_SHELVING_MS = 7 * 86_400_000;

/** The part of an alert that moves. Times are milliseconds since 1970. */
export interface AlertLife {
  readonly state: AlertState;
  /** The condition stands now, whatever people did with the alert. */
  readonly active: boolean;
  readonly raisedAtMs: number;
  readonly returnedAtMs: number | null;
  readonly acknowledged: { readonly by: string; readonly atMs: number; readonly note: string } | null;
  readonly shelved: { readonly untilMs: number; readonly reason: string } | null;
  readonly closed: { readonly by: string; readonly atMs: number; readonly cause: string; readonly note: string } | null;
}

/** `by: null` is the watch itself (condition) or the clock (end of shelving). */
export type AlertMoveRequest =
  | { readonly kind: 're-raise'; readonly atMs: number }
  | { readonly kind: 'return'; readonly atMs: number }
  | { readonly kind: 'acknowledge'; readonly atMs: number; readonly by: string; readonly note: string }
  | {
      readonly kind: 'shelve';
      readonly atMs: number;
      readonly by: string;
      readonly untilMs: number;
      readonly reason: string;
    }
  | { readonly kind: 'unshelve'; readonly atMs: number; readonly by: string | null }
  | {
      readonly kind: 'close';
      readonly atMs: number;
      readonly by: string;
      readonly cause: string;
      readonly note: string;
    };

export type MoveResult =
  | { readonly ok: true; readonly alert: AlertLife; readonly from: AlertState; readonly to: AlertState }
  | { readonly ok: false; readonly reason: string };

/** The first move of every alert. */
export function raiseAlert(atMs: number): AlertLife {
  return {
    state: 'unacknowledged',
    active: true,
    raisedAtMs: atMs,
    returnedAtMs: null,
    acknowledged: null,
    shelved: null,
    closed: null,
  };
}

/** Where `move` leads from `alert`, or why it may not: the reason is a clause that a person reads after a 409. */
export function moveAlert(alert: AlertLife, move: AlertMoveRequest): MoveResult {
  if (alert.state === 'normal') return refuse(whyOver(alert));
  switch (move.kind) {
    case 're-raise':
      return reRaise(alert);
    case 'return':
      return condition(alert, move.atMs);
    case 'acknowledge':
      return acknowledge(alert, move);
    case 'shelve':
      return shelve(alert, move);
    case 'unshelve':
      return unshelve(alert, move);
    case 'close':
      return close(alert, move);
  }
}

const refuse = (reason: string): MoveResult => ({ ok: false, reason });
const instant = (atMs: number): string => new Date(atMs).toISOString();
const become = (alert: AlertLife, to: AlertState, change: Partial<AlertLife>): MoveResult => ({
  ok: true,
  alert: { ...alert, ...change, state: to },
  from: alert.state,
  to,
});

function whyOver({ closed, acknowledged, returnedAtMs }: AlertLife): string {
  if (closed) return `already closed by ${closed.by} at ${instant(closed.atMs)} (${closed.cause})`;
  if (acknowledged && returnedAtMs !== null) {
    const first = `already acknowledged by ${acknowledged.by} at ${instant(acknowledged.atMs)}`;
    return `${first}, and over since its condition returned at ${instant(returnedAtMs)}`;
  }
  return 'already over';
}

const isOpenUnshelved = (state: AlertState): boolean =>
  state === 'unacknowledged' || state === 'acknowledged' || state === 'returned-unacknowledged';

function reRaise(alert: AlertLife): MoveResult {
  if (alert.active) return refuse(`the condition has stood since ${instant(alert.raisedAtMs)}`);
  const back = { active: true, returnedAtMs: null };
  if (alert.state === 'returned-unacknowledged')
    return become(alert, 'unacknowledged', { ...back, acknowledged: null });
  return become(alert, alert.state, back);
}

function condition(alert: AlertLife, atMs: number): MoveResult {
  if (!alert.active) return refuse(`the condition returned at ${instant(alert.returnedAtMs ?? alert.raisedAtMs)}`);
  const gone = { active: false, returnedAtMs: atMs };
  if (alert.state === 'unacknowledged') return become(alert, 'returned-unacknowledged', gone);
  if (alert.state === 'acknowledged') return become(alert, 'normal', gone);
  return become(alert, alert.state, gone);
}

function acknowledge(alert: AlertLife, move: Extract<AlertMoveRequest, { kind: 'acknowledge' }>): MoveResult {
  const { by, atMs, note } = move;
  if (alert.state === 'unacknowledged') return become(alert, 'acknowledged', { acknowledged: { by, atMs, note } });
  if (alert.state === 'returned-unacknowledged') return become(alert, 'normal', { acknowledged: { by, atMs, note } });
  if (alert.state === 'acknowledged' && alert.acknowledged) {
    return refuse(`already acknowledged by ${alert.acknowledged.by} at ${instant(alert.acknowledged.atMs)}`);
  }
  if (alert.state === 'shelved') return refuse(`${whyShelved(alert)}: unshelve it first`);
  return refuse(`an alert that is ${alert.state} is not acknowledged`);
}

const whyShelved = ({ shelved }: AlertLife): string =>
  shelved ? `already shelved until ${instant(shelved.untilMs)} (${shelved.reason})` : 'already shelved';

function shelve(alert: AlertLife, move: Extract<AlertMoveRequest, { kind: 'shelve' }>): MoveResult {
  if (alert.state === 'shelved') return refuse(whyShelved(alert));
  if (!isOpenUnshelved(alert.state)) return refuse(`an alert that is ${alert.state} is not shelved`);
  if (!(move.untilMs > move.atMs)) return refuse('shelving must end in the future');
  if (move.untilMs - move.atMs > LONGEST_SHELVING_MS) return refuse('shelving lasts seven days at most');
  if (move.reason.trim() === '') return refuse('shelving needs a reason');
  return become(alert, 'shelved', { shelved: { untilMs: move.untilMs, reason: move.reason } });
}

function unshelve(alert: AlertLife, move: Extract<AlertMoveRequest, { kind: 'unshelve' }>): MoveResult {
  if (alert.state !== 'shelved' || !alert.shelved) return refuse(`not shelved: it is ${alert.state}`);
  if (move.by === null && move.atMs < alert.shelved.untilMs) {
    return refuse(`shelved until ${instant(alert.shelved.untilMs)}`);
  }
  // What was acknowledged before it was put away must be looked at again if it still stands.
  if (alert.active) return become(alert, 'unacknowledged', { shelved: null, acknowledged: null });
  return become(alert, alert.acknowledged ? 'normal' : 'returned-unacknowledged', { shelved: null });
}

function close(alert: AlertLife, move: Extract<AlertMoveRequest, { kind: 'close' }>): MoveResult {
  if (move.cause.trim() === '') return refuse('closing needs a cause');
  const { by, atMs, cause, note } = move;
  // A closed alert follows its condition no longer: if that still stands, the watch raises a new one.
  return become(alert, 'normal', { active: false, shelved: null, closed: { by, atMs, cause, note } });
}
