/** Ends the shelving of alerts when its time is up. */
import { alertEvent, readStandingAlerts, tellListeners, writeStandingAlerts } from '../shared/db/alerts.ts';
import type { Database } from '../shared/db/connect.ts';
import { lockChamber } from './chamberLock.ts';
import { endShelving } from './standing.ts';

/** One sweep's worth; what is left is due at the next. */
const MOST_CHAMBERS = 200;

const endIn = (database: Pick<Database, 'transaction'>, chamber: string, now: Date): Promise<number> =>
  database.transaction(async (tx) => {
    await lockChamber(tx, chamber);
    const change = endShelving(chamber, await readStandingAlerts(tx, chamber), now);
    if (change.alerts.length === 0) return 0;
    await writeStandingAlerts(tx, chamber, change);
    await tellListeners(
      tx,
      change.alerts.map((alert) => alertEvent(chamber, alert)),
    );
    return change.alerts.length;
  });

/** @returns how many alerts came back */
export const endDueShelving = async (database: Pick<Database, 'sql' | 'transaction'>, now: Date): Promise<number> => {
  const due = await database.sql<{ chamber: string }[]>`
    select distinct chamber from alerts where state = 'shelved' and shelved_until <= ${now} limit ${MOST_CHAMBERS}`;
  let ended = 0;
  for (const { chamber } of due) ended += await endIn(database, chamber, now);
  return ended;
};
