/** The alerts of one chamber as they stand: read with a lock by whoever is about to move them, and written back. */
import { createHash } from 'node:crypto';
import type { Sql } from 'postgres';
import type { Responder } from '../contract/rationalisation.ts';
import type { AlertState, Priority, Signature } from '../contract/words.ts';
import type { AlertLife, CallingState } from '../watch/lifecycle.ts';
import type { Finding } from '../watch/types.ts';
import type { Transaction } from './connect.ts';
import { EVENT_CHANNEL, type StoredEvent } from './events.ts';

/** An alert that is not over, or that has just become so. */
export interface StandingAlert {
  readonly id: string;
  readonly analyser: string | null;
  readonly signature: Signature;
  readonly gases: readonly string[];
  readonly priority: Priority;
  readonly finding: Finding;
  /** Analysers whose watch holds the condition as standing. */
  readonly heldBy: readonly string[];
  /** Of the rationalisation that was in force when it was raised. */
  readonly responder: Responder;
  readonly rationalisationVersion: number;
  readonly life: AlertLife;
}

/** One line of the audit of one alert. */
export interface AlertMoveLine {
  readonly alert: string;
  readonly at: Date;
  /** Null: the watch, or the clock. */
  readonly by: string | null;
  readonly move: string;
  readonly from: AlertState | null;
  readonly to: AlertState;
  readonly note: string | null;
}

/** The columns of `alerts` that hold its life. */
export interface AlertLifeColumns {
  state: AlertState;
  stateBefore: CallingState | null;
  active: boolean;
  raisedAt: Date;
  returnedAt: Date | null;
  latching: boolean;
  reAlarmHours: number | null;
  acknowledgedAt: Date | null;
  acknowledgedBy: string | null;
  acknowledgedNote: string | null;
  shelvedUntil: Date | null;
  shelvedReason: string | null;
  shelvings: number;
  suppressedSince: Date | null;
  suppressedReason: string | null;
  outOfServiceUntil: Date | null;
  outOfServiceReason: string | null;
  outOfServiceBy: string | null;
  closedAt: Date | null;
  closedBy: string | null;
  closedCause: string | null;
  closedNote: string | null;
  verified: string | null;
}

/** What is read of a row, for `lifeOf` and for what stands beside the life. */
export const alertColumns = (sql: Sql | Transaction) => sql`
  chamber, id, analyser, signature, gases, priority, finding, held_by as "heldBy", responder,
  rationalisation_version as "rationalisationVersion", state, state_before as "stateBefore", active,
  raised_at as "raisedAt", returned_at as "returnedAt", latching, re_alarm_hours as "reAlarmHours",
  acknowledged_at as "acknowledgedAt", acknowledged_by as "acknowledgedBy", acknowledged_note as "acknowledgedNote",
  shelved_until as "shelvedUntil", shelved_reason as "shelvedReason", shelvings,
  suppressed_since as "suppressedSince", suppressed_reason as "suppressedReason",
  out_of_service_until as "outOfServiceUntil", out_of_service_reason as "outOfServiceReason",
  out_of_service_by as "outOfServiceBy", closed_at as "closedAt", closed_by as "closedBy",
  closed_cause as "closedCause", closed_note as "closedNote", verified`;

const dateOf = (ms: number | null | undefined): Date | null => (ms == null ? null : new Date(ms));

const holdsOf = (row: AlertLifeColumns): Pick<AlertLife, 'shelved' | 'suppressed' | 'outOfService'> => ({
  shelved: row.shelvedUntil ? { untilMs: row.shelvedUntil.getTime(), reason: row.shelvedReason ?? '' } : null,
  suppressed: row.suppressedSince
    ? { sinceMs: row.suppressedSince.getTime(), reason: row.suppressedReason ?? '' }
    : null,
  outOfService: row.outOfServiceUntil
    ? {
        untilMs: row.outOfServiceUntil.getTime(),
        reason: row.outOfServiceReason ?? '',
        by: row.outOfServiceBy ?? '',
      }
    : null,
});

