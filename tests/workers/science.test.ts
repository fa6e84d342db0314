import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { insertCalibration } from '../../shared/db/calibrations.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience } from '../../workers/science.ts';
import { aCalibration } from '../support/calibrationRows.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../support/services.ts';
import { accept, aFleet, aScan, minutesAfter, storeFleet, whatIsStored } from '../support/storedFleet.ts';

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
    watch_memory, chamber_states, baselines, alerts, alert_moves, calibrations`;
  await storeFleet(database.sql, aFleet('c1'));
  await database.transaction((tx) =>
    insertCalibration(tx, aCalibration('k1', { validFrom: minutesAfter(25), value: GAINED, kind: 'gain' })),
  );
});

const GAINED = { value: 900, relativeUncertainty: 0.1 };
/** Every fifth scan with the multiplier, whose currents are 1000 times as large: pairs from which a gain is learned. */
const scan = (minute: number) => {
  const { values, ...rest } = aScan(minute, { totalPressure: { value: 4e-6, unit: 'Pa' } });
  const multiplied = minute % 5 === 4;
  return {
    ...rest,
    detector: multiplied ? ('multiplier' as const) : ('faraday' as const),
    values: values.map((value) => (value === null ? null : value * (multiplied ? 1000 : 1))),
  };
};
const SCANS = Array.from({ length: 60 }, (_, minute) => scan(minute));

const shopOf = (): Workshop => openWorkshop({ database, science: makeScience(), log: quiet, stopping: () => false });

test('scans that come one by one to ever new workers leave what one batch leaves', async () => {
  for (const one of SCANS) {
    await accept(database.sql, { chamber: 'c1', scans: [one] });
    await analyseChamber(shopOf(), 'c1');
  }
  const oneByOne = await whatIsStored(database);
  await database.sql`truncate scan_keys, scans, outstanding_scans, readings, latest, watch_memory, chamber_states,
    baselines, alerts, alert_moves`;
  await accept(database.sql, { chamber: 'c1', scans: SCANS });
  await analyseChamber(shopOf(), 'c1');
  const together = await whatIsStored(database);
  expect(together).toEqual(oneByOne);
  const [memory] = together.memories;
  expect(Object.keys(memory?.instrument ?? {}).length).toBeGreaterThan(0);
  expect(together.latest[0]?.measurement).toMatchObject({ responseSeconds: 10, detector: 'multiplier' });
  expect(new Set(together.readings.map((row) => row.calibration_version))).toEqual(new Set(['c1-a/1', 'c1-a/1+k1']));
});

test('a prepared analyser serves one calibration and one list of gases, and is prepared once', () => {
  const science = makeScience();
  const calibration = {
    analyser: 'a',
    principle: 'quadrupole' as const,
    massRange: null,
    sensitivityAmperesPerPascal: 1e-6,
    multiplierGain: null,
    transmissionExponent: 0,
    version: 'a/1',
  };
  const first = science.analyserFor(calibration, []);
  expect(science.analyserFor({ ...calibration }, [])).toBe(first);
  expect(science.analyserFor({ ...calibration, version: 'a/1+k1' }, [])).not.toBe(first);
  expect(science.analyserFor(calibration, ['SF6'])).not.toBe(first);
});
