import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { readMeasurementSeries } from '../../../shared/db/measurementSeries.ts';
import { ensurePartitions } from '../../../shared/db/partitions.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../../support/services.ts';
import { minutesAfter } from '../../support/storedFleet.ts';

let fresh: FreshDatabase;
let database: Database;

beforeAll(async () => {
  fresh = await freshDatabase();
  database = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
  await ensurePartitions(database.sql, minutesAfter(0).getTime(), minutesAfter(40 * 1440).getTime());
  // A reading a minute for an hour: noise rises with the minute and jumps once, kappa is there in every second scan.
  await database.sql`
    insert into readings (chamber, analyser, at, scan_id, state, gas_list, floor_pa, decades, kappa, read_noise_pa, gain,
      chi_square_per_dof, notes, calibration_version, catalogue_version, judged)
    select 'c1', 'c1-a', ${minutesAfter(0)}::timestamptz + n * interval '1 minute', 'm' || n, 'base', 1, 3e-9, 'NaN',
      case when n % 2 = 1 then n end, case when n = 17 then 1000 else n end, null, n, '[]', 'v', 'k', true
    from generate_series(0, 59) as n`;
});
afterAll(async () => {
  await database.close();
  await fresh.drop();
});

const read = (to: number, points: number) =>
  readMeasurementSeries(database.sql, {
    chamber: 'c1',
    analyser: 'c1-a',
    from: minutesAfter(0),
    to: minutesAfter(to),
    points,
  });

test('a bucket has the median of its scans, and hides neither the least nor the greatest', async () => {
  const { noise, floor } = await read(60, 6);
  expect(noise).toHaveLength(6);
  // Minutes 10 to 19, of which 17 reads 1000: the middle of 10 … 16, 18, 19, 1000 lies between 14 and 15.
  expect(noise[1]).toEqual({ bucket: 1, at: minutesAfter(10), median: 14.5, min: 10, max: 1000 });
  expect(floor[5]).toEqual({ bucket: 5, at: minutesAfter(50), median: 3e-9, min: 3e-9, max: 3e-9 });
});

test('what was not measured is left out, and never a zero', async () => {
  const { kappa, gain, decades, massOffset } = await read(60, 6);
  expect(kappa[0]).toEqual({ bucket: 0, at: minutesAfter(1), median: 5, min: 1, max: 9 });
  expect([gain, decades, massOffset]).toEqual([[], [], []]);
});

test('a long span, walked in pieces, has every scan once', async () => {
  const { chiSquarePerDof } = await read(40 * 1440, 1);
  expect(chiSquarePerDof).toEqual([{ bucket: 0, at: minutesAfter(0), median: 29.5, min: 0, max: 59 }]);
});
