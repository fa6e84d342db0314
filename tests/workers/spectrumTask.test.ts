import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import type { InnerTask } from '../../shared/contract/calibration.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { readSpectrumTask } from '../../shared/db/scanSpectra.ts';
import type { StoredSpectrum } from '../../shared/db/tables.ts';
import { insertTask, listTasks } from '../../shared/db/tasks.ts';
import { analyseChamber } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience } from '../../workers/science.ts';
import { workToTheEnd } from '../support/askedTasks.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../support/services.ts';
import { accept, aFleet, aScan, minutesAfter, storeFleet } from '../support/storedFleet.ts';

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
  await database.sql`truncate areas, chambers, analysers, scan_keys, scans, outstanding_scans, readings, latest,
    watch_memory, chamber_states, baselines, calibrations, tasks`;
  await storeFleet(database.sql, aFleet('c1'));
});

const shop = () => openWorkshop({ database, science: makeScience(), log: quiet, stopping: () => false });
const give = async (from: number, count: number) => {
  await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: count }, (_, i) => aScan(from + i)) });
  await analyseChamber(shop(), 'c1');
};
const askAt = (minute: number) => {
  const request: InnerTask = { kind: 'spectrum', at: minutesAfter(minute).toISOString() };
  const task = {
    chamber: 'c1',
    analyser: 'c1-a',
    id: `s${minute}`,
    request,
    askedAt: minutesAfter(99),
    askedBy: 'ann',
  };
  return database.transaction((tx) => insertTask(tx, task));
};
const newest = async (): Promise<StoredSpectrum> => {
  const [row] = await database.sql<{ spectrum: StoredSpectrum }[]>`select spectrum from latest where chamber = 'c1'`;
  return row?.spectrum as StoredSpectrum;
};
const foundAt = (minute: number) =>
  readSpectrumTask(database.sql, { chamber: 'c1', analyser: 'c1-a', at: minutesAfter(minute) });

test('an earlier scan gives the peaks that it gave when it was the newest', async () => {
  await give(0, 12);
  const then = await newest();
  await give(12, 5);
  expect((await newest()).scanId).toBe('m16');
  await askAt(11);
  const readings = await database.sql`select * from readings order by at`;
  await workToTheEnd(shop());
  const task = await foundAt(11);
  expect(task).toMatchObject({ state: 'done', problem: null, result: { calibrationVersion: 'c1-a/1' } });
  expect(task?.result?.spectrum.scanId).toBe('m11');
  expect(task?.result?.floorPa).toBeGreaterThan(0);
  // The outline of what is usual is as it is known now; everything else as it was.
  const bare = ({ peaks }: StoredSpectrum) => peaks.map(({ baseline: _usual, ...peak }) => peak);
  expect(bare(task?.result?.spectrum as StoredSpectrum)).toEqual(bare(then));
  expect(await database.sql`select * from readings order by at`).toEqual(readings);
});

test('a scan that is not there fails with the reason, and nothing of it is listed among the tasks of people', async () => {
  await give(0, 3);
  await askAt(50);
  await workToTheEnd(shop());
  expect(await foundAt(50)).toMatchObject({
    state: 'failed',
    problem: 'There is no such scan any more.',
    result: null,
  });
  expect(await listTasks(database.sql, 'c1-a')).toEqual([]);
  expect(await foundAt(1)).toBeNull();
});
