/**
 * The life of one alert: which moves are legal, and what they do. States and their words: ISA-18.2 / IEC 62682.
 *
 * An alert always stands in one of three calling states, or is over (`normal`):
 *
 *   raise ─► unacknowledged ── acknowledge ─► acknowledged ── return ─► normal
 *               ▲  │  ▲             │  ▲                      (latching: stays, until reset ─► normal)
 *               │  │  └─ re-alarm ──┘  └──────────── acknowledge, latching
 *    re-raise ──┤  └─ return ─► returned-unacknowledged ── acknowledge ─► normal
 *               └────────────────────┘
 *
 * Over the calling state lie up to three holds, each with a reason; while one is on, nobody is called and the state says
 * the first of them: out-of-service, suppressed (by design, by the operating state), shelved. The condition is followed
 * underneath, and the last hold that ends gives back what the calling state has become.
 *
 *   shelve:         by an operator, for 24 hours at most. Its end asks again, if the condition stands.
 *   suppress:       by the watch, while the chamber is in a state in which the signature is not armed.
 *   out-of-service: by an engineer, until a date.
 *   close:          from every open state ─► normal, with a cause.
 *
 * Acknowledging never ends a condition; only its return or a person who names the cause does.
 */
import type { AlertState } from '../contract/words.ts';
import {
  instant,
  refuse,
  settle,
  shelve,
  suppress,
  takeBack,
  takeOut,
  underHolds,
  unshelve,
  unsuppress,
  whyHeld,
} from './holds.ts';

const HOUR_MS = 3_600_000;

export type CallingState = 'unacknowledged' | 'acknowledged' | 'returned-unacknowledged';

/** The part of an alert that moves. Times are milliseconds since 1970. */
export interface AlertLife {
  readonly state: AlertState;
  /** The calling state under the holds; null: there is no hold. */
  readonly stateBefore: CallingState | null;
  /** The condition stands now, whatever people did with the alert. */
  readonly active: boolean;
  readonly raisedAtMs: number;
  readonly returnedAtMs: number | null;
  /** It stays after its condition has returned, until a person resets it. */
  readonly latching: boolean;
  /** Acknowledged and still standing after so long, it asks again; null: never. */
  readonly reAlarmHours: number | null;
  readonly acknowledged: { readonly by: string; readonly atMs: number; readonly note: string } | null;
  readonly shelved: { readonly untilMs: number; readonly reason: string } | null;
  /** How often it has been shelved. */
  readonly shelvings: number;
  readonly suppressed: { readonly sinceMs: number; readonly reason: string } | null;
  readonly outOfService: { readonly untilMs: number; readonly reason: string; readonly by: string } | null;
  readonly closed: {
    readonly by: string;
    readonly atMs: number;
    readonly cause: string;
    readonly note: string;
    /** What was found: a word of VERIFIED_CAUSES. */
    readonly verified: string | null;
  } | null;
}

type Person<Kind extends string, More = object> = More & {
  readonly kind: Kind;
  readonly atMs: number;
  readonly by: string;
};
type Watch<Kind extends string, More = object> = More & { readonly kind: Kind; readonly atMs: number };
/** `by: null` is the clock, when the time is up. */
type PersonOrClock<Kind extends string> = { readonly kind: Kind; readonly atMs: number; readonly by: string | null };
interface Until {
  readonly untilMs: number;
  readonly reason: string;
}

export type AlertMoveRequest =
  | Watch<'re-raise'>
  | Watch<'return'>
  | Watch<'re-alarm'>
  | Watch<'suppress', { readonly reason: string }>
  | Watch<'unsuppress'>
  | Person<'acknowledge', { readonly note: string }>
  | Person<'reset'>
  | Person<'shelve', Until>
  | PersonOrClock<'unshelve'>
  | Person<'out-of-service', Until>
  | PersonOrClock<'return-to-service'>
  | Person<'close', { readonly cause: string; readonly note: string; readonly verified?: string | null }>;
export type Move<Kind extends AlertMoveRequest['kind']> = Extract<AlertMoveRequest, { kind: Kind }>;

export type MoveResult =
  | { readonly ok: true; readonly alert: AlertLife; readonly from: AlertState; readonly to: AlertState }
  | { readonly ok: false; readonly reason: string };

/** The first move of every alert. */
export function raiseAlert(
  atMs: number,
  asked: Pick<AlertLife, 'latching' | 'reAlarmHours'> = { latching: false, reAlarmHours: null },
): AlertLife {
  return {
    state: 'unacknowledged',
    stateBefore: null,
    active: true,
    raisedAtMs: atMs,
    returnedAtMs: null,
    latching: asked.latching,
    reAlarmHours: asked.reAlarmHours,
    acknowledged: null,
    shelved: null,
    shelvings: 0,
    suppressed: null,
    outOfService: null,
    closed: null,
  };
}

