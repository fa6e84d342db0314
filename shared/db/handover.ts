/** What stands behind a handover: alerts that are not over, and what people have written. An entry is never deleted. */
import type { Sql } from 'postgres';
import type { HandoverEntry } from '../contract/handover.ts';
import type { AlertState, EntryKind, Priority, Signature } from '../contract/words.ts';
import { EVENT_CHANNEL, type StoredEvent } from './events.ts';
import type { Transaction } from './transaction.ts';

type Either = Sql | Transaction;

export interface HandoverAlertRow {
  readonly area: string;
  readonly id: string;
  readonly chamber: string;
  readonly chamberName: string;
  readonly signature: Signature;
  readonly priority: Priority;
  readonly state: AlertState;
  readonly summary: string;
  readonly firstStep: string | null;
  readonly raisedAt: Date;
  readonly acknowledgedAt: Date | null;
  readonly acknowledgedBy: string | null;
  readonly acknowledgedNote: string | null;
  /** Of the hold that names the state; `by` is null where no person put it away. */
  readonly since: Date | null;
  readonly until: Date | null;
  readonly by: string | null;
  readonly reason: string | null;
}

/** Of all areas, or of one; alerts of retired chambers call nobody and are handed to nobody. */
export const readHandoverAlerts = (sql: Either, area: string | null) => sql<HandoverAlertRow[]>`
  select c.area, a.id, a.chamber, c.name as "chamberName", a.signature, a.priority, a.state,
    a.finding ->> 'summary' as summary, a.finding ->> 'firstStep' as "firstStep", a.raised_at as "raisedAt",
    a.acknowledged_at as "acknowledgedAt", a.acknowledged_by as "acknowledgedBy",
    a.acknowledged_note as "acknowledgedNote",
    case a.state when 'suppressed' then a.suppressed_since else put.at end as since,
    case a.state when 'shelved' then a.shelved_until when 'out-of-service' then a.out_of_service_until end as until,
    case a.state when 'shelved' then put.by when 'out-of-service' then a.out_of_service_by end as by,
    case a.state when 'shelved' then a.shelved_reason when 'out-of-service' then a.out_of_service_reason
      when 'suppressed' then a.suppressed_reason end as reason
  from alerts a join chambers c on c.id = a.chamber
  left join lateral (
    select m.at, m.by from alert_moves m
    where m.chamber = a.chamber and m.alert = a.id
      and m.move = case a.state when 'shelved' then 'shelve' when 'out-of-service' then 'out-of-service' end
    order by m.seq desc limit 1
  ) put on true
  where a.state <> 'normal' and c.retired_at is null and (${area}::text is null or c.area = ${area})
  order by case a.priority when 'high' then 0 when 'medium' then 1 else 2 end,
    a.state = 'acknowledged', a.raised_at desc, a.id`;

export type EntryRow = Omit<HandoverEntry, 'at' | 'dueAt' | 'doneAt'> & {
  readonly at: Date;
  readonly dueAt: Date | null;
  readonly doneAt: Date | null;
};

/** An entry about a chamber belongs to the area in which the chamber stands now. */
const entries = (sql: Either) => sql`
  select e.id, coalesce(c.area, e.area) as area, e.kind, e.chamber, c.name as "chamberName", e.text,
    e.due_at as "dueAt", e.set_at as at, e.set_by as by, e.done_at as "doneAt", e.done_by as "doneBy",
    e.done_note as "doneNote"
  from handover_entries e left join chambers c on c.id = e.chamber`;

export interface EntryFilter {
  readonly area?: string | undefined;
  readonly chamber?: string | undefined;
  /** Open ones only; else those that are done as well. */
  readonly open: boolean;
  readonly limit: number;
}

/** Open ones first, the next that is due first; then those that are done, the newest first. */
export const listEntries = (sql: Either, { area, chamber, open, limit }: EntryFilter) => sql<EntryRow[]>`
  ${entries(sql)} where ${open ? sql`e.done_at is null` : sql`true`}
    ${chamber === undefined ? sql`` : sql`and e.chamber = ${chamber}`}
    ${area === undefined ? sql`` : sql`and coalesce(c.area, e.area) = ${area}`}
  order by e.done_at desc nulls first, e.due_at nulls last, e.set_at, e.id limit ${limit}`;

/** Closed after `since` in an area. */
export const listClosedSince = (sql: Either, area: string, since: Date) => sql<EntryRow[]>`
  ${entries(sql)} where e.done_at > ${since} and coalesce(c.area, e.area) = ${area} order by e.done_at, e.id`;

export const readEntry = async (sql: Either, id: string): Promise<EntryRow | null> => {
  const [row] = await sql<EntryRow[]>`${entries(sql)} where e.id = ${id}`;
  return row ?? null;
};

const tell = (tx: Transaction, area: string, id: string) => {
  const event: StoredEvent = { event: 'round', area, id };
  return tx`select pg_notify(${EVENT_CHANNEL}, ${JSON.stringify(event)})`;
};

export interface NewEntryRow {
  readonly id: string;
  readonly area: string;
  readonly kind: EntryKind;
  readonly chamber: string | null;
  readonly text: string;
  readonly dueAt: Date | null;
  readonly at: Date;
  readonly by: string;
}

export const insertEntry = async (tx: Transaction, entry: NewEntryRow): Promise<void> => {
  const { id, area, kind, chamber, text, dueAt, at, by } = entry;
  await tx`
    insert into handover_entries (area, id, kind, chamber, text, due_at, set_at, set_by)
    values (${area}, ${id}, ${kind}, ${chamber}, ${text}, ${dueAt}, ${at}, ${by})`;
  await tell(tx, area, id);
};

/** @returns whether it was still open: of two who close at once, the second changes nothing */
export const closeEntry = async (
  tx: Transaction,
  asked: { id: string; at: Date; by: string; note: string | null },
): Promise<boolean> => {
  const [closed] = await tx<{ area: string }[]>`
    update handover_entries set done_at = ${asked.at}, done_by = ${asked.by}, done_note = ${asked.note}
    where id = ${asked.id} and done_at is null returning area`;
  if (!closed) return false;
  await tell(tx, closed.area, asked.id);
  return true;
};
