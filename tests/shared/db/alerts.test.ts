/** Every part of the life of an alert comes back from the database as it was written, and the audit is numbered. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readAlert, readMoves } from '../../../shared/db/alertLists.ts';
import { readStandingAlerts, type StandingAlert, writeStandingAlerts } from '../../../shared/db/alerts.ts';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { type AlertLife, type AlertMoveRequest, moveAlert, raiseAlert } from '../../../shared/watch/lifecycle.ts';
import { aFinding } from '../../support/scriptedScience.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../../support/services.ts';

let fresh: FreshDatabase;
let database: Database;
beforeAll(async () => {
  fresh = await freshDatabase();
  database = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
});
afterAll(async () => {
  await database.close();
  await fresh.drop();
});

const T0 = Date.UTC(2031, 0, 6, 6);
const HOUR = 3_600_000;
const go = (...moves: AlertMoveRequest[]): AlertLife =>
  moves.reduce(
    (life, move) => {
      const result = moveAlert(life, move);
      if (!result.ok) throw new Error(result.reason);
      return result.alert;
    },
    raiseAlert(T0, { latching: true, reAlarmHours: 2.5 }),
  );
const acknowledge = { kind: 'acknowledge', atMs: T0 + 1, by: 'ann', note: 'seen' } as const;
const shelve = { kind: 'shelve', atMs: T0 + 2, by: 'ann', untilMs: T0 + HOUR, reason: 'part ordered' } as const;
const suppress = { kind: 'suppress', atMs: T0 + 3, reason: 'vented' } as const;
const takeOut = { kind: 'out-of-service', atMs: T0 + 4, by: 'eve', untilMs: T0 + 9 * HOUR, reason: 'repair' } as const;
const back = { kind: 'return', atMs: T0 + 5 } as const;
const LIVES: Record<string, AlertLife> = {
  raised: go(),
  acknowledged: go(acknowledge),
  latched: go(acknowledge, back),
  shelved: go(shelve),
  suppressed: go(acknowledge, suppress),
  'out of service over all others': go(acknowledge, shelve, suppress, takeOut, back),
};
const alertWith = (id: string, life: AlertLife): StandingAlert => ({
  id,
  analyser: 'a',
  signature: 'water',
  gases: ['H2O'],
  priority: 'low',
  finding: aFinding('wet'),
  heldBy: ['a'],
  responder: 'engineer',
  rationalisationVersion: 7,
  life,
});
const put = (chamber: string, alert: StandingAlert, moves: { move: string; note: string | null }[] = []) =>
  database.transaction((tx) =>
    writeStandingAlerts(tx, chamber, {
      alerts: [alert],
      moves: moves.map((one) => ({ ...one, alert: alert.id, at: new Date(T0), by: null, from: null, to: 'shelved' })),
    }),
  );

describe('an alert that is', () => {
  test.each(Object.entries(LIVES))('%s', async (name, life) => {
    const alert = alertWith(`id-${name}`, life);
    await put(name, alert);
    expect(await database.transaction((tx) => readStandingAlerts(tx, name))).toEqual([alert]);
    expect(await readAlert(database.sql, alert.id)).toEqual({ chamber: name, ...alert });
  });

  test('over stands no longer, and keeps what was found', async () => {
    const closed = go(acknowledge, shelve, {
      kind: 'close',
      atMs: T0 + 6,
      by: 'bo',
      cause: 'seal',
      note: 'V2',
      verified: 'air-leak',
    });
    await put('over', alertWith('over', go()));
    await put('over', alertWith('over', closed));
    expect(await database.transaction((tx) => readStandingAlerts(tx, 'over'))).toEqual([]);
    expect((await readAlert(database.sql, 'over'))?.life).toEqual(closed);
  });
});

test('moves are numbered on, whoever writes them', async () => {
  await put('audit', alertWith('audited', go()), [
    { move: 'raise', note: null },
    { move: 'shelve', note: 'x' },
  ]);
  await put('audit', alertWith('audited', go()), [{ move: 'unshelve', note: null }]);
  const moves = await readMoves(database.sql, { chamber: 'audit', id: 'audited' });
  expect(moves.map(({ move }) => move)).toEqual(['raise', 'shelve', 'unshelve']);
});
