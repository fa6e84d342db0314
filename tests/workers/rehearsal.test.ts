import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { BUILT_IN_RATIONALISATION } from '../../shared/catalogue/rationalisation.ts';
import type { NewRehearsal, RehearsedChange } from '../../shared/contract/rehearsal.ts';
import type { Scan } from '../../shared/contract/scans.ts';
import type { Signature } from '../../shared/contract/words.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { readTask } from '../../shared/db/tasks.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience } from '../../workers/science.ts';
import { nextTask } from '../../workers/taskRows.ts';
import { workTask } from '../../workers/tasks.ts';
import { ask, recomputation, workToTheEnd } from '../support/askedTasks.ts';
import { askPin, askRehearsal, rehearsed } from '../support/rehearsals.ts';
import { raised, returned, type Script, scriptedScience } from '../support/scriptedScience.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../support/services.ts';
import { accept, aFleet, aScan, minutesAfter, storeFleet } from '../support/storedFleet.ts';
import { STORIES, type Story } from '../support/strangerFleet.ts';
import { fleetOf, scansOf } from '../support/strangers.ts';

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
    watch_memory, chamber_states, baselines, calibrations, tasks, rehearsals, rationalisations, baseline_pins, limits,
    alerts, alert_moves, fleet_versions, recomputed_readings`;
});

const END_MS = Date.parse('2031-03-04T18:00:00Z');
const story = (id: string) => STORIES.find((one) => one.id === id) as Story;
const historyOf = (id: string, minutes = 300) =>
  scansOf(story(id), { endMs: END_MS, minutes, periodSeconds: 60 }) as Scan[];

const realShop = (stated: Partial<Workshop> = {}): Workshop =>
  openWorkshop({ database, science: makeScience(), log: quiet, stopping: () => false, ...stated });

const analyse = async (shop: Workshop, chamber: string) => {
  while (await analyseChamber(shop, chamber));
};

/** The history of a chamber as it came in, judged live. */
const live = async (id: string, scans = historyOf(id)) => {
  await storeFleet(database.sql, fleetOf([story(id)]));
  await accept(database.sql, { chamber: id, scans });
  await analyse(realShop(), id);
};

/** What live has raised, as a rehearsal tells it. */
const alertsOf = async (chamber: string) =>
  (
    await database.sql<
      { signature: string; priority: string; gases: string[]; raised_at: Date; returned_at: Date | null }[]
    >`select signature, priority, gases, raised_at, returned_at from alerts where chamber = ${chamber}
      order by raised_at, signature`
  ).map(({ raised_at, returned_at, gases, ...rest }) => ({
    ...rest,
    gases: [...gases].sort(),
    raisedAt: raised_at.toISOString(),
    returnedAt: returned_at?.toISOString() ?? null,
  }));

const sorted = <A extends { gases: readonly string[]; raisedAt: string; signature: string }>(alerts: readonly A[]) =>
  [...alerts]
    .map((alert) => ({ ...alert, gases: [...alert.gases].sort() }))
    .sort((a, b) => (a.raisedAt + a.signature < b.raisedAt + b.signature ? -1 : 1));

/** The same history judged live in a database of its own, with the changed setting from the beginning. */
const liveWith = async (id: string, set: (other: Database) => Promise<unknown>) => {
  const own = await freshDatabase();
  const other = openDatabase(own.url, { applicationName: 'test', log: quiet });
  const before = database;
  try {
    database = other;
    await storeFleet(other.sql, fleetOf([story(id)]));
    await set(other);
    await accept(other.sql, { chamber: id, scans: historyOf(id) });
    await analyse(realShop(), id);
    return await alertsOf(id);
  } finally {
    database = before;
    await other.close();
    await own.drop();
  }
};

const LIMITS = [{ gas: 'O2', limitPa: 3e-8, priority: 'high' as const }];
const setLimits = (other: Database) => other.sql`
  insert into limits (chamber, gas, limit_pa, priority, note, set_at, set_by)
  values ('air-wet', 'O2', 3e-8, 'high', '', now(), 'ann')`;

const record = (signature: Signature, changed: object) => ({
  ...BUILT_IN_RATIONALISATION[signature].record,
  ...changed,
});
const setRecord = (signature: Signature, changed: object) => (other: Database) =>
  other.sql`
  insert into rationalisations (signature, kind, version, record, note, set_at, set_by)
  values (${signature}, '', 1, ${other.sql.json(record(signature, changed) as never)}, 'tried', now(), 'ann')`;

const rehearse = async (id: string, change: RehearsedChange, shop = realShop(), days = 90) => {
  const request: NewRehearsal = { chamber: id, days, change };
  const places = [{ chamber: id, analyser: `${id}-a` }];
  await askRehearsal(database, 'r1', { request, places, askedAt: new Date(END_MS + 60_000) });
  await workToTheEnd(shop, id);
  return await rehearsed(database, 'r1');
};

describe('with the real watch', () => {
  test('a limit is judged over the readings as it would have been live', async () => {
    await live('air-wet');
    const { state, result, scans } = await rehearse('air-wet', { kind: 'limits', limits: LIMITS });
    expect([state, scans]).toEqual(['done', 301]);
    const changed = (await liveWith('air-wet', setLimits)).filter(({ signature }) => signature === 'limit');
    expect(changed).toHaveLength(1);
    expect(sorted(result?.asChanged ?? [])).toEqual(changed);
    expect(result?.asIs).toEqual([]);
    expect(sorted(result?.gained ?? [])).toEqual(changed);
  });

  test('a longer on-delay moves the alert to when live would have raised it', async () => {
    await live('air-wet');
    const change = { kind: 'rationalisation', signature: 'air-leak', record: record('air-leak', { onDelayScans: 12 }) };
    const { state, result } = await rehearse('air-wet', change as RehearsedChange);
    expect(state).toBe('done');
    expect(sorted(result?.asIs ?? [])).toEqual(await alertsOf('air-wet'));
    expect(result?.asIs.map(({ signature }) => signature)).toContain('air-leak');
    const changed = await liveWith('air-wet', setRecord('air-leak', { onDelayScans: 12 }));
    expect(sorted(result?.asChanged ?? [])).toEqual(changed);
    const [moved] = result?.moved ?? [];
    expect(moved?.asIs.signature).toBe('air-leak');
    const minutes = (Date.parse(moved?.asChanged.raisedAt ?? '') - Date.parse(moved?.asIs.raisedAt ?? '')) / 60_000;
    expect(minutes).toBeGreaterThan(3);
    expect([result?.gained, result?.lost]).toEqual([[], []]);
  });

  test('disarmed in the state that the chamber was in, the alert is lost', async () => {
    await live('air-wet');
    const change = {
      kind: 'rationalisation',
      signature: 'air-leak',
      record: record('air-leak', { armedStates: ['leak-check'] }),
    };
    const { result } = await rehearse('air-wet', change as RehearsedChange);
    expect(result?.lost.map(({ signature }) => signature)).toEqual(['air-leak']);
    expect(result?.asChanged.map(({ signature }) => signature)).not.toContain('air-leak');
    expect(result?.from).toBe(new Date(END_MS - 300 * 60_000).toISOString());
    expect(result?.to).toBe(new Date(END_MS).toISOString());
  });

  test('killed after every piece, it comes to the same', async () => {
    await live('air-wet');
    const change = { kind: 'rationalisation', signature: 'air-leak', record: record('air-leak', { onDelayScans: 12 }) };
    const whole = await rehearse('air-wet', change as RehearsedChange);
    await database.sql`truncate tasks, rehearsals`;
    const request: NewRehearsal = { chamber: 'air-wet', days: 90, change: change as RehearsedChange };
    const places = [{ chamber: 'air-wet', analyser: 'air-wet-a' }];
    await askRehearsal(database, 'r1', { request, places, askedAt: new Date(END_MS + 60_000) });
    const seen: number[] = [];
    for (let left = true; left; ) {
      // A process of its own for every piece: it stops between two of its transactions.
      let asked = 0;
      left = await workTask(realShop({ stopping: () => asked++ > 0 }), 'air-wet');
      const { scans, state, result } = await rehearsed(database, 'r1');
      seen.push(scans ?? 0);
      if (state === 'waiting' && scans !== null)
        expect(result).toMatchObject({ ofScans: 301, asIs: expect.any(Array) });
      if (state === 'done') break;
    }
    expect(seen.length).toBeGreaterThan(2);
    expect(await rehearsed(database, 'r1')).toEqual(whole);
  });

  test('where the days hold all of the history, nothing is read before them', async () => {
    await live('air-wet');
    const { result } = await rehearse('air-wet', { kind: 'limits', limits: [] }, realShop(), 1);
    expect(result?.notes).toEqual([]);
  });
});

const shopOf = (script: Script = {}, stated: Partial<Workshop> = {}): Workshop =>
  openWorkshop({ database, science: scriptedScience(script), log: quiet, stopping: () => false, ...stated });
const PLACE = [{ chamber: 'c1', analyser: 'c1-a' }];
const RULE = {
  kind: 'rationalisation',
  signature: 'water',
  record: record('water', { onDelayScans: 9 }),
} as RehearsedChange;
const try1 = (change: RehearsedChange, stated: Partial<NewRehearsal> = {}, askedAt = minutesAfter(100_000)) =>
  askRehearsal(database, 'r1', { request: { chamber: 'c1', change, ...stated }, places: PLACE, askedAt });

describe('the period', () => {
  beforeEach(() => storeFleet(database.sql, aFleet('c1')));
  const DAY = 24 * 60;
  const give = (days: readonly number[], perDay: number) =>
    accept(database.sql, {
      chamber: 'c1',
      scans: days.flatMap((day) =>
        Array.from({ length: perDay }, (_, i) => aScan(day * DAY + Math.floor((i * DAY) / perDay))),
      ),
    });

  test('begins a week of lead-in before the days that count', async () => {
    await give(
      Array.from({ length: 20 }, (_, day) => day),
      60,
    );
    await try1(RULE, { days: 5 });
    const given: string[] = [];
    await workToTheEnd(shopOf({ watch: ({ id }) => void given.push(id) }));
    const { result } = await rehearsed(database, 'r1');
    const last = 19 * DAY + Math.floor((59 * DAY) / 60);
    expect(result?.from).toBe(minutesAfter(last - 5 * DAY).toISOString());
    expect(given[0]).toBe(`m${7 * DAY + Math.floor((59 * DAY) / 60)}`);
    expect(result?.notes?.[0]).toBe(
      `Read from ${minutesAfter(last - 12 * DAY).toISOString()} on, so that what is usual is learned; counted from ${result?.from}.`,
    );
  });

  test('goes back to the 200th scan where scans are rare', async () => {
    await give(
      Array.from({ length: 150 }, (_, day) => day),
      2,
    );
    await try1(RULE, { days: 5 }, minutesAfter(149 * DAY + 1));
    await workToTheEnd(shopOf());
    const { result, scans } = await rehearsed(database, 'r1');
    // The last scan is of the morning of day 149: five days before it count, both ends included.
    expect(result?.from).toBe(minutesAfter(144 * DAY).toISOString());
    expect(scans).toBe(200 + 11);
  });

  test('alerts of the lead-in that are over do not count, one that still stands does', async () => {
    await give(
      Array.from({ length: 20 }, (_, day) => day),
      4,
    );
    const day = (n: number) => minutesAfter(n * DAY).getTime();
    const events: Script['events'] = ({ atMs }) => [
      ...(atMs === day(1) ? [raised(atMs, 'water'), raised(atMs, 'helium')] : []),
      ...(atMs === day(3) ? [returned(atMs, 'water')] : []),
    ];
    await try1(RULE, { days: 5 });
    await workToTheEnd(shopOf({ events }));
    const { result } = await rehearsed(database, 'r1');
    expect(result?.asIs).toEqual([
      expect.objectContaining({ signature: 'helium', raisedAt: minutesAfter(DAY).toISOString(), returnedAt: null }),
    ]);
  });

  test('ends with the newest scan that there was when it was asked', async () => {
    await give([0, 1], 10);
    await try1(RULE, {}, minutesAfter(DAY));
    await workToTheEnd(shopOf());
    expect((await rehearsed(database, 'r1')).result?.to).toBe(minutesAfter(DAY).toISOString());
    expect((await rehearsed(database, 'r1')).scans).toBe(11);
  });

  test('scans that came late move no alert in a rehearsal either', async () => {
    await give([1], 10);
    await analyse(shopOf(), 'c1');
    await give([0], 10);
    await analyse(shopOf(), 'c1');
    await try1(RULE);
    const given: string[] = [];
    await workToTheEnd(shopOf({ watch: ({ id }) => void given.push(id) }));
    expect(new Set(given)).toEqual(new Set(Array.from({ length: 10 }, (_, i) => `m${DAY + i * 144}`)));
    expect((await rehearsed(database, 'r1')).scans).toBe(20);
  });

  test('what people closed is closed in both', async () => {
    await give([0], 10);
    await database.sql`
      insert into alerts (chamber, id, analyser, signature, gases, priority, state, raised_at, closed_at, closed_by,
        closed_cause, active, held_by, finding)
      values ('c1', 'a1', 'c1-a', 'water', '{}', 'low', 'normal', ${minutesAfter(10)}, ${minutesAfter(300)}, 'ann', 'seal',
        false, '{}', '{}')`;
    const closed: string[] = [];
    const events: Script['events'] = ({ atMs, id }, closedByPerson) => {
      if (closedByPerson.length > 0) closed.push(`${id} ${closedByPerson}`);
      return atMs === minutesAfter(144).getTime() ? [raised(atMs, 'water')] : [];
    };
    await try1(RULE);
    await workToTheEnd(shopOf({ events }));
    expect(closed).toEqual(['m432 water', 'm432 water']);
    expect((await rehearsed(database, 'r1')).result?.asIs).toMatchObject([
      { signature: 'water', returnedAt: minutesAfter(300).toISOString() },
    ]);
  });
});

describe('without judging anew', () => {
  beforeEach(() => storeFleet(database.sql, aFleet('c1')));

  test('a record that moves no threshold is told from the alerts that there were', async () => {
    await accept(database.sql, { chamber: 'c1', scans: [aScan(0), aScan(90)] });
    await database.sql`
      insert into alerts (chamber, id, analyser, signature, gases, priority, state, raised_at, active, held_by, finding)
      values ('c1', 'a1', 'c1-a', 'water', '{H2O}', 'low', 'unacknowledged', ${minutesAfter(10)}, true, '{}', '{}')`;
    await database.sql`
      insert into alert_moves (chamber, alert, seq, at, move, to_state)
      values ('c1', 'a1', 1, ${minutesAfter(10)}, 'raise', 'unacknowledged'),
        ('c1', 'a1', 2, ${minutesAfter(20)}, 'return', 'returned-unacknowledged'),
        ('c1', 'a1', 3, ${minutesAfter(30)}, 're-raise', 'unacknowledged')`;
    const given: string[] = [];
    await try1({ kind: 'rationalisation', signature: 'water', record: record('water', { latching: true }) });
    await workToTheEnd(shopOf({ watch: ({ id }) => void given.push(id) }));
    expect(given).toEqual([]);
    const { result, state } = await rehearsed(database, 'r1');
    const alerts = [
      {
        signature: 'water',
        gases: ['H2O'],
        priority: 'low',
        raisedAt: minutesAfter(10).toISOString(),
        returnedAt: minutesAfter(20).toISOString(),
      },
      {
        signature: 'water',
        gases: ['H2O'],
        priority: 'low',
        raisedAt: minutesAfter(30).toISOString(),
        returnedAt: null,
      },
    ];
    expect(state).toBe('done');
    expect(result).toMatchObject({ asIs: alerts, asChanged: alerts, gained: [], lost: [], moved: [] });
    expect(result?.notes?.[0]).toMatch(/moves no threshold/);
  });

  test('silence, which the clock raises, takes the priority of its record', async () => {
    await accept(database.sql, { chamber: 'c1', scans: [aScan(0), aScan(90)] });
    await database.sql`
      insert into alerts (chamber, id, signature, gases, priority, state, raised_at, active, held_by, finding)
      values ('c1', 'a1', 'silent', '{}', 'medium', 'unacknowledged', ${minutesAfter(10)}, true, '{}', '{}')`;
    await database.sql`
      insert into alert_moves (chamber, alert, seq, at, move, to_state)
      values ('c1', 'a1', 1, ${minutesAfter(10)}, 'raise', 'unacknowledged')`;
    await try1({ kind: 'rationalisation', signature: 'silent', record: record('silent', { priority: 'low' }) });
    await workToTheEnd(shopOf());
    const { result } = await rehearsed(database, 'r1');
    expect(result?.moved.map(({ asIs, asChanged }) => [asIs.priority, asChanged.priority])).toEqual([
      ['medium', 'low'],
    ]);
  });
});

describe('what cannot be done', () => {
  beforeEach(() => storeFleet(database.sql, aFleet('c1')));

  test('no scans', async () => {
    await try1(RULE);
    await workToTheEnd(shopOf());
    expect(await rehearsed(database, 'r1')).toMatchObject({
      state: 'failed',
      problem: expect.stringMatching(/no scans/),
    });
  });

  test('settings that change meanwhile end it', async () => {
    await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 250 }, (_, i) => aScan(i)) });
    await try1(RULE);
    let seen = 0;
    await workTask(shopOf({ watch: () => void seen++ }, { stopping: () => seen > 0 }), 'c1');
    expect(await rehearsed(database, 'r1')).toMatchObject({ state: 'waiting', scans: 100 });
    await database.sql`
      insert into limits (chamber, gas, limit_pa, priority, note, set_at, set_by)
      values ('c1', 'N2', 1e-6, 'low', '', now(), 'ann')`;
    await workToTheEnd(shopOf());
    expect(await rehearsed(database, 'r1')).toMatchObject({
      state: 'failed',
      problem: expect.stringMatching(/Ask again/),
    });
  });

  test('a pin of which nothing was learned', async () => {
    await accept(database.sql, { chamber: 'c1', scans: [aScan(0)] });
    await askPin(database, 'p1', {
      ...(PLACE[0] as (typeof PLACE)[0]),
      from: minutesAfter(0),
      to: minutesAfter(9),
      at: minutesAfter(10),
    });
    await try1({ kind: 'baseline', pin: 'p1' });
    await workToTheEnd(shopOf());
    expect(await rehearsed(database, 'r1')).toMatchObject({
      state: 'failed',
      problem: expect.stringMatching(/worked out/),
    });
  });
});

test('two workers give one result', async () => {
  await storeFleet(database.sql, aFleet('c1'));
  await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 450 }, (_, i) => aScan(i)) });
  const events: Script['events'] = ({ atMs }) => [
    ...(atMs === minutesAfter(120).getTime() ? [raised(atMs, 'water')] : []),
    ...(atMs === minutesAfter(333).getTime() ? [returned(atMs, 'water')] : []),
  ];
  await try1(RULE);
  await Promise.all([shopOf({ events }), shopOf({ events }), shopOf({ events })].map((shop) => workToTheEnd(shop)));
  const alert = {
    signature: 'water',
    raisedAt: minutesAfter(120).toISOString(),
    returnedAt: minutesAfter(333).toISOString(),
  };
  expect(await rehearsed(database, 'r1')).toMatchObject({
    state: 'done',
    scans: 450,
    result: { asIs: [alert], asChanged: [alert], ofScans: 450 },
  });
});

test('its tasks are no tasks of the measurement, and come before recomputations', async () => {
  await storeFleet(database.sql, aFleet('c1'));
  await ask(database, 't1', recomputation(0, 9), minutesAfter(0));
  await try1(RULE, {}, minutesAfter(10));
  expect((await nextTask(database.sql, 'c1'))?.id).toBe('r1-c1');
  expect(await readTask(database.sql, 'r1-c1')).toBeNull();
});
