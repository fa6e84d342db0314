import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { analyseChamber } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeSweep } from '../../workers/sweep.ts';
import { ask, change, taskOf, workToTheEnd } from '../support/askedTasks.ts';
import { raised, returned, scriptedScience } from '../support/scriptedScience.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../support/services.ts';
import { accept, aFleet, aScan, minutesAfter, storeFleet } from '../support/storedFleet.ts';

let fresh: FreshDatabase;
let database: Database;
let now = minutesAfter(0);

beforeAll(async () => {
  fresh = await freshDatabase();
  database = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
});
afterAll(async () => {
  await database.close();
  await fresh.drop();
});
beforeEach(async () => {
  await database.sql`truncate settings, areas, chambers, analysers, scan_keys, scans, outstanding_scans, readings,
    latest, watch_memory, chamber_states, baselines, alerts, alert_moves, tasks`;
  now = minutesAfter(0);
});

const nudged: string[][] = [];
const sweeper = (who = 'one') =>
  makeSweep({
    database,
    now: () => now,
    log: quiet,
    who,
    nudge: async (chambers) => void nudged.push([...chambers]),
  });
/** A scan of the chamber's analyser, received when it was made unless told otherwise. */
const give = (chamber: string, minute: number, stated: { receivedAt?: Date; state?: 'vented' } = {}) => {
  const { receivedAt = minutesAfter(minute), ...scan } = stated;
  return accept(database.sql, { chamber, scans: [aScan(minute, { analyser: `${chamber}-a`, ...scan })], receivedAt });
};
const events = ({ id, atMs }: { id: string; atMs: number }) =>
  id === 'm1' ? [raised(atMs, 'water')] : id === 'm2' ? [returned(atMs, 'water')] : [];
const shop = () => openWorkshop({ database, science: scriptedScience({ events }), log: quiet, stopping: () => false });
const analyse = (chamber: string) => analyseChamber(shop(), chamber);
const silent = () => database.sql<
  { chamber: string; state: string; raised_at: Date; returned_at: Date | null; held_by: string[] }[]
>`
  select chamber, state, raised_at, returned_at, held_by from alerts where signature = 'silent' order by raised_at, id`;

describe('lost nudges', () => {
  beforeEach(async () => {
    nudged.length = 0;
    await storeFleet(database.sql, aFleet('c1', 'c2', 'c3'));
  });

  test('chambers whose scans have waited are nudged again, each once; fresh scans are left to their own nudge', async () => {
    await give('c1', 1, { receivedAt: minutesAfter(0) });
    await give('c1', 2, { receivedAt: minutesAfter(0) });
    await give('c3', 1, { receivedAt: minutesAfter(0) });
    now = minutesAfter(1);
    await give('c2', 1, { receivedAt: now });
    await sweeper()();
    expect(nudged).toEqual([['c1', 'c3']]);
  });

  test('a chamber whose task waits is nudged until it is done; one that was just asked is left to its own nudge', async () => {
    await ask(database, 't1', change(0, 1), minutesAfter(0));
    now = minutesAfter(0);
    await sweeper()();
    expect(nudged).toEqual([]);
    now = minutesAfter(1);
    await sweeper()();
    now = minutesAfter(2);
    await sweeper()();
    expect(nudged).toEqual([['c1'], ['c1']]);
    await workToTheEnd(shop());
    expect((await taskOf(database, 't1')).state).toBe('failed');
    now = minutesAfter(3);
    await sweeper()();
    expect(nudged).toHaveLength(2);
  });

  test('a chamber whose oldest scan has just come, but which has waited otherwise, is nudged', async () => {
    await give('c1', 5, { receivedAt: minutesAfter(5) });
    now = minutesAfter(6);
    await give('c1', 1, { receivedAt: now });
    await sweeper()();
    expect(nudged).toEqual([['c1']]);
  });

  test('nothing waits: nobody is nudged', async () => {
    await sweeper()();
    expect(nudged).toEqual([]);
  });
});

test('of many workers one sweeps, and another takes over when it is gone', async () => {
  await storeFleet(database.sql, aFleet('c1'));
  await give('c1', 0);
  now = minutesAfter(1);
  nudged.length = 0;
  const sweeps = ['one', 'two', 'three'].map((who) => sweeper(who));
  await Promise.all(sweeps.map((sweep) => sweep()));
  await Promise.all(sweeps.map((sweep) => sweep()));
  expect(nudged).toHaveLength(2);
  now = minutesAfter(1.3);
  await Promise.all(sweeps.map((sweep) => sweep()));
  expect(nudged).toHaveLength(3);
});

