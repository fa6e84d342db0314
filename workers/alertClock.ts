/** What the clock does to alerts: it ends shelving and breaks of service, and asks again what was left standing. */
import { alertEvent, readStandingAlerts, tellListeners, writeStandingAlerts } from '../shared/db/alerts.ts';
import type { Database } from '../shared/db/connect.ts';
import { lockChamber } from './chamberLock.ts';
import { endByClock } from './standing.ts';

/** One sweep's worth; what is left is due at the next. */
const MOST_CHAMBERS = 200;

const moveIn = (database: Pick<Database, 'transaction'>, chamber: string, now: Date): Promise<number> =>
  database.transaction(async (tx) => {
    await lockChamber(tx, chamber);
    const change = endByClock(chamber, await readStandingAlerts(tx, chamber), now);
    if (change.alerts.length === 0) return 0;
    await writeStandingAlerts(tx, chamber, change);
    await tellListeners(
      tx,
      change.alerts.map((alert) => alertEvent(chamber, alert)),
    );
    return change.alerts.length;
  });

/** @returns how many alerts were moved */
export const moveDueAlerts = async (database: Pick<Database, 'sql' | 'transaction'>, now: Date): Promise<number> => {
  // Each part has an index of its own.
  const due = await database.sql<{ chamber: string }[]>`
    select chamber from alerts where shelved_until <= ${now}
    union select chamber from alerts where state = 'out-of-service' and out_of_service_until <= ${now}
    union select chamber from alerts where state = 'acknowledged' and re_alarm_hours is not null and active
      and acknowledged_at + re_alarm_hours * interval '1 hour' <= ${now}
    limit ${MOST_CHAMBERS}`;
  let moved = 0;
  for (const { chamber } of due) moved += await moveIn(database, chamber, now);
  return moved;
};
