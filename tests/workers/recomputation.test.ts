import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { insertCalibration } from '../../shared/db/calibrations.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { applyFleet } from '../../shared/db/fleet.ts';
import { MOST_RECOMPUTED_SCANS } from '../../shared/db/tasks.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { nextTask } from '../../workers/taskRows.ts';
import { workTask } from '../../workers/tasks.ts';
import { ask, recomputation, taskOf, workToTheEnd } from '../support/askedTasks.ts';
import { aCalibration } from '../support/calibrationRows.ts';
import { type Script, scriptedScience } from '../support/scriptedScience.ts';
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
    watch_memory, chamber_states, baselines, calibrations, tasks, recomputed_readings, fleet_versions`;
  await storeFleet(database.sql, aFleet('c1'));
});

const shopOf = (script: Script = {}, stated: Partial<Workshop> = {}): Workshop =>
  openWorkshop({ database, science: scriptedScience(script), log: quiet, stopping: () => false, ...stated });
const give = (from: number, count: number) =>
  accept(database.sql, { chamber: 'c1', scans: Array.from({ length: count }, (_, i) => aScan(from + i)) });
const put = (row: ReturnType<typeof aCalibration>) => database.transaction((tx) => insertCalibration(tx, row));
const recomputed = () => database.sql<{ scan_id: string; version: string; floor_pa: number | null }[]>`
  select scan_id, calibration_version as version, floor_pa from recomputed_readings where task = 't1' order by at`;

describe('a period', () => {
  test('is analysed again with the calibration of each scan, and nothing that was judged changes', async () => {
    await give(0, 10);
    await analyseChamber(shopOf(), 'c1');
    const before = [await database.sql`select * from readings`, await database.sql`select * from latest`];
    await put(aCalibration('k1', { validFrom: minutesAfter(5) }));
    await ask(database, 't1', recomputation(2, 7));
    await workToTheEnd(shopOf());
    expect((await recomputed()).map(({ scan_id, version }) => `${scan_id} ${version}`)).toEqual([
      'm2 c1-a/1',
      'm3 c1-a/1',
      'm4 c1-a/1',
      'm5 c1-a/1+k1',
      'm6 c1-a/1+k1',
      'm7 c1-a/1+k1',
    ]);
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'done', scans: 6, problem: null });
    expect([await database.sql`select * from readings`, await database.sql`select * from latest`]).toEqual(before);
  });

  test('is analysed with the calibration of another day when that was asked', async () => {
    await give(0, 3);
    await put(aCalibration('k1', { validFrom: minutesAfter(5) }));
    await ask(database, 't1', recomputation(0, 9, 6));
    await workToTheEnd(shopOf());
    expect((await recomputed()).map(({ version }) => version)).toEqual(['c1-a/1+k1', 'c1-a/1+k1', 'c1-a/1+k1']);
  });

  test('knows what the fleet document said at the time', async () => {
    await database.sql`truncate areas, chambers, analysers`;
    const apply = (minute: number, sensitivityAmperesPerPascal: number) =>
      database.transaction((tx) =>
        applyFleet(
          tx,
          {
            areas: [{ id: 'hall', name: 'Hall', timeZone: 'Europe/Lisbon', shifts: ['06:00'] }],
            chambers: [{ id: 'c1', name: 'C1', area: 'hall' }],
            analysers: [{ id: 'c1-a', chamber: 'c1', sensitivityAmperesPerPascal }],
          } as never,
          { dryRun: false, at: minutesAfter(minute), by: 'ann' },
        ),
      );
    await apply(2, 1e-7);
    await apply(4, 2e-7);
    await give(1, 5);
    const used: unknown[] = [];
    const analyse: Script['analyse'] = ({ id }, { version, sensitivityAmperesPerPascal }) =>
      void used.push([id, version, sensitivityAmperesPerPascal]);
    await ask(database, 't1', recomputation(0, 9));
    await workToTheEnd(shopOf({ analyse }));
    expect(used).toEqual([
      ['m1', 'c1-a/1', 1e-7],
      ['m2', 'c1-a/1', 1e-7],
      ['m3', 'c1-a/1', 1e-7],
      ['m4', 'c1-a/2', 2e-7],
      ['m5', 'c1-a/2', 2e-7],
    ]);
  });

  test('a scan that the analysis cannot bear is stored without an answer, and the others go on', async () => {
    await give(0, 3);
    const analyse: Script['analyse'] = ({ id }) => {
      if (id === 'm1') throw new Error('cannot');
    };
    await ask(database, 't1', recomputation(0, 9));
    await workToTheEnd(shopOf({ analyse }));
    expect(
      await database.sql`select scan_id, estimates is null as empty, notes from recomputed_readings order by at`,
    ).toEqual([
      { scan_id: 'm0', empty: false, notes: [] },
      {
        scan_id: 'm1',
        empty: true,
        notes: [{ code: 'analysis-failed', text: 'The analysis of this scan failed: cannot' }],
      },
      { scan_id: 'm2', empty: false, notes: [] },
    ]);
  });
});

describe('interrupted', () => {
  /** Stops after so many scans, as a process that is killed between two of its transactions. */
  const stopsAfter = (scans: number): Workshop => {
    let seen = 0;
    const analyse = () => void seen++;
    return shopOf({ analyse }, { stopping: () => seen >= scans });
  };
  const given: string[] = [];
  const remembering = (): Workshop => {
    const science = scriptedScience();
    return shopOf(
      {},
      {
        science: {
          ...science,
          analyserFor: (...asked) => ({
            analyse: (scan, memory) => {
              given.push(((memory as { scans: string[] } | null)?.scans ?? []).at(-1) ?? 'nothing');
              return science.analyserFor(...asked).analyse(scan, memory);
            },
          }),
        },
      },
    );
  };

  test('goes on after the last scan that was written, with what it remembered of the analyser', async () => {
    await give(0, 650);
    await ask(database, 't1', recomputation(0, 649));
    expect(await workTask(stopsAfter(1), 'c1')).toBe(true);
    const half = await taskOf(database, 't1');
    expect(half).toMatchObject({ state: 'waiting', scans: 200, doneTo: minutesAfter(199) });
    given.length = 0;
    await workToTheEnd(remembering());
    expect(given).toHaveLength(450);
    expect(given[0]).toBe('m199');
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'done', scans: 650 });
    expect((await recomputed()).map(({ scan_id }) => scan_id)).toEqual(Array.from({ length: 650 }, (_, i) => `m${i}`));
  });

  test('begins with a memory from the scans just before it, which are not stored again', async () => {
    await give(0, 250);
    await ask(database, 't1', recomputation(230, 249));
    given.length = 0;
    await workToTheEnd(remembering());
    expect([given[0], given.at(-21), given.at(-20)]).toEqual(['nothing', 'm228', 'm229']);
    expect(given).toHaveLength(220);
    expect(await recomputed()).toHaveLength(20);
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'done', scans: 20 });
  });

  test('two workers give one result', async () => {
    await give(0, 900);
    await ask(database, 't1', recomputation(0, 899));
    await Promise.all([shopOf(), shopOf(), shopOf()].map((shop) => workToTheEnd(shop)));
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'done', scans: 900 });
    expect(await recomputed()).toHaveLength(900);
  });

  test('scans of one instant are each done once, wherever a piece ends', async () => {
    const twins = Array.from({ length: 230 }, (_, i) => aScan(1, { id: `twin${i}` }));
    await accept(database.sql, { chamber: 'c1', scans: twins });
    await ask(database, 't1', recomputation(0, 9));
    await workToTheEnd(shopOf());
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'done', scans: 230 });
    expect(await recomputed()).toHaveLength(230);
  });

  test('a calibration that is decided meanwhile ends it, and no half of a series is left', async () => {
    await give(0, 300);
    await ask(database, 't1', recomputation(0, 299));
    await workTask(stopsAfter(1), 'c1');
    await put(aCalibration('k1', { validFrom: minutesAfter(250) }));
    await workToTheEnd(shopOf());
    expect(await taskOf(database, 't1')).toMatchObject({
      state: 'failed',
      problem: expect.stringContaining('Ask again'),
    });
    expect(await recomputed()).toEqual([]);
  });

  test('one that holds outside of its period does not', async () => {
    await give(0, 300);
    await ask(database, 't1', recomputation(0, 299));
    await workTask(stopsAfter(1), 'c1');
    await put(aCalibration('k1', { validFrom: minutesAfter(300) }));
    await workToTheEnd(shopOf());
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'done', scans: 300 });
  });
});

describe('what cannot be done', () => {
  test('is said before any work: no scans, too many', async () => {
    await give(0, 1);
    await ask(database, 't1', recomputation(50, 60));
    await workToTheEnd(shopOf());
    expect(await taskOf(database, 't1')).toMatchObject({
      state: 'failed',
      problem: 'The period holds no scans of this analyser.',
    });
    await database.sql`
      insert into scans (chamber, analyser, at, scan_id, seconds, averages, masses, "values", unit, received_at)
      select chamber, analyser, at + n * interval '1 ms', 'many' || n, seconds, averages, masses, '', unit, received_at
      from scans, generate_series(1, ${MOST_RECOMPUTED_SCANS}::int) as n`;
    await ask(database, 't2', recomputation(0, 60));
    await workToTheEnd(shopOf());
    expect(await taskOf(database, 't2')).toMatchObject({
      state: 'failed',
      scans: null,
      problem: `The period holds ${MOST_RECOMPUTED_SCANS + 1} scans; at most ${MOST_RECOMPUTED_SCANS} are recomputed at once. Ask for a shorter one.`,
    });
  });

  test('an analyser that is not in the fleet', async () => {
    await ask(database, 't1', recomputation(0, 9));
    await database.sql`truncate analysers`;
    await workToTheEnd(shopOf());
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'failed', problem: expect.stringContaining('fleet') });
  });
});

test('a short task is not kept waiting by a long one', async () => {
  await ask(database, 't1', recomputation(0, 9), minutesAfter(0));
  await ask(
    database,
    't2',
    { kind: 'change', before: minutesAfter(0).toISOString(), after: minutesAfter(9).toISOString() },
    minutesAfter(1),
  );
  expect((await nextTask(database.sql, 'c1'))?.id).toBe('t2');
});
