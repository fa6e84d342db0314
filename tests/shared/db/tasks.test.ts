import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { listTasks, readTask } from '../../../shared/db/tasks.ts';
import { ask, change, pattern } from '../../support/askedTasks.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../../support/services.ts';
import { minutesAfter } from '../../support/storedFleet.ts';

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

test('a task is waiting when it is asked, and comes back as it was asked', async () => {
  const asked = await ask(database, 't1', pattern('N2', 0, 9), minutesAfter(1));
  expect(asked).toEqual({
    chamber: 'c1',
    analyser: 'c1-a',
    id: 't1',
    kind: 'pattern',
    request: pattern('N2', 0, 9),
    state: 'waiting',
    askedAt: minutesAfter(1),
    askedBy: 'ann',
    finishedAt: null,
    problem: null,
    calibration: null,
    scans: null,
    change: null,
    doneTo: null,
  });
  expect(await readTask(database.sql, 't1')).toEqual(asked);
  expect(await readTask(database.sql, 't9')).toBeNull();
});

test('those of one analyser are listed newest first', async () => {
  await ask(database, 't2', change(0, 1), minutesAfter(2));
  expect((await listTasks(database.sql, 'c1-a')).map(({ id }) => id)).toEqual(['t2', 't1']);
  expect(await listTasks(database.sql, 'c2-a')).toEqual([]);
});

test('an id is taken once', async () => {
  await expect(ask(database, 't1', change(0, 1))).rejects.toThrow(/duplicate/);
});
