/**
 * Signed rounds: who signed which area when, what was seen and what was handed over. What was signed never changes;
 * the shift that takes over adds its own signature once.
 */
import type { Sql } from 'postgres';
import type { Handover } from '../contract/handover.ts';
import type { RoundLine } from '../contract/round.ts';
import { EVENT_CHANNEL, type StoredEvent } from './events.ts';
import type { Transaction } from './transaction.ts';

/** A chamber as it stood when its area's round was signed. */
export interface SeenChamber {
  readonly line: RoundLine;
  /** Alerts that asked for somebody then. */
  readonly alerts: readonly string[];
  /** Gas → decades from the baseline. */
  readonly strip: Readonly<Record<string, number | null>>;
}

export interface Seen {
  readonly chambers: readonly { readonly line: RoundLine; readonly alerts: readonly string[] }[];
}

export interface Countersigning {
  readonly at: Date;
  readonly by: string;
  readonly note: string;
}

/** A signed round without what was seen. */
export interface RoundHead {
  readonly id: string;
  readonly area: string;
  readonly areaName: string;
  readonly at: Date;
  readonly by: string;
  readonly note: string;
  readonly countersigned: Countersigning | null;
}

export type LastRound = RoundHead & { readonly seen: ReadonlyMap<string, SeenChamber> };

type HeadRow = Omit<RoundHead, 'countersigned'> & {
  countersignedAt: Date | null;
  countersignedBy: string | null;
  countersignedNote: string | null;
};

const columns = (sql: Sql | Transaction) => sql`
  r.id, r.area, coalesce(a.name, r.area) as "areaName", r.signed_at as at, r.signed_by as by, r.note,
  r.countersigned_at as "countersignedAt", r.countersigned_by as "countersignedBy",
  r.countersigned_note as "countersignedNote"`;

const headOf = ({ countersignedAt, countersignedBy, countersignedNote, ...row }: HeadRow): RoundHead => ({
  ...row,
  countersigned:
    countersignedAt === null ? null : { at: countersignedAt, by: countersignedBy ?? '', note: countersignedNote ?? '' },
});

/** What was seen at the newest round of each area: it never changes, so it is read once. */
const remembered = new WeakMap<object, Map<string, { id: string; seen: ReadonlyMap<string, SeenChamber> }>>();

const asMap = (seen: Seen): ReadonlyMap<string, SeenChamber> =>
  new Map(
    seen.chambers.map(({ line, alerts }) => [
      line.id,
      { line, alerts, strip: Object.fromEntries(line.strip.map((mark) => [mark.gas, mark.decades])) },
    ]),
  );

/**
 * The newest signed round of each area that has one.
 * @param database under which it is remembered what was seen, where `sql` is a transaction that ends
 */
export const readLastRounds = async (
  sql: Sql | Transaction,
  database: object = sql,
): Promise<Map<string, LastRound>> => {
  const rows = await sql<HeadRow[]>`
    select distinct on (r.area) ${columns(sql)} from rounds r left join areas a on a.id = r.area
    order by r.area, r.signed_at desc, r.id desc`;
  const known = remembered.get(database) ?? new Map();
  remembered.set(database, known);
  const unread = rows.filter((row) => known.get(row.area)?.id !== row.id);
  if (unread.length > 0) {
    const seen = await sql<{ area: string; id: string; seen: Seen }[]>`
      select r.area, r.id, r.seen from rounds r
      join unnest(${unread.map((r) => r.area)}::text[], ${unread.map((r) => r.id)}::text[]) as t (area, id)
        using (area, id)`;
    for (const row of seen) known.set(row.area, { id: row.id, seen: asMap(row.seen) });
  }
  return new Map(rows.map((row) => [row.area, { ...headOf(row), seen: known.get(row.area)?.seen ?? new Map() }]));
};

export interface Signing {
  readonly area: string;
  readonly id: string;
  readonly at: Date;
  readonly by: string;
  /** Kind and login or token name. */
  readonly as: string;
  readonly note: string;
  readonly seen: Seen;
  readonly handover: Handover;
}

export const signRound = async (tx: Transaction, round: Signing): Promise<void> => {
  const { area, id, at, by, note } = round;
  const event: StoredEvent = { event: 'round', area, id };
  await tx`
    with signed as (
      insert into rounds (area, id, signed_at, signed_by, signed_as, note, seen, handover)
      values (${area}, ${id}, ${at}, ${by}, ${round.as}, ${note}, ${tx.json(round.seen as never)},
        ${tx.json(round.handover as never)})
    ), noted as (
      insert into audit (at, by, what, detail) values (${at}, ${by}, 'round signed', ${tx.json({ area, id })})
    ) select pg_notify(${EVENT_CHANNEL}, ${JSON.stringify(event)})`;
};

/** What a row holds of a line that was signed before lines said who has it in hand. */
const asSigned = (line: RoundLine): RoundLine => ({ ...line, inHand: line.inHand ?? null });

export type SignedRow = RoundHead & {
  readonly signedAs: string | null;
  readonly chambers: readonly RoundLine[];
  readonly handover: Handover | null;
};

export const readRound = async (sql: Sql | Transaction, id: string): Promise<SignedRow | null> => {
  const [row] = await sql<(HeadRow & { signedAs: string | null; seen: Seen; handover: Handover | null })[]>`
    select ${columns(sql)}, r.signed_as as "signedAs", r.seen, r.handover
    from rounds r left join areas a on a.id = r.area where r.id = ${id}`;
  if (!row) return null;
  const { signedAs, seen, handover, ...head } = row;
  return { ...headOf(head), signedAs, handover, chambers: seen.chambers.map(({ line }) => asSigned(line)) };
};

/** Newest first. `before`: signed earlier than that. */
export const listRounds = async (
  sql: Sql,
  { area, before, limit }: { area: string | undefined; before: Date | null; limit: number },
): Promise<RoundHead[]> => {
  const rows = await sql<HeadRow[]>`
    select ${columns(sql)} from rounds r left join areas a on a.id = r.area
    where (${area ?? null}::text is null or r.area = ${area ?? null})
      and (${before}::timestamptz is null or r.signed_at < ${before})
    order by r.signed_at desc, r.id desc limit ${limit}`;
  return rows.map(headOf);
};

/** @returns whether it was free: of two who countersign at once, the second changes nothing */
export const countersignRound = async (
  tx: Transaction,
  { id, area, at, by, as, note }: { id: string; area: string; at: Date; by: string; as: string; note: string },
): Promise<boolean> => {
  const signed = await tx`
    update rounds set countersigned_at = ${at}, countersigned_by = ${by}, countersigned_as = ${as},
      countersigned_note = ${note}
    where id = ${id} and countersigned_at is null returning id`;
  if (signed.length === 0) return false;
  const event: StoredEvent = { event: 'round', area, id };
  await tx`select pg_notify(${EVENT_CHANNEL}, ${JSON.stringify(event)})`;
  return true;
};