const MOVES: { readonly [Kind in AlertMoveRequest['kind']]: (alert: AlertLife, move: Move<Kind>) => MoveResult } = {
  're-raise': reRaise,
  return: condition,
  're-alarm': reAlarm,
  acknowledge,
  reset,
  shelve,
  unshelve,
  suppress,
  unsuppress,
  'out-of-service': takeOut,
  'return-to-service': takeBack,
  close,
};

/** Where `move` leads from `alert`, or why it may not: the reason is a clause that a person reads after a 409. */
export function moveAlert(alert: AlertLife, move: AlertMoveRequest): MoveResult {
  if (alert.state === 'normal') return refuse(whyOver(alert));
  return (MOVES[move.kind] as (alert: AlertLife, move: AlertMoveRequest) => MoveResult)(alert, move);
}

function whyOver({ closed, acknowledged, returnedAtMs, latching }: AlertLife): string {
  if (closed) return `already closed by ${closed.by} at ${instant(closed.atMs)} (${closed.cause})`;
  if (acknowledged && returnedAtMs !== null) {
    const first = `already acknowledged by ${acknowledged.by} at ${instant(acknowledged.atMs)}`;
    if (latching) return `${first}, and over since it was reset`;
    return `${first}, and over since its condition returned at ${instant(returnedAtMs)}`;
  }
  return 'already over';
}

/** A condition that comes back is new to whoever had acknowledged it before. */
function reRaise(alert: AlertLife): MoveResult {
  if (alert.active) return refuse(`the condition has stood since ${instant(alert.raisedAtMs)}`);
  return settle(alert, { active: true, returnedAtMs: null, acknowledged: null }, 'unacknowledged');
}

function condition(alert: AlertLife, { atMs }: Move<'return'>): MoveResult {
  if (!alert.active) return refuse(`the condition returned at ${instant(alert.returnedAtMs ?? alert.raisedAtMs)}`);
  const under = underHolds(alert) === 'acknowledged' ? 'acknowledged' : 'returned-unacknowledged';
  return settle(alert, { active: false, returnedAtMs: atMs }, under);
}

/** When an acknowledged alert asks again, ms since 1970; null: not by itself. */
export function reAlarmAtMs({ state, active, acknowledged, reAlarmHours }: AlertLife): number | null {
  if (state !== 'acknowledged' || !active || !acknowledged || reAlarmHours === null) return null;
  return acknowledged.atMs + reAlarmHours * HOUR_MS;
}

function reAlarm(alert: AlertLife, { atMs }: Move<'re-alarm'>): MoveResult {
  const dueMs = reAlarmAtMs(alert);
  if (dueMs === null) return refuse(`nothing that would ask again: it is ${alert.state}`);
  if (atMs < dueMs) return refuse(`acknowledged: it asks again at ${instant(dueMs)}`);
  return settle(alert, { acknowledged: null }, 'unacknowledged');
}

function acknowledge(alert: AlertLife, { by, atMs, note }: Move<'acknowledge'>): MoveResult {
  const held = whyHeld(alert);
  if (held !== null) return refuse(`${held}: ${alert.state === 'shelved' ? 'unshelve it first' : 'it calls nobody'}`);
  if (alert.state === 'acknowledged' && alert.acknowledged) {
    return refuse(`already acknowledged by ${alert.acknowledged.by} at ${instant(alert.acknowledged.atMs)}`);
  }
  return settle(alert, { acknowledged: { by, atMs, note } }, 'acknowledged');
}

/** @param _move by whom and when, for the audit */
function reset(alert: AlertLife, _move: Move<'reset'>): MoveResult {
  const held = whyHeld(alert);
  if (held !== null) return refuse(held);
  if (!alert.latching) return refuse('it does not latch: it ends by itself when its condition returns');
  if (alert.active)
    return refuse(`its condition has stood since ${instant(alert.raisedAtMs)}: only what has returned is reset`);
  if (alert.state !== 'acknowledged') return refuse('nobody has acknowledged it yet: acknowledge it first');
  return { ok: true, alert: { ...alert, state: 'normal' }, from: alert.state, to: 'normal' };
}

/** A closed alert follows its condition no longer: if that still stands, the watch raises a new one. */
function close(alert: AlertLife, { by, atMs, cause, note, verified = null }: Move<'close'>): MoveResult {
  if (cause.trim() === '') return refuse('closing needs a cause');
  const closed = { by, atMs, cause, note, verified };
  const ended = { ...alert, active: false, shelved: null, suppressed: null, outOfService: null, stateBefore: null };
  return { ok: true, alert: { ...ended, state: 'normal', closed }, from: alert.state, to: 'normal' };
}
