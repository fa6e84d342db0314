/** What is asked before alerts are told in groups: who began when, where the chambers stand, and who called. */
import type { Sql } from 'postgres';
import type { Call } from '../watch/floods.ts';
import type { GroupedAlert, GroupedChamber } from '../watch/groups.ts';

export interface Span {
  readonly from: Date;
  readonly to: Date;
}

/** More alerts than this in one span are grouped from the newest backwards. */
const MOST_ALERTS = 20_000;
const ASKING = `('unacknowledged', 'acknowledged', 'returned-unacknowledged')`;

/** @param spans that do not touch each other */
export const readGroupedAlerts = (sql: Sql, spans: readonly Span[]) => sql<GroupedAlert[]>`
  select a.id, a.chamber, a.signature, a.priority, date_part('epoch', a.raised_at) * 1000 as "raisedAtMs",
    a.state in ${sql.unsafe(ASKING)} as open
  from unnest(${spans.map(({ from }) => from.toISOString())}::timestamptz[],
    ${spans.map(({ to }) => to.toISOString())}::timestamptz[]) as span (begins, ends)
  join alerts a on a.raised_at between span.begins and span.ends
  order by a.raised_at desc, a.id limit ${MOST_ALERTS}`;

/** Chambers in service with what they share; the slowest of their analysers gives the scan period. */
export const readGroupedChambers = (sql: Sql) => sql<GroupedChamber[]>`
  select c.id, coalesce(a.name, c.area) as area,
    array(select jsonb_array_elements_text(coalesce(c.document -> 'tags', '[]'))) as tags,
    (select max(l.scan_period_seconds) from latest l where l.chamber = c.id) as "periodSeconds"
  from chambers c left join areas a on a.id = c.area where c.retired_at is null order by c.id`;

/** Moves of the watch or the clock after which an alert asks a person. */
export const readCalls = (sql: Sql, { from, to }: Span) => sql<Call[]>`
  select m.alert, m.chamber, a.priority, date_part('epoch', m.at) * 1000 as "atMs",
    a.state in ${sql.unsafe(ASKING)} as open
  from alert_moves m join alerts a on a.chamber = m.chamber and a.id = m.alert
  where m.at between ${from} and ${to} and m.by is null and m.to_state = 'unacknowledged'
    and m.from_state is distinct from 'unacknowledged'
  order by m.at, m.alert limit ${MOST_ALERTS}`;
