/** How alerts of a chamber are handled, from what people have set, through the real writing of batches. */
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { BUILT_IN_RATIONALISATION } from '../../shared/catalogue/rationalisation.ts';
import type { RationalisationRecord } from '../../shared/contract/rationalisation.ts';
import type { OperatingState, Signature } from '../../shared/contract/words.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { readInForceFor, writeVersion } from '../../shared/db/rationalisations.ts';
import { endBreak, listBreaks, writeBreak } from '../../shared/db/serviceBreaks.ts';
import type { SignatureRule } from '../../shared/watch/types.ts';
import { analyseChamber } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { readPractice } from '../../workers/practice.ts';
import type { Science } from '../../workers/science.ts';
import { makeSweep } from '../../workers/sweep.ts';
import { raised, returned, type Script, scriptedScience } from '../support/scriptedScience.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../support/services.ts';
import { accept, aScan, minutesAfter, storeFleet, whatIsStored } from '../support/storedFleet.ts';

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
    latest, watch_memory, chamber_states, baselines, alerts, alert_moves, rationalisations, service_breaks`;
  await storeFleet(database.sql, {
    chambers: [{ id: 'c1', kind: 'optics' }],
    analysers: ['a', 'b'].map((one) => ({ id: `c1-${one}`, chamber: 'c1', sensitivityAmperesPerPascal: 7.5e-7 })),
  });
  now = minutesAfter(0);
});

type Told = Parameters<typeof accept>[1]['scans'][number];
const scan = (minute: number, state?: OperatingState, analyser = 'c1-a'): Told =>
  aScan(minute, { analyser, id: `${analyser}-m${minute}`, ...(state ? { state } : {}) });
const shopOf = (script: Script, rules?: (told: readonly SignatureRule[]) => void) => {
  const science = scriptedScience(script);
  const watchScan: Science['watchScan'] = (memory, context, input) => {
    rules?.(context.rules ?? []);
    return science.watchScan(memory, context, input);
  };
  return openWorkshop({ database, science: { ...science, watchScan }, log: quiet, stopping: () => false });
};
const analyse = async (script: Script, ...scans: Told[]) => {
  await accept(database.sql, { chamber: 'c1', scans });
  while (await analyseChamber(shopOf(script), 'c1'));
};
const at = (minute: number) => minutesAfter(minute).getTime();
const write = (signature: Signature, kind: string | null, change: Partial<RationalisationRecord>) =>
  database.transaction(async (tx) => {
    const basedOn = (await readInForceFor(tx, kind))[signature].version;
    const record = { ...BUILT_IN_RATIONALISATION[signature].record, ...change };
    return writeVersion(tx, { signature, kind, basedOn, record, note: 'tried', at: minutesAfter(0), by: 'eve' });
  });
const stood = async () =>
  (
    await database.sql<{ signature: string; state: string; latching: boolean; version: number; responder: string }[]>`
      select signature, state, latching, rationalisation_version as version, responder from alerts
      where signature <> 'silent' order by raised_at, id`
  ).map((row) => ({ ...row }));
const audit = async () =>
  (
    await database.sql`select m.move, m.from_state, m.to_state from alert_moves m join alerts a on a.id = m.alert
    where a.signature <> 'silent' order by m.alert, m.seq`
  ).map(({ move, from_state, to_state }) => `${move}: ${from_state} to ${to_state}`);
const sweep = () => makeSweep({ database, now: () => now, log: quiet, who: 'one', nudge: async () => {} })();
const water = {
  events: ({ id, atMs }: { id: string; atMs: number }) => (id.endsWith('-m1') ? [raised(atMs, 'water')] : []),
};

describe('the rationalisation in force', () => {
  test("reaches the watch as rules: only what differs from what is built in, of the chamber's kind", async () => {
    const told: (readonly SignatureRule[])[] = [];
    const run = async (minute: number) => {
      await accept(database.sql, { chamber: 'c1', scans: [scan(minute)] });
      await analyseChamber(
        shopOf({}, (rules) => told.push(rules)),
        'c1',
      );
    };
    await run(1);
    await write('water', null, { leastDecades: 0.4, owner: 'somebody' });
    await write('helium', null, { owner: 'somebody' });
    await write('frozen', 'load-lock', { priority: 'low' });
    await run(2);
    await write('water', 'optics', { onDelayScans: 9, armedStates: ['base'] });
    await run(3);
    expect(told).toEqual([
      [],
      [{ signature: 'water', leastDecades: 0.4 }],
      [{ signature: 'water', armedStates: ['base'], onDelayScans: 9 }],
    ]);
  });

  test('is what an alert is raised under', async () => {
    await write('water', 'optics', { latching: true, responder: 'engineer', reAlarmHours: 2 });
    await analyse(water, scan(1));
    expect(await stood()).toEqual([
      { signature: 'water', state: 'unacknowledged', latching: true, version: 1, responder: 'engineer' },
    ]);
    await write('water', 'optics', { latching: false });
    await analyse({ events: ({ atMs }) => [returned(atMs, 'water')] }, scan(2));
    expect(await stood()).toMatchObject([{ state: 'returned-unacknowledged', latching: true, version: 1 }]);
  });
});

describe('the operating state', () => {
  const story = [
    scan(0, 'base'),
    scan(1),
    scan(2),
    scan(3, 'vented'),
    scan(4),
    scan(5, 'pump-down'),
    scan(6, 'base'),
    scan(7),
  ];

  test('suppresses by design as of its scan and gives back, in any batching', async () => {
    await analyse(water, ...story);
    expect(await stood()).toMatchObject([{ signature: 'water', state: 'unacknowledged' }]);
    expect(await audit()).toEqual([
      'raise: null to unacknowledged',
      'suppress: unacknowledged to suppressed',
      'unsuppress: suppressed to unacknowledged',
    ]);
    const whole = await whatIsStored(database);
    expect(whole.moves.map(({ at: when }) => when)).toEqual([1, 3, 6].map(minutesAfter));
    await database.sql`truncate scan_keys, scans, readings, latest, watch_memory, chamber_states, baselines, alerts, alert_moves`;
    for (const one of story) await analyse(water, one);
    const byScan = await whatIsStored(database);
    for (const part of ['alerts', 'moves', 'states'] as const) expect(byScan[part], part).toEqual(whole[part]);
  });

  test('of the neighbour counts for an analyser that knows none', async () => {
    await analyse(water, scan(0), scan(0.5, 'vented', 'c1-b'), scan(1));
    expect(await stood()).toMatchObject([{ signature: 'water', state: 'suppressed' }]);
    expect(await audit()).toEqual(['raise: null to suppressed']);
    expect(await readPracticeNow()).toMatchObject({ operatingState: { state: 'vented', sinceMs: at(0.5) } });
  });
  const readPracticeNow = () => database.transaction((tx) => readPractice(tx, 'c1'));
});

describe('a break of service', () => {
  const pause = { chamber: 'c1', signature: 'water' as const, reason: 'repair', setAt: minutesAfter(0), setBy: 'eve' };
  const begin = (until: Date) => database.transaction((tx) => writeBreak(tx, { ...pause, until }));

  test('takes what is raised meanwhile out of service at once; the clock gives it back, and calls then', async () => {
    await begin(minutesAfter(60));
    await analyse(water, scan(1));
    expect(await stood()).toMatchObject([{ state: 'out-of-service' }]);
    expect(await audit()).toEqual(['raise: null to out-of-service']);
    now = minutesAfter(59);
    await sweep();
    expect(await stood()).toMatchObject([{ state: 'out-of-service' }]);
    now = minutesAfter(61);
    await sweep();
    expect(await stood()).toMatchObject([{ state: 'unacknowledged' }]);
    expect((await audit()).at(-1)).toBe('return-to-service: out-of-service to unacknowledged');
    expect(
      await database.sql`select out_of_service_until, out_of_service_by, state_before from alerts
      where signature = 'water'`,
    ).toEqual([{ out_of_service_until: null, out_of_service_by: null, state_before: null }]);
  });

  test('that is over counts no more; a later one takes its place', async () => {
    await begin(minutesAfter(0.5));
    await analyse(water, scan(1));
    expect(await stood()).toMatchObject([{ state: 'unacknowledged' }]);
    await begin(minutesAfter(90));
    expect(await listBreaks(database.sql, minutesAfter(89))).toMatchObject([{ ...pause, until: minutesAfter(90) }]);
    expect(await listBreaks(database.sql, minutesAfter(90))).toEqual([]);
    const end = (minute: number) =>
      database.transaction((tx) => endBreak(tx, { chamber: 'c1', signature: 'water', now: minutesAfter(minute) }));
    expect([await end(1), await end(1)]).toEqual([true, false]);
  });
});

describe('re-alarm', () => {
  test('asks again once what was acknowledged has stood for its hours, by the clock', async () => {
    await write('water', null, { reAlarmHours: 2 });
    await analyse(water, scan(1));
    await database.sql`update alerts set state = 'acknowledged', acknowledged_at = ${minutesAfter(10)},
      acknowledged_by = 'ann', acknowledged_note = ''`;
    now = minutesAfter(129);
    await sweep();
    expect(await stood()).toMatchObject([{ state: 'acknowledged' }]);
    now = minutesAfter(131);
    await sweep();
    await sweep();
    expect(await stood()).toMatchObject([{ state: 'unacknowledged' }]);
    expect(await audit()).toEqual(['raise: null to unacknowledged', 're-alarm: acknowledged to unacknowledged']);
  });

  test('not what has returned and is latched, and not what has no hours', async () => {
    await analyse(water, scan(1));
    const [set] = await database.sql`update alerts set state = 'acknowledged', acknowledged_at = ${minutesAfter(10)},
      acknowledged_by = 'ann', latching = true returning re_alarm_hours`;
    expect(set).toEqual({ re_alarm_hours: null });
    now = minutesAfter(60 * 24 * 30);
    await sweep();
    await database.sql`update alerts set re_alarm_hours = 2, active = false, returned_at = ${minutesAfter(20)}`;
    await sweep();
    expect(await stood()).toMatchObject([{ state: 'acknowledged' }]);
  });
});