export const lifeOf = (row: AlertLifeColumns): AlertLife => ({
  state: row.state,
  stateBefore: row.stateBefore,
  active: row.active,
  raisedAtMs: row.raisedAt.getTime(),
  returnedAtMs: row.returnedAt?.getTime() ?? null,
  latching: row.latching,
  reAlarmHours: row.reAlarmHours,
  acknowledged:
    row.acknowledgedAt && row.acknowledgedBy !== null
      ? { by: row.acknowledgedBy, atMs: row.acknowledgedAt.getTime(), note: row.acknowledgedNote ?? '' }
      : null,
  ...holdsOf(row),
  shelvings: row.shelvings,
  closed:
    row.closedAt && row.closedBy !== null
      ? {
          by: row.closedBy,
          atMs: row.closedAt.getTime(),
          cause: row.closedCause ?? '',
          note: row.closedNote ?? '',
          verified: row.verified,
        }
      : null,
});

const lifeColumns = (life: AlertLife): AlertLifeColumns => ({
  state: life.state,
  stateBefore: life.stateBefore,
  active: life.active,
  raisedAt: new Date(life.raisedAtMs),
  returnedAt: dateOf(life.returnedAtMs),
  latching: life.latching,
  reAlarmHours: life.reAlarmHours,
  acknowledgedAt: dateOf(life.acknowledged?.atMs),
  acknowledgedBy: life.acknowledged?.by ?? null,
  acknowledgedNote: life.acknowledged?.note ?? null,
  shelvedUntil: dateOf(life.shelved?.untilMs),
  shelvedReason: life.shelved?.reason ?? null,
  shelvings: life.shelvings,
  suppressedSince: dateOf(life.suppressed?.sinceMs),
  suppressedReason: life.suppressed?.reason ?? null,
  outOfServiceUntil: dateOf(life.outOfService?.untilMs),
  outOfServiceReason: life.outOfService?.reason ?? null,
  outOfServiceBy: life.outOfService?.by ?? null,
  closedAt: dateOf(life.closed?.atMs),
  closedBy: life.closed?.by ?? null,
  closedCause: life.closed?.cause ?? null,
  closedNote: life.closed?.note ?? null,
  verified: life.closed?.verified ?? null,
});

/**
 * Follows from what the alert is about and when it began, so that the same history makes the same alerts wherever and
 * in however many pieces it is analysed. An analyser raises a signature at most once at one instant.
 */
export const alertId = (of: { chamber: string; analyser: string; signature: Signature; raisedAtMs: number }): string =>
  createHash('sha256')
    .update([of.chamber, of.analyser, of.signature, of.raisedAtMs].join('\n'))
    .digest('hex')
    .slice(0, 16);

type Row = AlertLifeColumns & Omit<StandingAlert, 'life'>;

/** Every alert of the chamber that is not over, locked until the end of the transaction. */
export const readStandingAlerts = async (tx: Transaction, chamber: string): Promise<StandingAlert[]> => {
  const rows = await tx<Row[]>`
    select ${alertColumns(tx)} from alerts where chamber = ${chamber} and state <> 'normal' order by id for update`;
  return rows.map((row) => ({
    id: row.id,
    analyser: row.analyser,
    signature: row.signature,
    gases: row.gases,
    priority: row.priority,
    finding: row.finding,
    heldBy: row.heldBy,
    responder: row.responder,
    rationalisationVersion: row.rationalisationVersion,
    life: lifeOf(row),
  }));
};

