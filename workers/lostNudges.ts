/** Finds chambers whose scans or tasks wait although their nudge is long due: it was lost, or its worker died. */
import type { Sql } from 'postgres';

/** A nudge that travels is taken up within milliseconds; on a busy system a second one does no harm. */
const OVERDUE_MS = 2_000;
/** Chambers per sweep: a full fleet after an outage is taken up over several. */
const MOST_CHAMBERS = 500;

/**
 * Steps from chamber to chamber through the primary key, so that the cost follows the number of chambers, not that of
 * the waiting scans.
 */
export const findOverdue = async (sql: Sql, asked: { after: string; now: Date }): Promise<string[]> => {
  const rows = await sql<{ chamber: string }[]>`
    with recursive waiting as (
      (select chamber from outstanding_scans where chamber > ${asked.after} order by chamber limit 1)
      union all
      select (select o.chamber from outstanding_scans o where o.chamber > w.chamber order by o.chamber limit 1)
      from waiting w where w.chamber is not null
    )
    select w.chamber from waiting w
    where w.chamber is not null and exists (
      select 1 from outstanding_scans o
      where o.chamber = w.chamber and o.received_at < ${new Date(asked.now.getTime() - OVERDUE_MS)}
    )
    limit ${MOST_CHAMBERS}`;
  return rows.map(({ chamber }) => chamber);
};

/** Where the next sweep goes on: after the last chamber of a full share, else from the beginning. */
export const nextStart = (found: readonly string[]): string =>
  found.length < MOST_CHAMBERS ? '' : (found.at(-1) ?? '');

/** Chambers for which somebody has asked something that is not done, those that have waited longest first. */
export const findWaitingTasks = async (sql: Sql, now: Date): Promise<string[]> => {
  const rows = await sql<{ chamber: string }[]>`
    select chamber from tasks
    where state = 'waiting' and asked_at < ${new Date(now.getTime() - OVERDUE_MS)}
    group by chamber order by min(asked_at), chamber limit ${MOST_CHAMBERS}`;
  return rows.map(({ chamber }) => chamber);
};
