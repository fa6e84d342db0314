import { afterAll, beforeAll, expect, test } from 'vitest';
import { insertCalibration } from '../../../shared/db/calibrations.ts';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { readSeries } from '../../../shared/db/series.ts';
import { analyseChamber, type Workshop } from '../../../workers/analyseChamber.ts';
import { openWorkshop } from '../../../workers/openWorkshop.ts';
import { makeScience } from '../../../workers/science.ts';
import { ask, recomputation, workToTheEnd } from '../../support/askedTasks.ts';
import { aCalibration } from '../../support/calibrationRows.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../../support/services.ts';
import { accept, aFleet, aScan, minutesAfter, storeFleet } from '../../support/storedFleet.ts';

let fresh: FreshDatabase;
let database: Database;

beforeAll(async () => {
  fresh = await freshDatabase();
  database = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
  await storeFleet(database.sql, aFleet('c1'));
});
afterAll(async () => {
  await database.close();
  await fresh.drop();
});

test('a recomputation is a series of its own, in the same buckets as the one that was judged', async () => {
  const shop: Workshop = openWorkshop({ database, science: makeScience(), log: quiet, stopping: () => false });
  await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 12 }, (_, i) => aScan(i)) });
  await analyseChamber(shop, 'c1');
  // Half the sensitivity: the same currents mean twice the pressure.
  await database.transaction((tx) =>
    insertCalibration(tx, aCalibration('k1', { value: { value: 3.75e-7, relativeUncertainty: null } })),
  );
  await ask(database, 't1', recomputation(0, 9));
  await workToTheEnd(shop);
  const read = async (recomputation?: string) => {
    const place = { chamber: 'c1', analyser: 'c1-a', from: minutesAfter(0), to: minutesAfter(12), recomputation };
    const series = await readSeries(database.sql, place, { gases: ['H2O'], points: 6, now: minutesAfter(12) });
    return { buckets: series.gases.get('H2O') ?? [], floorPa: series.floorPa };
  };
  const [judged, again] = [await read(), await read('t1')];
  expect(judged.buckets.map(({ bucket }) => bucket)).toEqual([0, 1, 2, 3, 4, 5]);
  expect(again.buckets.map(({ bucket }) => bucket)).toEqual([0, 1, 2, 3, 4]);
  // Both began with an empty memory of the analyser: everything but the scale is the same.
  for (const { bucket, medianPa } of again.buckets)
    expect((medianPa ?? 0) / (judged.buckets[bucket]?.medianPa ?? 0)).toBeCloseTo(2, 1);
  expect((again.floorPa ?? 0) / (judged.floorPa ?? 0)).toBeGreaterThan(1.5);
  expect((await read('t9')).buckets).toEqual([]);
});
