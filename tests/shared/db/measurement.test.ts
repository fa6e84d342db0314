import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { insertCalibration } from '../../../shared/db/calibrations.ts';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { readMeasurement, readMeasurements, readScanLines } from '../../../shared/db/measurement.ts';
import { analyseChamber } from '../../../workers/analyseChamber.ts';
import { openWorkshop } from '../../../workers/openWorkshop.ts';
import { aCalibration } from '../../support/calibrationRows.ts';
import { scriptedScience } from '../../support/scriptedScience.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../../support/services.ts';
import { accept, aFleet, aScan, minutesAfter, storeFleet } from '../../support/storedFleet.ts';

let fresh: FreshDatabase;
let database: Database;

beforeAll(async () => {
  fresh = await freshDatabase();
  database = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
  await storeFleet(database.sql, aFleet('c1', 'c2', 'c3', 'c4'));
  await database.sql`update chambers set area = 'bay' where id = 'c3'`;
  await database.sql`update analysers set retired_at = now() where id = 'c4-a'`;
  const stated = { detector: 'faraday', totalPressure: { value: 3e-7, unit: 'Pa' } } as const;
  await accept(database.sql, { chamber: 'c1', scans: [1, 2, 3].map((minute) => aScan(minute, stated)) });
  const shop = openWorkshop({ database, science: scriptedScience(), log: quiet, stopping: () => false });
  await analyseChamber(shop, 'c1');
  await database.transaction(async (tx) => {
    await insertCalibration(tx, aCalibration('k1', { validFrom: minutesAfter(10) }));
    await insertCalibration(tx, aCalibration('k2', { validFrom: minutesAfter(20), validTo: minutesAfter(30) }));
    await insertCalibration(tx, aCalibration('k3', { validFrom: minutesAfter(25), state: 'withdrawn' }));
  });
});
afterAll(async () => {
  await database.close();
  await fresh.drop();
});

const at = minutesAfter(40);

describe('the list', () => {
  test('has every analyser that is watched in the order of the fleet, and what the newest scan says', async () => {
    const lines = await readMeasurements(database.sql, { at });
    expect(lines.map(({ analyser }) => analyser)).toEqual(['c1-a', 'c2-a', 'c3-a']);
    expect(lines[0]).toEqual({
      chamber: 'c1',
      chamberName: 'c1',
      area: 'hall',
      analyser: 'c1-a',
      retired: false,
      document: { id: 'c1-a', chamber: 'c1', sensitivityAmperesPerPascal: 7.5e-7 },
      documentVersion: 1,
      at: minutesAfter(3),
      state: 'base',
      scanPeriodSeconds: 60,
      floorPa: 3e-9,
      decades: 1.8,
      unexplained: 0,
      kappa: null,
      measurement: {
        detector: null,
        responseSeconds: 10,
        massScale: { offsetU: 0.05, slope: 0, pivot: 28 },
        widthU: { half: 0.8, tenth: 1.1, twentieth: 1.2 },
        gain: null,
        leftOut: [],
        chiSquarePerDof: 1,
      },
      instrument: { kappa: null, gain: null, massScale: null, noise: { sigmaPa: 1e-9, scans: 3 } },
      calibratedAt: minutesAfter(10),
    });
    expect(lines[1]).toMatchObject({
      at: null,
      floorPa: null,
      measurement: null,
      instrument: null,
      calibratedAt: null,
    });
  });

  test('can be that of one area, or one analyser even when it is retired', async () => {
    const ids = async (which: { area?: string; analyser?: string }) =>
      (await readMeasurements(database.sql, { ...which, at })).map(({ analyser }) => analyser);
    expect(await ids({ area: 'bay' })).toEqual(['c3-a']);
    expect(await ids({ analyser: 'c4-a' })).toEqual(['c4-a']);
    expect(await ids({ analyser: 'nobody' })).toEqual([]);
  });

  test('knows the newest calibration that holds at the instant that is asked', async () => {
    const calibrated = async (minute: number) =>
      (await readMeasurements(database.sql, { analyser: 'c1-a', at: minutesAfter(minute) }))[0]?.calibratedAt;
    expect(await Promise.all([5, 10, 26, 30].map(calibrated))).toEqual([
      null,
      minutesAfter(10),
      minutesAfter(20),
      minutesAfter(10),
    ]);
  });
});

test('one analyser comes with everything: gases, spectrum, measurement whole, and the version of its reading', async () => {
  const whole = await readMeasurement(database.sql, { analyser: 'c1-a', at });
  expect(whole).toMatchObject({
    scanId: 'm3',
    sumPa: 2e-7,
    gaugePa: 3e-7,
    gases: [{ gas: 'N2', detected: true }],
    spectrum: { peaks: [{ mass: 28, residual: 1e-10 }] },
    measurement: { noisePerGasPa: { N2: 1e-9 }, candidates: [] },
    instrument: { lookAlikes: [] },
    calibrationVersion: 'c1-a/1',
    documentVersion: 1,
  });
  expect(await readMeasurement(database.sql, { analyser: 'c2-a', at })).toMatchObject({
    at: null,
    gases: [],
    notes: [],
    spectrum: null,
    measurement: null,
    calibrationVersion: null,
  });
  expect(await readMeasurement(database.sql, { analyser: 'nobody', at })).toBeNull();
});

test('scans for marking are the newest of the span, with what was made of them', async () => {
  await accept(database.sql, { chamber: 'c1', scans: [aScan(4)] });
  const lines = (from: number, to: number, limit: number) =>
    readScanLines(database.sql, {
      chamber: 'c1',
      analyser: 'c1-a',
      from: minutesAfter(from),
      to: minutesAfter(to),
      limit,
    });
  expect(await lines(3, 9, 9)).toEqual([
    {
      id: 'm4',
      at: minutesAfter(4),
      state: null,
      seconds: 10,
      averages: 1,
      detector: null,
      gaugePa: null,
      sumPa: null,
    },
    {
      id: 'm3',
      at: minutesAfter(3),
      state: 'base',
      seconds: 10,
      averages: 1,
      detector: 'faraday',
      gaugePa: 3e-7,
      sumPa: 2e-7,
    },
  ]);
  expect((await lines(0, 9, 2)).map(({ id }) => id)).toEqual(['m4', 'm3']);
  expect(await lines(50, 60, 9)).toEqual([]);
});
