import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { PatternValue } from '../../shared/contract/calibration.ts';
import { decideCalibration, insertCalibration, listCalibrations } from '../../shared/db/calibrations.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { MOST_MARKED_SCANS } from '../../shared/db/tasks.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import type { MarkedScience } from '../../workers/markedScience.ts';
import { proposalId } from '../../workers/markedTasks.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience } from '../../workers/science.ts';
import { ask, background, change, pattern, taskOf, workToTheEnd } from '../support/askedTasks.ts';
import { aCalibration } from '../support/calibrationRows.ts';
import { scriptedScience } from '../support/scriptedScience.ts';
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
    watch_memory, chamber_states, baselines, alerts, alert_moves, calibrations, tasks`;
  const { chambers, analysers } = aFleet('c1', 'c2');
  await storeFleet(database.sql, { chambers, analysers: [...analysers, { id: 'c1-b', chamber: 'c1' }] });
});

const shopOf = (marked: Partial<MarkedScience> = {}): Workshop =>
  openWorkshop({ database, science: scriptedScience({ marked }), log: quiet, stopping: () => false });
const give = (from: number, count: number, analyser = 'c1-a') =>
  accept(database.sql, {
    chamber: 'c1',
    scans: Array.from({ length: count }, (_, i) => aScan(from + i, { analyser, id: `${analyser}-${from + i}` })),
  });
const work = (marked: Partial<MarkedScience> = {}) => workToTheEnd(shopOf(marked));
const problemOf = async (id: string) => (await taskOf(database, id)).problem;

describe('scans marked as a pure gas', () => {
  test('become a proposed pattern that says from what, and nothing is put in force', async () => {
    await give(0, 10);
    await ask(database, 't1', pattern('N2', 3, 7));
    await work();
    const [row, ...others] = await listCalibrations(database.sql, 'c1-a');
    expect(others).toEqual([]);
    expect(row).toMatchObject({
      id: proposalId('t1'),
      kind: 'pattern',
      gas: 'N2',
      value: { gas: 'N2', peaks: { '14': 7, '28': 100 } },
      source: 'pure gas',
      note: 'nitrogen from the bottle\nFrom 5 scans.',
      state: 'proposed',
      validFrom: null,
      validTo: null,
      setBy: 'ann',
      scansFrom: minutesAfter(3),
      scansTo: minutesAfter(7),
      scanCount: 5,
    });
    expect(await taskOf(database, 't1')).toMatchObject({
      state: 'done',
      scans: 5,
      calibration: row?.id,
      problem: null,
    });
  });

  test('are read with the calibration of their time and the gases of their chamber', async () => {
    await give(0, 3);
    await database.sql`update chambers set document = document || '{"gases": ["SF6"]}' where id = 'c1'`;
    await database.transaction((tx) => insertCalibration(tx, aCalibration('k1')));
    const asked: unknown[] = [];
    await ask(database, 't1', pattern('N2', 0, 9));
    await work({
      pattern: ({ calibration, gases, gas, amountFromGauge, scans }) => {
        asked.push([calibration.version, gases, gas, amountFromGauge, scans.map(({ id, state }) => `${id} ${state}`)]);
        return { ok: false, problem: 'enough' };
      },
    });
    const scans = ['c1-a-0 base', 'c1-a-1 base', 'c1-a-2 base'];
    expect(asked).toEqual([['c1-a/1+k1', ['SF6'], 'N2', true, scans]]);
  });

  test('that will not do are refused in words, and propose nothing', async () => {
    await give(0, 3);
    await ask(database, 't1', pattern('N2', 0, 9));
    await work({ pattern: () => ({ ok: false, problem: 'The gas was not pure.' }) });
    expect(await taskOf(database, 't1')).toMatchObject({
      state: 'failed',
      problem: 'The gas was not pure.',
      scans: null,
    });
    expect(await listCalibrations(database.sql, 'c1-a')).toEqual([]);
  });

  test('too many, or none, are refused before any work', async () => {
    await give(0, MOST_MARKED_SCANS + 1);
    await ask(database, 't1', pattern('N2', 0, MOST_MARKED_SCANS));
    await ask(database, 't2', pattern('N2', 2_000, 3_000));
    await work({
      pattern: () => {
        throw new Error('worked on');
      },
    });
    expect(await problemOf('t1')).toBe(
      `The period holds ${MOST_MARKED_SCANS + 1} scans of c1-a: mark at most ${MOST_MARKED_SCANS}.`,
    );
    expect(await problemOf('t2')).toBe('The period holds no scans of c1-a.');
  });
});

describe('a background', () => {
  test('from a closed valve is proposed as such', async () => {
    await give(0, 4);
    await ask(database, 't1', background(0, 9));
    await work();
    expect(await listCalibrations(database.sql, 'c1-a')).toMatchObject([
      {
        kind: 'background',
        gas: null,
        source: 'closed valve',
        value: { peaks: { '28': { heightPa: 1e-9 } } },
        note: 'valve closed since six',
      },
    ]);
  });

  test('from a second analyser is worked out from the scans of both', async () => {
    await give(0, 4);
    await give(1, 2, 'c1-b');
    const asked: unknown[] = [];
    await ask(database, 't1', background(0, 9, 'c1-b'));
    await work({
      background: ({ scans, other }) => {
        asked.push(scans.length, other?.scans.length, other?.calibration.version);
        return { ok: true, background: { peaks: {}, unsteadiness: 0.1 }, remarks: [] };
      },
    });
    expect(asked).toEqual([4, 2, 'c1-b/1']);
    expect(await listCalibrations(database.sql, 'c1-a')).toMatchObject([{ source: 'second analyser' }]);
  });

  test.each([
    ['c1-a', 'An analyser cannot be compared with itself.'],
    ['c2-a', 'c2-a belongs to another chamber, and sees another gas.'],
    ['c9-a', 'The fleet does not know the analyser c9-a.'],
    ['c1-b', 'The period holds no scans of c1-b.'],
  ])('cannot come from %s', async (other, problem) => {
    await give(0, 4);
    await ask(database, 't1', background(0, 9, other));
    await work();
    expect(await problemOf('t1')).toBe(problem);
  });
});

/** Ion currents of nitrogen that was let in, A, with a fragment at 14 half as strong again as usual. Invented. */
const NITROGEN: Record<number, number> = { 14: 1.05e-11, 28: 1e-10, 29: 7.3e-13, 2: 6e-14, 18: 2e-13, 17: 4e-14 };
const dose = (minute: number) =>
  aScan(minute, {
    id: `dose-${minute}`,
    totalPressure: { value: 1.33e-4, unit: 'Pa' },
    values: Array.from({ length: 50 }, (_, i) => (NITROGEN[i + 1] ?? 0) + 1e-14 * Math.sin(minute * 13 + i * 7)),
  });

test('a pattern goes its whole way: marked, worked out, enforced by an engineer, and used from then on', async () => {
  await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 8 }, (_, minute) => dose(minute)) });
  await ask(database, 't1', pattern('N2', 0, 7));
  const shop = { ...shopOf(), science: makeScience() };
  await workToTheEnd(shop);
  expect(await taskOf(database, 't1')).toMatchObject({ state: 'done', problem: null });
  const id = proposalId('t1');
  await database.transaction((tx) =>
    decideCalibration(tx, {
      id,
      analyser: 'c1-a',
      state: 'in-force',
      validFrom: minutesAfter(4),
      validTo: null,
      at: minutesAfter(10),
      by: 'ben',
      note: 'as expected',
    }),
  );
  await analyseChamber(shop, 'c1');
  const rows = await database.sql`
    select scan_id, calibration_version from readings order by at`;
  expect(rows.map((row) => row.calibration_version)).toEqual([
    ...Array.from({ length: 4 }, () => 'c1-a/1'),
    ...Array.from({ length: 4 }, () => `c1-a/1+${id}`),
  ]);
  // 10.5 is what was put in above; the rest gas and noise are told from it.
  const [row] = await listCalibrations(database.sql, 'c1-a');
  const learned = row?.value as PatternValue | undefined;
  expect(learned?.peaks['28']).toBe(100);
  expect(learned?.peaks['14']).toBeGreaterThan(10);
  expect(learned?.peaks['14']).toBeLessThan(11);
});

test('the real calculations are asked: a chamber full of water is not pure nitrogen', async () => {
  await give(0, 6);
  await ask(database, 't1', pattern('N2', 0, 9));
  await ask(database, 't2', change(0, 5));
  await ask(database, 't3', pattern('no-such-gas', 0, 9));
  await workToTheEnd({ ...shopOf(), science: makeScience() });
  expect(await taskOf(database, 't1')).toMatchObject({ state: 'failed', problem: expect.stringMatching(/./) });
  const { state, change: found } = await taskOf(database, 't2');
  expect(state).toBe('done');
  // Six scans of one steady chamber: nothing has changed.
  expect(found?.gases.filter(({ significant }) => significant)).toEqual([]);
  expect(found?.gases.map(({ gas }) => gas)).toContain('H2O');
  expect(await problemOf('t3')).toBe('The catalogue has no gas no-such-gas.');
});
