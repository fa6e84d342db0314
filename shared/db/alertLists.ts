/** Alerts as people ask for them: a list with filters, one with its moves, and the move that a person makes. */
import type { Sql } from 'postgres';
import type { AlertState } from '../contract/words.ts';
import { type AlertMoveRequest, moveAlert } from '../watch/lifecycle.ts';
import {
  type AlertLifeColumns,
  alertColumns,
  alertEvent,
  lifeOf,
  type StandingAlert,
  tellListeners,
  writeStandingAlerts,
} from './alerts.ts';
import type { Transaction } from './connect.ts';

export type AlertRow = StandingAlert & { readonly chamber: string };

export interface MoveRow {
  readonly at: Date;
  readonly by: string | null;
  readonly move: string;
  readonly from: AlertState | null;
  readonly to: AlertState;
  readonly note: string | null;
}

export interface AlertFilter {
  readonly chamber?: string | undefined;
  readonly states?: readonly string[] | undefined;
  readonly signatures?: readonly string[] | undefined;
  /** Raised within. */
  readonly from?: Date | undefined;
  readonly to?: Date | undefined;
  readonly limit: number;
}

type Stored = AlertLifeColumns & Omit<AlertRow, 'life'>;

const rowOf = (stored: Stored): AlertRow => ({
  chamber: stored.chamber,
  id: stored.id,
  analyser: stored.analyser,
  signature: stored.signature,
  gases: stored.gases,
  priority: stored.priority,
  finding: stored.finding,
  heldBy: stored.heldBy,
  responder: stored.responder,
  rationalisationVersion: stored.rationalisationVersion,
  life: lifeOf(stored),
});

/** Newest first. */
export const listAlerts = async (sql: Sql, filter: AlertFilter): Promise<AlertRow[]> => {
  const { chamber, states, signatures, from, to, limit } = filter;
  const rows = await sql<Stored[]>`
    select ${alertColumns(sql)} from alerts where true
      ${chamber === undefined ? sql`` : sql`and chamber = ${chamber}`}
      ${states === undefined ? sql`` : sql`and state = any(${states as string[]}::text[])`}
      ${signatures === undefined ? sql`` : sql`and signature = any(${signatures as string[]}::text[])`}
      ${from === undefined ? sql`` : sql`and raised_at >= ${from}`}
      ${to === undefined ? sql`` : sql`and raised_at <= ${to}`}
    order by raised_at desc, id limit ${limit}`;
  return rows.map(rowOf);
};

export const readAlert = async (sql: Sql, id: string): Promise<AlertRow | null> => {
  const [row] = await sql<Stored[]>`select ${alertColumns(sql)} from alerts where id = ${id}`;
  return row ? rowOf(row) : null;
};

export const readMoves = (sql: Sql, alert: { chamber: string; id: string }) => sql<MoveRow[]>`
  select at, by, move, from_state as "from", to_state as "to", note from alert_moves
  where chamber = ${alert.chamber} and alert = ${alert.id} order by seq`;

/** Of the moves of an alert, the last that a person made. */
export interface LastMove {
  readonly by: string;
  readonly at: Date;
  readonly move: string;
}

const readLastMove = async (tx: Transaction, alert: { chamber: string; id: string }): Promise<LastMove | null> => {
  const [last] = await tx<LastMove[]>`
    select by, at, move from alert_moves
    where chamber = ${alert.chamber} and alert = ${alert.id} and by is not null order by seq desc limit 1`;
  return last ?? null;
};

/**
 * Moves one alert as a person asked, audited in the same transaction. The row is locked first: of two people who ask
 * at once, the second is judged by what the first has made of it.
 * @returns the alert after the move; why it may not move, with who moved it last; null where there is none
 */
export const moveByPerson = async (
  tx: Transaction,
  asked: { id: string; move: AlertMoveRequest; by: string; note: string | null },
): Promise<AlertRow | { refused: string; last: LastMove | null } | null> => {
  const [stored] = await tx<Stored[]>`select ${alertColumns(tx)} from alerts where id = ${asked.id} for update`;
  if (!stored) return null;
  const row = rowOf(stored);
  const result = moveAlert(row.life, asked.move);
  if (!result.ok) return { refused: result.reason, last: await readLastMove(tx, row) };
  const moved: StandingAlert = { ...row, life: result.alert };
  const at = new Date(asked.move.atMs);
  const { kind } = asked.move;
  await writeStandingAlerts(tx, row.chamber, {
    alerts: [moved],
    moves: [{ alert: row.id, at, by: asked.by, move: kind, from: result.from, to: result.to, note: asked.note }],
  });
  await tellListeners(tx, [alertEvent(row.chamber, moved)]);
  return { ...row, life: result.alert };
};
