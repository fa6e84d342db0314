import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import {
  type CalibrationRow,
  decideCalibration,
  insertCalibration,
  listCalibrations,
  readCalibration,
  readInForce,
} from '../../../shared/db/calibrations.ts';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { aCalibration } from '../../support/calibrationRows.ts';
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
beforeEach(async () => {
  await database.sql`truncate calibrations`;
});

const at = new Date('2031-03-05T10:00:00Z');
const insert = (row: CalibrationRow) => database.transaction((tx) => insertCalibration(tx, row));
const decide = (asked: Parameters<typeof decideCalibration>[1]) =>
  database.transaction((tx) => decideCalibration(tx, asked));
const enforce = (by: string) =>
  decide({ id: 'k1', analyser: 'c1-a', state: 'in-force', validFrom: at, validTo: null, at, by, note: 'looks right' });
const withdraw = (by: string) => decide({ id: 'k1', analyser: 'c1-a', state: 'withdrawn', at, by, note: 'wrong gas' });

test('a row comes back as it was written, newest first', async () => {
  const pattern = aCalibration('k1', {
    kind: 'pattern',
    gas: 'N2',
    value: {
      gas: 'N2',
      peaks: { '28': 100, '14': 7.25 },
      fragmentUncertainty: 0.03,
      responseAtLargest: null,
      responseUncertainty: null,
    },
    scansFrom: at,
    scansTo: at,
    scanCount: 12,
  });
  const later = aCalibration('k2', { setAt: new Date('2031-03-06T00:00:00Z') });
  await insert(pattern);
  await insert(later);
  expect(await listCalibrations(database.sql, 'c1-a')).toEqual([later, pattern]);
  expect(await readCalibration(database.sql, 'k1')).toEqual(pattern);
  expect(await readCalibration(database.sql, 'k9')).toBeNull();
});

test('of two engineers who decide at once one is first, and the other is told who', async () => {
  await insert(aCalibration('k1', { state: 'proposed', validFrom: null }));
  const answers = await Promise.all([enforce('ann'), enforce('ben')]);
  const refused = answers.filter((answer) => answer !== null && 'refused' in answer);
  expect(refused).toHaveLength(1);
  const stands = await readCalibration(database.sql, 'k1');
  expect(refused[0]).toEqual({ refused: stands });
  expect(stands).toMatchObject({ state: 'in-force', validFrom: at, decidedAt: at, decisionNote: 'looks right' });
});

test('what is withdrawn keeps its span, and does not come back', async () => {
  await insert(aCalibration('k1'));
  expect(await withdraw('ann')).toMatchObject({ state: 'withdrawn', validFrom: aCalibration('k1').validFrom });
  expect(await enforce('ben')).toMatchObject({ refused: { state: 'withdrawn', decidedBy: 'ann' } });
  expect(await withdraw('ben')).toMatchObject({ refused: { decidedBy: 'ann' } });
  expect(await readInForce(database.sql, ['c1-a'])).toEqual([]);
});

test('an entry of another analyser is none', async () => {
  await insert(aCalibration('k1', { analyser: 'c2-a' }));
  expect(await withdraw('ann')).toBeNull();
});
