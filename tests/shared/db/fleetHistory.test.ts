import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { applyFleet } from '../../../shared/db/fleet.ts';
import { documentAt, readAnalyser, readPastDocuments } from '../../../shared/db/fleetHistory.ts';
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
beforeEach(async () => {
  await database.sql`truncate areas, chambers, analysers, fleet_versions`;
});

/** @param gain of the analyser `a`; null: it is not in the document */
const apply = (minute: number, gain: number | null, name = 'Hall') =>
  database.transaction((tx) =>
    applyFleet(
      tx,
      {
        areas: [{ id: 'hall', name, timeZone: 'Europe/Lisbon', shifts: ['06:00'] }],
        chambers: [{ id: 'c1', name: 'C1', area: 'hall' }],
        analysers: [
          { id: 'other', chamber: 'c1', multiplierGain: minute },
          ...(gain === null ? [] : [{ id: 'a', chamber: 'c1', multiplierGain: gain }]),
        ],
      } as never,
      { dryRun: false, at: minutesAfter(minute), by: 'ann' },
    ),
  );
const past = async () =>
  (await readPastDocuments(database.sql, 'a'))?.map(({ version, document, fromMs }) => [
    version,
    document.multiplierGain,
    (fromMs - minutesAfter(0).getTime()) / 60_000,
  ]);

test('each document that differs from the one before counts as the fleet has counted it', async () => {
  await apply(1, 500);
  await apply(2, 500, 'Great hall');
  await apply(3, 700);
  await apply(4, null);
  await apply(5, 700);
  await apply(6, 500);
  expect(await past()).toEqual([
    [1, 500, 1],
    [2, 700, 3],
    [3, 500, 6],
  ]);
  expect(await readAnalyser(database.sql, 'a')).toMatchObject({ version: 3, document: { multiplierGain: 500 } });
});

test('one that was away comes back with what it was, and its document of that time', async () => {
  await apply(1, 500);
  await apply(2, null);
  expect(await past()).toEqual([[1, 500, 1]]);
});

test('where the history does not lead to what stands, only that is given', async () => {
  await apply(1, 500);
  await database.sql`
    update analysers set version = 7, document = document || '{"multiplierGain": 900}' where id = 'a'`;
  expect(await readPastDocuments(database.sql, 'a')).toMatchObject([
    { version: 7, document: { multiplierGain: 900 }, fromMs: 0 },
  ]);
});

test('an analyser that nobody knows has none', async () => {
  expect(await readPastDocuments(database.sql, 'stranger')).toBeNull();
  expect(await readAnalyser(database.sql, 'stranger')).toBeNull();
});

test('an instant has the document that was applied last, and before the first one that', async () => {
  await apply(1, 500);
  await apply(3, 700);
  const documents = (await readPastDocuments(database.sql, 'a')) ?? [];
  const gainAt = (minute: number) => documentAt(documents, minutesAfter(minute).getTime()).document.multiplierGain;
  expect([0, 1, 2, 3, 9].map(gainAt)).toEqual([500, 500, 500, 700, 700]);
});