const writeAlert = (tx: Transaction, chamber: string, alert: StandingAlert) => {
  const life = lifeColumns(alert.life);
  return tx`
    insert into alerts (chamber, id, analyser, signature, gases, priority, finding, held_by, responder,
      rationalisation_version, state, state_before, active, raised_at, returned_at, latching, re_alarm_hours,
      acknowledged_at, acknowledged_by, acknowledged_note, shelved_until, shelved_reason, shelvings, suppressed_since,
      suppressed_reason, out_of_service_until, out_of_service_reason, out_of_service_by, closed_at, closed_by,
      closed_cause, closed_note, verified)
    values (${chamber}, ${alert.id}, ${alert.analyser}, ${alert.signature}, ${alert.gases as string[]}::text[],
      ${alert.priority}, ${tx.json(alert.finding as never)}, ${alert.heldBy as string[]}::text[], ${alert.responder},
      ${alert.rationalisationVersion}, ${life.state}, ${life.stateBefore}, ${life.active}, ${life.raisedAt},
      ${life.returnedAt}, ${life.latching}, ${life.reAlarmHours}, ${life.acknowledgedAt}, ${life.acknowledgedBy},
      ${life.acknowledgedNote}, ${life.shelvedUntil}, ${life.shelvedReason}, ${life.shelvings},
      ${life.suppressedSince}, ${life.suppressedReason}, ${life.outOfServiceUntil}, ${life.outOfServiceReason},
      ${life.outOfServiceBy}, ${life.closedAt}, ${life.closedBy}, ${life.closedCause}, ${life.closedNote},
      ${life.verified})
    on conflict (chamber, id) do update set analyser = excluded.analyser, gases = excluded.gases,
      priority = excluded.priority, finding = excluded.finding, held_by = excluded.held_by, state = excluded.state,
      state_before = excluded.state_before, active = excluded.active, returned_at = excluded.returned_at,
      acknowledged_at = excluded.acknowledged_at, acknowledged_by = excluded.acknowledged_by,
      acknowledged_note = excluded.acknowledged_note, shelved_until = excluded.shelved_until,
      shelved_reason = excluded.shelved_reason, shelvings = excluded.shelvings,
      suppressed_since = excluded.suppressed_since, suppressed_reason = excluded.suppressed_reason,
      out_of_service_until = excluded.out_of_service_until, out_of_service_reason = excluded.out_of_service_reason,
      out_of_service_by = excluded.out_of_service_by, closed_at = excluded.closed_at, closed_by = excluded.closed_by,
      closed_cause = excluded.closed_cause, closed_note = excluded.closed_note, verified = excluded.verified`;
};

/** Appends to the audit of alerts whose rows this transaction holds: nobody else can be numbering theirs. */
export const writeMoves = (tx: Transaction, chamber: string, moves: readonly AlertMoveLine[]) => tx`
  insert into alert_moves (chamber, alert, seq, at, by, move, from_state, to_state, note)
  select ${chamber}, n.alert,
    coalesce((select max(m.seq) from alert_moves m where m.chamber = ${chamber} and m.alert = n.alert), 0)
      + row_number() over (partition by n.alert order by n.position),
    n.at, n.by, n.move, n.from_state, n.to_state, n.note
  from unnest(${moves.map((m) => m.alert)}::text[], ${moves.map((m) => m.at.toISOString())}::timestamptz[],
    ${moves.map((m) => m.by)}::text[], ${moves.map((m) => m.move)}::text[], ${moves.map((m) => m.from)}::text[],
    ${moves.map((m) => m.to)}::text[], ${moves.map((m) => m.note)}::text[])
    with ordinality as n (alert, at, by, move, from_state, to_state, note, position)`;

/** Writes changed alerts with their moves. Those that are over come first: only then is there room for a new one. */
export const writeStandingAlerts = async (
  tx: Transaction,
  chamber: string,
  change: { alerts: readonly StandingAlert[]; moves: readonly AlertMoveLine[] },
): Promise<void> => {
  const over = change.alerts.filter(({ life }) => life.state === 'normal');
  const open = change.alerts.filter(({ life }) => life.state !== 'normal');
  for (const alert of [...over, ...open]) await writeAlert(tx, chamber, alert);
  if (change.moves.length > 0) await writeMoves(tx, chamber, change.moves);
};

export const alertEvent = (chamber: string, alert: StandingAlert): StoredEvent => ({
  event: 'alert',
  chamber,
  id: alert.id,
  signature: alert.signature,
  priority: alert.priority,
  state: alert.life.state,
});

/** Heard by listeners only if and when the transaction commits. */
export const tellListeners = (tx: Transaction, events: readonly StoredEvent[]) => tx`
  select pg_notify(${EVENT_CHANNEL}, payload) from unnest(${events.map((event) => JSON.stringify(event))}::text[]) as payload`;
