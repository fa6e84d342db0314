import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { listCalibrations } from '../../shared/db/calibrations.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { listTasks } from '../../shared/db/tasks.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import { makeChamberTurn } from '../../workers/chamberTurn.ts';
import { openGate } from '../../workers/gate.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { workTask } from '../../workers/tasks.ts';
import { ask, change, pattern, recomputation, taskOf, workToTheEnd } from '../support/askedTasks.ts';
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
    watch_memory, chamber_states, baselines, calibrations, tasks, recomputed_readings`;
  await storeFleet(database.sql, aFleet('c1'));
});

const shopOf = (script: Script = {}, stated: Partial<Workshop> = {}): Workshop =>
  openWorkshop({ database, science: scriptedScience(script), log: quiet, stopping: () => false, ...stated });
const give = (from: number, count: number) =>
  accept(database.sql, { chamber: 'c1', scans: Array.from({ length: count }, (_, i) => aScan(from + i)) });

test('tasks of a chamber are done in the order in which they were asked', async () => {
  await give(0, 5);
  await ask(database, 'second', change(0, 4), minutesAfter(2));
  await ask(database, 'first', pattern('N2', 0, 4), minutesAfter(1));
  const order: string[] = [];
  const marked: Script['marked'] = {
    pattern: () => {
      order.push('first');
      return { ok: false, problem: 'no' };
    },
    change: () => {
      order.push('second');
      return { ok: true, gases: [{ gas: 'N2', changePa: 1e-8, sigmaPa: 1e-9, significant: true }] };
    },
  };
  await workToTheEnd(shopOf({ marked }));
  expect(order).toEqual(['first', 'second']);
  expect((await listTasks(database.sql, 'c1-a')).map(({ id, state }) => [id, state])).toEqual([
    ['second', 'done'],
    ['first', 'failed'],
  ]);
});

describe('a change between two scans', () => {
  test('is that of the last scan before and the first after, and says which they were', async () => {
    await give(0, 5);
    const request = {
      kind: 'change' as const,
      before: new Date(minutesAfter(1).getTime() + 20_000).toISOString(),
      after: new Date(minutesAfter(2).getTime() + 20_000).toISOString(),
    };
    await ask(database, 't1', request);
    await workToTheEnd(shopOf());
    expect((await taskOf(database, 't1')).change).toEqual({
      before: minutesAfter(1).toISOString(),
      after: minutesAfter(3).toISOString(),
      gases: [{ gas: 'N2', changePa: 1e-8, sigmaPa: 1e-9, significant: true }],
    });
  });

  test.each([
    [4, 2, 'The two instants name one scan, or the later one first.'],
    [2, 2, 'The two instants name one scan, or the later one first.'],
    [-5, 2, `There is no scan of c1-a at or before ${minutesAfter(-5).toISOString()}.`],
    [2, 50, `There is no scan of c1-a at or after ${minutesAfter(50).toISOString()}.`],
  ])('from minute %i to %i of five is refused', async (before, after, problem) => {
    await give(0, 5);
    await ask(database, 't1', change(before, after));
    await workToTheEnd(shopOf());
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'failed', problem });
  });
});

describe('what fails', () => {
  test('ends as failed with a reason in words, and the next is taken up', async () => {
    await give(0, 5);
    await ask(database, 't1', pattern('N2', 0, 4), minutesAfter(1));
    await ask(database, 't2', change(0, 4), minutesAfter(2));
    const marked: Script['marked'] = {
      pattern: () => {
        throw new RangeError('too steep');
      },
    };
    await workToTheEnd(shopOf({ marked }));
    expect(await taskOf(database, 't1')).toMatchObject({
      state: 'failed',
      problem: 'This could not be worked out: too steep',
      finishedAt: expect.any(Date),
    });
    expect((await taskOf(database, 't2')).state).toBe('done');
  });

  test('also when it is the database that refuses the result', async () => {
    await give(0, 5);
    await ask(database, 't1', pattern('N2', 0, 4));
    const marked: Script['marked'] = {
      pattern: ({ gas }) => ({
        ok: true,
        pattern: {
          gas: `${gas}\0`,
          peaks: {},
          fragmentUncertainty: 0,
          responseAtLargest: null,
          responseUncertainty: null,
        },
        remarks: [],
      }),
    };
    await workToTheEnd(shopOf({ marked }));
    expect(await taskOf(database, 't1')).toMatchObject({ state: 'failed', calibration: null });
    expect(await listCalibrations(database.sql, 'c1-a')).toEqual([]);
  });

  test('because the database is away stays as it was', async () => {
    await give(0, 5);
    await ask(database, 't1', pattern('N2', 0, 4));
    const away = {
      ...database,
      transaction: () => Promise.reject(Object.assign(new Error('gone'), { code: '57P01' })),
    };
    await expect(workTask(shopOf({}, { database: away }), 'c1')).rejects.toThrow('gone');
    expect((await taskOf(database, 't1')).state).toBe('waiting');
  });
});

test('two workers on one task give one result and one proposal', async () => {
  await give(0, 5);
  await ask(database, 't1', pattern('N2', 0, 4));
  await Promise.all([shopOf(), shopOf(), shopOf()].map((shop) => workToTheEnd(shop)));
  expect((await taskOf(database, 't1')).state).toBe('done');
  expect(await listCalibrations(database.sql, 'c1-a')).toHaveLength(1);
});

test('a worker that is stopping leaves the task waiting', async () => {
  await give(0, 5);
  await ask(database, 't1', pattern('N2', 0, 4));
  expect(await workTask(shopOf({}, { stopping: () => true }), 'c1')).toBe(true);
  expect((await taskOf(database, 't1')).state).toBe('waiting');
});

describe('the turn of a chamber', () => {
  test('takes fresh scans first, and asks for the next turn while a task is not done', async () => {
    await give(0, 20);
    await ask(database, 't1', recomputation(0, 19));
    const nudged: string[][] = [];
    let stopping = false;
    const order: string[] = [];
    const shop = shopOf(
      {
        watch: ({ id }) => void order.push(id),
        analyse: ({ id }) => void (order.includes(id) && order.push(`again ${id}`)),
      },
      { stopping: () => stopping },
    );
    const turn = makeChamberTurn({
      shop,
      gate: openGate(),
      nudge: async (chambers) => void nudged.push([...chambers]),
    });
    let turns = 0;
    do {
      await turn('c1');
      turns++;
    } while (nudged.length === turns);
    expect(order.slice(0, 21)).toEqual([...Array.from({ length: 20 }, (_, i) => `m${i}`), 'again m0']);
    expect((await taskOf(database, 't1')).state).toBe('done');
    nudged.length = 0;
    await ask(database, 't2', recomputation(0, 19));
    const busy = makeChamberTurn({
      shop,
      gate: async () => true,
      nudge: async (chambers) => void nudged.push([...chambers]),
    });
    await busy('c1');
    expect(nudged).toEqual([['c1']]);
    stopping = true;
    await busy('c1');
    expect(nudged).toEqual([['c1']]);
  });

  test('leaves the task alone while there are more scans than a turn holds', async () => {
    await give(0, 5);
    await ask(database, 't1', pattern('N2', 0, 4));
    await analyseChamber(shopOf(), 'c1');
    await give(10, 1);
    const gate = async () => {
      throw new Error('a task was taken up');
    };
    const nudged: string[][] = [];
    const full = shopOf({}, { stopping: () => true });
    const turn = makeChamberTurn({ shop: full, gate, nudge: async (chambers) => void nudged.push([...chambers]) });
    await turn('c1');
    expect((await taskOf(database, 't1')).state).toBe('waiting');
  });
});