describe('shelving that is over', () => {
  const shelve = (until: Date) =>
    database.sql`update alerts set state = 'shelved', shelved_until = ${until}, shelved_reason = 'bake' where signature = 'water'`;
  beforeEach(async () => {
    await storeFleet(database.sql, aFleet('c1'));
    await give('c1', 1);
    await analyse('c1');
  });

  test('brings an alert back whose condition stands', async () => {
    await shelve(minutesAfter(30));
    now = minutesAfter(29);
    await sweeper()();
    expect(await database.sql`select state from alerts where signature = 'water'`).toEqual([{ state: 'shelved' }]);
    now = minutesAfter(31);
    await sweeper()();
    expect(
      await database.sql`select state, shelved_until, shelved_reason from alerts where signature = 'water'`,
    ).toEqual([{ state: 'unacknowledged', shelved_until: null, shelved_reason: null }]);
    expect(
      await database.sql`select at, move, by, from_state, to_state from alert_moves order by seq desc limit 1`,
    ).toEqual([
      { at: minutesAfter(30), move: 'unshelve', by: null, from_state: 'shelved', to_state: 'unacknowledged' },
    ]);
  });

  test('leaves one to be acknowledged whose condition went away meanwhile', async () => {
    await shelve(minutesAfter(30));
    await give('c1', 2);
    await analyse('c1');
    now = minutesAfter(31);
    await sweeper()();
    expect(await database.sql`select state from alerts where signature = 'water'`).toEqual([
      { state: 'returned-unacknowledged' },
    ]);
  });
});

describe('silence', () => {
  /** One process that sweeps twice a minute. */
  const sweepsEveryHalfMinute = () => {
    const sweep = sweeper();
    return async (fromMinute: number, toMinute: number) => {
      for (let minute = fromMinute; minute <= toMinute; minute += 0.4) {
        now = minutesAfter(minute);
        await sweep();
      }
    };
  };
  beforeEach(async () => {
    await storeFleet(database.sql, aFleet('c1', 'c2'));
    await give('c1', 0);
    await analyse('c1');
  });

  test('is raised when the allowed time is over, as of that instant; who never sent is not silent', async () => {
    const sweep = sweepsEveryHalfMinute();
    await sweep(0, 9.9);
    expect(await silent()).toEqual([]);
    await sweep(10, 12);
    expect(await silent()).toEqual([
      { chamber: 'c1', state: 'unacknowledged', raised_at: minutesAfter(10), returned_at: null, held_by: ['c1-a'] },
    ]);
  });

  test('ends with the next scan, not before it began', async () => {
    const sweep = sweepsEveryHalfMinute();
    await sweep(0, 12);
    await give('c1', 3, { receivedAt: minutesAfter(12) });
    await analyse('c1');
    expect(await silent()).toMatchObject([
      { state: 'returned-unacknowledged', returned_at: minutesAfter(10), held_by: [] },
    ]);
    await sweep(12, 12.4);
    await give('c1', 13);
    await analyse('c1');
    await sweep(13, 22.5);
    expect(await silent()).toHaveLength(1);
    await sweep(22.6, 24);
    expect(await silent()).toMatchObject([{ state: 'unacknowledged', returned_at: null, held_by: ['c1-a'] }]);
  });

  test('is not judged while scans wait, nor while the past is being sent in', async () => {
    const sweep = sweepsEveryHalfMinute();
    await sweep(0, 9.9);
    await give('c1', 1, { receivedAt: minutesAfter(11) });
    await sweep(10, 12.1);
    expect(await silent()).toEqual([]);
    await give('c1', 1.5, { receivedAt: minutesAfter(13.1) });
    await analyse('c1');
    await sweep(12.4, 13.3);
    expect(await silent()).toEqual([]);
    await sweep(13.6, 13.7);
    expect(await silent()).toMatchObject([{ raised_at: minutesAfter(11.5) }]);
  });

  test('is not judged for a while after an outage of ours, whichever process sweeps then', async () => {
    await sweepsEveryHalfMinute()(0, 1);
    await sweepsEveryHalfMinute()(100, 103);
    await sweepsEveryHalfMinute()(103.2, 104.9);
    expect(await silent()).toEqual([]);
    await sweepsEveryHalfMinute()(105.1, 105.3);
    expect(await silent()).toHaveLength(1);
  });

  test('is no news in a vented chamber, nor of what is retired', async () => {
    await give('c2', 1, { state: 'vented' });
    await analyse('c2');
    await database.sql`update analysers set retired_at = now() where id = 'c1-a'`;
    const sweep = sweepsEveryHalfMinute();
    await sweep(0, 20);
    expect(await silent()).toEqual([]);
  });

  test('that a person has closed is raised again only after the allowed time has passed once more', async () => {
    const sweep = sweepsEveryHalfMinute();
    await sweep(0, 12);
    await database.sql`update alerts set state = 'normal', active = false, closed_at = ${minutesAfter(12)},
      closed_by = 'ann', closed_cause = 'filament off'`;
    await sweep(12, 21.9);
    expect(await silent()).toMatchObject([{ state: 'normal' }]);
    await sweep(22, 23);
    expect(await silent()).toMatchObject([
      { state: 'normal', held_by: [] },
      { state: 'unacknowledged', raised_at: minutesAfter(22), held_by: ['c1-a'] },
    ]);
  });

  test('of two analysers of one chamber is one alert', async () => {
    await storeFleet(database.sql, {
      chambers: [],
      analysers: [{ id: 'second', chamber: 'c1' }],
    });
    await accept(database.sql, {
      chamber: 'c1',
      scans: [aScan(2, { analyser: 'second' })],
      receivedAt: minutesAfter(2),
    });
    await analyse('c1');
    const sweep = sweepsEveryHalfMinute();
    await sweep(0, 14);
    expect(await silent()).toMatchObject([{ raised_at: minutesAfter(10), held_by: ['c1-a', 'second'] }]);
  });
});
