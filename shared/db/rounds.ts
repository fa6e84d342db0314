/** Signed rounds: who signed which area when, and what was seen. A signed round never changes. */
import type { Sql } from 'postgres';
import type { RoundLine, SignedRound } from '../contract/round.ts';
import type { Static } from '../contract/schema.ts';
import { EVENT_CHANNEL, type StoredEvent } from './events.ts';

type Line = Static<typeof RoundLine>;

/** A chamber as it stood when its area's round was signed. */
export interface SeenChamber {
  readonly line: Line;
  /** Alerts that asked for somebody then. */
  readonly alerts: readonly string[];
  /** Gas → decades from the baseline. */
  readonly strip: Readonly<Record<string, number | null>>;
}

export interface Seen {
  readonly chambers: readonly { readonly line: Line; readonly alerts: readonly string[] }[];
}

export interface LastRound {
  readonly id: string;
  readonly at: Date;
  readonly by: string;
  readonly note: string;
  readonly seen: ReadonlyMap<string, SeenChamber>;
}

/** What was seen at the newest round of each area: it never changes, so it is read once. */
const remembered = new WeakMap<object, Map<string, { id: string; seen: ReadonlyMap<string, SeenChamber> }>>();

const asMap = (seen: Seen): ReadonlyMap<string, SeenChamber> =>
  new Map(
    seen.chambers.map(({ line, alerts }) => [
      line.id,
      { line, alerts, strip: Object.fromEntries(line.strip.map((mark) => [mark.gas, mark.decades])) },
    ]),
  );

/** The newest signed round of each area that has one. */
export const readLastRounds = async (sql: Sql): Promise<Map<string, LastRound>> => {
  const rows = await sql<{ area: string; id: string; at: Date; by: string; note: string }[]>`
    select distinct on (area) area, id, signed_at as at, signed_by as by, note
    from rounds order by area, signed_at desc, id desc`;
  const known = remembered.get(sql) ?? new Map();
  remembered.set(sql, known);
  const unread = rows.filter((row) => known.get(row.area)?.id !== row.id);
  if (unread.length > 0) {
    const seen = await sql<{ area: string; id: string; seen: Seen }[]>`
      select r.area, r.id, r.seen from rounds r
      join unnest(${unread.map((r) => r.area)}::text[], ${unread.map((r) => r.id)}::text[]) as t (area, id)
        using (area, id)`;
    for (const row of seen) known.set(row.area, { id: row.id, seen: asMap(row.seen) });
  }
  return new Map(
    rows.map(({ area, id, at, by, note }) => [area, { id, at, by, note, seen: known.get(area)?.seen ?? new Map() }]),
  );
};

export const signRound = async (
  sql: Sql,
  round: { area: string; id: string; at: Date; by: string; note: string; seen: Seen },
): Promise<void> => {
  const event: StoredEvent = { event: 'round', area: round.area, id: round.id };
  await sql`
    with signed as (
      insert into rounds (area, id, signed_at, signed_by, note, seen)
      values (${round.area}, ${round.id}, ${round.at}, ${round.by}, ${round.note}, ${sql.json(round.seen as never)})
    ), noted as (
      insert into audit (at, by, what, detail)
      values (${round.at}, ${round.by}, 'round signed', ${sql.json({ area: round.area, id: round.id })})
    ) select pg_notify(${EVENT_CHANNEL}, ${JSON.stringify(event)})`;
};

export const readRound = async (
  sql: Sql,
  id: string,
): Promise<(Omit<Static<typeof SignedRound>, 'at'> & { at: Date; seen: Seen }) | null> => {
  const [row] = await sql<{ id: string; area: string; at: Date; by: string; note: string; seen: Seen }[]>`
    select id, area, signed_at as at, signed_by as by, note, seen from rounds where id = ${id}`;
  return row ?? null;
};
