import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Scan } from '../../shared/contract/scans.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { unpackMemory } from '../../shared/db/memory.ts';
import { decidePin, readPin } from '../../shared/db/pins.ts';
import { baselineViews } from '../../shared/watch/watch.ts';
import { analyseChamber, type Workshop } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience, type Science } from '../../workers/science.ts';
import { workToTheEnd } from '../support/askedTasks.ts';
import { askPin, askRehearsal, rehearsed } from '../support/rehearsals.ts';
import { type Script, scriptedScience } from '../support/scriptedScience.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../support/services.ts';
import { accept, aFleet, aScan, MORNING, minutesAfter, storeFleet, whatIsStored } from '../support/storedFleet.ts';
import { STORIES, type Story } from '../support/strangerFleet.ts';
import { fleetOf, scansOf, seeded } from '../support/strangers.ts';

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
    watch_memory, chamber_states, baselines, tasks, rehearsals, baseline_pins, alerts, alert_moves, fleet_versions`;
});

const shopOf = (script: Script = {}): Workshop =>
  openWorkshop({ database, science: scriptedScience(script), log: quiet, stopping: () => false });
const realShop = (on = database, science: Science = makeScience()): Workshop =>
  openWorkshop({ database: on, science, log: quiet, stopping: () => false });
const analyse = async (shop: Workshop, chamber: string) => {
  while (await analyseChamber(shop, chamber));
};
const learned: Science['learnPinned'] = ({ inputs }) => ({
  kind: 'learned',
  baseline: { scans: inputs.map(({ scan }) => scan.id) },
  view: { state: 'base', sinceMs: 0, untilMs: 1, gases: {}, peaks: {} },
  scans: inputs.length,
  fromMs: 0,
  untilMs: 1,
});
const enforce = (id: string, at: Date, on = database, analyser = 'c1-a') =>
  on.transaction((tx) => decidePin(tx, { id, analyser, at, by: 'ann', note: 'clean', state: 'in-force' }));

describe('a pin', () => {
  const PLACE = { chamber: 'c1', analyser: 'c1-a', from: minutesAfter(10), to: minutesAfter(19), at: minutesAfter(30) };
  beforeEach(() => storeFleet(database.sql, aFleet('c1')));

  test('is learned from the scans of its period and state, and proposed', async () => {
    const scans = Array.from({ length: 30 }, (_, i) => aScan(i, i === 12 ? { state: 'gas-on' } : { state: 'base' }));
    await accept(database.sql, { chamber: 'c1', scans });
    await analyse(shopOf(), 'c1');
    await askPin(database, 'p1', PLACE);
    await workToTheEnd(shopOf({ learnPinned: learned }));
    expect(await readPin(database.sql, 'p1')).toMatchObject({
      state: 'proposed',
      scanCount: 9,
      problem: null,
      version: 1,
    });
    const [row] = await database.sql<{ baseline: Buffer }[]>`select baseline from baseline_pins where id = 'p1'`;
    expect(unpackMemory(row?.baseline as Buffer)).toEqual({
      scans: ['m10', 'm11', 'm13', 'm14', 'm15', 'm16', 'm17', 'm18', 'm19'],
    });
    expect(await database.sql`select state, scans from tasks`).toMatchObject([{ state: 'done', scans: 9 }]);
  });

  test('of a long period is learned from every so many scans, to its end', async () => {
    const scans = Array.from({ length: 2_500 }, (_, i) => aScan(i));
    await accept(database.sql, { chamber: 'c1', scans });
    const given: string[] = [];
    const learnPinned: Science['learnPinned'] = (request) => {
      given.push(...request.inputs.map(({ scan }) => scan.id));
      return learned(request);
    };
    await askPin(database, 'p1', { ...PLACE, from: minutesAfter(0), to: minutesAfter(2_499) });
    await workToTheEnd(shopOf({ learnPinned }));
    expect([given.length, given[0], given[1], given.at(-1)]).toEqual([834, 'm0', 'm3', 'm2499']);
  });

  test('hears of the alerts that stood, but not of silence or of what was found to be false', async () => {
    await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 30 }, (_, i) => aScan(i)) });
    const put = (id: string, signature: string, from: number, until: number | null, verified: string | null = null) =>
      database.sql`
        insert into alerts (chamber, id, analyser, signature, gases, priority, state, raised_at, returned_at, active,
          held_by, finding, verified)
        values ('c1', ${id}, 'c1-a', ${signature}, '{}', 'low', 'normal', ${minutesAfter(from)},
          ${until === null ? null : minutesAfter(until)}, false, '{}', '{}', ${verified})`;
    await put('a1', 'water', 5, 12);
    await put('a2', 'helium', 18, null);
    await put('a3', 'silent', 11, 12);
    await put('a4', 'hydrogen', 11, 12, 'false-alert');
    await put('a5', 'methane', 1, 8);
    await put('a6', 'solvent', 25, null);
    let heard: readonly unknown[] = [];
    const learnPinned: Science['learnPinned'] = ({ alertsInPeriod }) => {
      heard = alertsInPeriod;
      return { kind: 'refused', code: 'alert-stood', reason: 'Water stood.' };
    };
    await askPin(database, 'p1', PLACE);
    await workToTheEnd(shopOf({ learnPinned }));
    expect(heard).toEqual([
      { signature: 'water', fromMs: minutesAfter(5).getTime(), untilMs: minutesAfter(12).getTime() },
      { signature: 'helium', fromMs: minutesAfter(18).getTime(), untilMs: null },
    ]);
    expect(await readPin(database.sql, 'p1')).toMatchObject({ state: 'failed', problem: 'Water stood.' });
    expect(await database.sql`select state, problem from tasks`).toMatchObject([
      { state: 'failed', problem: 'Water stood.' },
    ]);
  });

  test('fails with the reason when its mathematics throws', async () => {
    await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 30 }, (_, i) => aScan(i)) });
    await askPin(database, 'p1', PLACE);
    const learnPinned = () => {
      throw new Error('no such number');
    };
    await workToTheEnd(shopOf({ learnPinned }));
    expect(await readPin(database.sql, 'p1')).toMatchObject({
      state: 'failed',
      problem: expect.stringMatching(/no such number/),
    });
  });

  test('that was withdrawn meanwhile stays so', async () => {
    await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 30 }, (_, i) => aScan(i)) });
    await askPin(database, 'p1', PLACE);
    const withdrawn = { id: 'p1', analyser: 'c1-a', at: minutesAfter(40), by: 'ann', note: 'wrong day' };
    await database.transaction((tx) => decidePin(tx, { ...withdrawn, state: 'withdrawn' }));
    await workToTheEnd(shopOf({ learnPinned: learned }));
    expect(await readPin(database.sql, 'p1')).toMatchObject({ state: 'withdrawn', scanCount: null, decidedBy: 'ann' });
  });

  test('in force replaces the one of its state before, and no other', async () => {
    await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 30 }, (_, i) => aScan(i)) });
    await askPin(database, 'p1', PLACE);
    await askPin(database, 'p2', PLACE);
    await askPin(database, 'p3', { ...PLACE, operatingState: 'gas-on' });
    await database.sql`update baseline_pins set state = 'proposed', baseline = ''`;
    for (const [id, minute] of [
      ['p1', 50],
      ['p3', 51],
      ['p2', 52],
    ] as const)
      await enforce(id, minutesAfter(minute));
    expect(await Promise.all(['p1', 'p2', 'p3'].map((id) => readPin(database.sql, id)))).toMatchObject([
      { state: 'replaced', version: 1, validFrom: minutesAfter(50) },
      { state: 'in-force', version: 2, validFrom: minutesAfter(52) },
      { state: 'in-force', version: 1, validFrom: minutesAfter(51) },
    ]);
    expect(await enforce('p1', minutesAfter(60))).toMatchObject({ refused: { state: 'replaced' } });
    expect(await enforce('p9', minutesAfter(60))).toBeNull();
  });
});

describe('what the watch is given', () => {
  const PLACE = { chamber: 'c1', analyser: 'c1-a', from: minutesAfter(0), to: minutesAfter(9), at: minutesAfter(10) };
  /** A watch that says which pins it was given with each scan, and adopts them as the real one does. */
  const listening = (given: string[][]): Science => {
    const science = scriptedScience();
    return {
      ...science,
      watchScan: (memory, context, input) => {
        given.push((context.pins ?? []).map(({ id }) => id));
        const before = ((memory as { states?: { pins: string[] } } | null)?.states?.pins ?? []) as string[];
        const due = (context.pins ?? []).filter(
          ({ id, validFromMs }) => validFromMs <= input.scan.atMs && !before.includes(id),
        );
        const step = science.watchScan(memory, context, input);
        const pins = [...before, ...due.map(({ id }) => id)];
        return { ...step, memory: { ...realMemory(), ...step.memory, states: { pins } } };
      },
    };
  };
  const realMemory = () => JSON.parse(JSON.stringify(remembered)) as object;
  let remembered: object;

  beforeAll(() => {
    // Any memory of the real watch: what it has adopted is asked of it.
    const science = makeScience();
    const calibration = {
      analyser: 'x',
      principle: 'quadrupole',
      massRange: [1, 50],
      sensitivityAmperesPerPascal: 1e-6,
      multiplierGain: null,
      transmissionExponent: 0,
      version: 'x/1',
    } as const;
    const chamber = { id: 'x', name: 'x', kind: null, volumeLitres: null, pumpingSpeedLitresPerSecond: {}, gases: [] };
    const scan = {
      ...aScan(0),
      atMs: MORNING,
      averages: 1,
      values: Float64Array.from(aScan(0).values as number[]),
      detector: null,
      totalPressurePa: null,
      temperatureC: null,
      state: 'base',
    } as never;
    const answer = science.analyserFor(calibration, []).analyse(scan, null);
    remembered = science.watchScan(
      null,
      { chamber, calibration, limits: [], closedByPerson: [] },
      { scan, ...answer },
    ).memory;
  });

  test('are the pins that its memory has not adopted: the content of others is not read', async () => {
    await storeFleet(database.sql, aFleet('c1'));
    await accept(database.sql, { chamber: 'c1', scans: [aScan(0), aScan(1)] });
    const given: string[][] = [];
    const shop = realShop(database, listening(given));
    await analyse(shop, 'c1');
    await askPin(database, 'p1', PLACE);
    await workToTheEnd(shopOf({ learnPinned: learned }));
    await enforce('p1', minutesAfter(20));
    for (const minute of [15, 21, 22]) {
      await accept(database.sql, { chamber: 'c1', scans: [aScan(minute)] });
      await analyse(minute === 22 ? realShop(database, listening(given)) : shop, 'c1');
    }
    expect(given).toEqual([[], [], ['p1'], ['p1'], []]);
  });

  test('a pin that cannot be read stops nobody: the real watch refuses it in a note', async () => {
    await storeFleet(database.sql, aFleet('c1'));
    await askPin(database, 'p1', PLACE);
    await database.sql`
      update baseline_pins set state = 'in-force', valid_from = ${minutesAfter(0)}, baseline = '\\x0102'::bytea`;
    await database.sql`truncate tasks`;
    await accept(database.sql, { chamber: 'c1', scans: [aScan(1), aScan(2)] });
    await analyse(realShop(), 'c1');
    const readings = await database.sql<{ notes: { code: string }[] }[]>`select notes from readings order by at`;
    expect(readings.map(({ notes }) => notes.some(({ code }) => code === 'pin-refused'))).toEqual([true, false]);
  });

  test('a pin that was replaced counts only for scans of its time', async () => {
    await storeFleet(database.sql, aFleet('c1'));
    await accept(database.sql, { chamber: 'c1', scans: Array.from({ length: 10 }, (_, i) => aScan(i)) });
    const given: string[][] = [];
    await analyse(realShop(database, listening(given)), 'c1');
    for (const [id, minute] of [
      ['p1', 20],
      ['p2', 30],
    ] as const) {
      await askPin(database, id, PLACE);
      await workToTheEnd(shopOf({ learnPinned: learned }));
      await enforce(id, minutesAfter(minute));
    }
    given.length = 0;
    await accept(database.sql, { chamber: 'c1', scans: [aScan(25)] });
    await analyse(realShop(database, listening(given)), 'c1');
    expect(given).toEqual([['p1', 'p2']]);
    given.length = 0;
    await accept(database.sql, { chamber: 'c1', scans: [aScan(31)] });
    await analyse(realShop(database, listening(given)), 'c1');
    expect(given).toEqual([['p2']]);
  });
});

describe('with the real watch', () => {
  const END_MS = Date.parse('2031-03-04T18:00:00Z');
  const story = STORIES.find(({ id }) => id === 'quiet-wet') as Story;
  const history = scansOf(story, { endMs: END_MS, minutes: 420, periodSeconds: 60 }) as Scan[];
  const [chamber, analyser] = [story.id, `${story.id}-a`];
  const minute = (i: number) => new Date(Date.parse(history[i]?.at as string));

  type Delivery = (on: Database, scans: readonly Scan[]) => Promise<void>;
  const inOnePiece: Delivery = async (on, scans) => {
    await accept(on.sql, { chamber, scans });
    await analyse(realShop(on), chamber);
  };
  const inPieces: Delivery = async (on, scans) => {
    const random = seeded(3);
    for (let from = 0; from < scans.length; ) {
      const to = from + 1 + Math.floor(random.uniform() * 30);
      await accept(on.sql, { chamber, scans: scans.slice(from, to) });
      await analyse(realShop(on), chamber);
      from = to;
    }
  };

  /** Half of the history, a pin from it, and the rest; `late`: scans of before the pin come after it. */
  const told = async (on: Database, deliver: Delivery) => {
    await storeFleet(on.sql, fleetOf([story]));
    await inOnePiece(on, history.slice(0, 260));
    await askPin(on, 'p1', { chamber, analyser, from: minute(60), to: minute(240), at: minute(250) });
    while ((await readPin(on.sql, 'p1'))?.state === 'waiting') await workToTheEnd(realShop(on), chamber);
    await enforce('p1', minute(300), on, analyser);
    await deliver(on, history.slice(260));
  };

  test('the pin is learned, and adopted with the first scan from its time on, in any batches', async () => {
    const stored = [];
    for (const deliver of [inOnePiece, inPieces]) {
      const own = await freshDatabase();
      const on = openDatabase(own.url, { applicationName: 'test', log: quiet });
      await told(on, deliver);
      expect(await readPin(on.sql, 'p1')).toMatchObject({ state: 'in-force', scanCount: 181 });
      stored.push(await whatIsStored(on));
      await on.close();
      await own.drop();
    }
    const [whole, pieces] = stored;
    for (const part of ['readings', 'alerts', 'moves', 'latest', 'baselines', 'memories'] as const)
      expect(pieces?.[part], part).toEqual(whole?.[part]);
    const [memory] = whole?.memories ?? [];
    const view = baselineViews(memory?.memory as never).find(({ state }) => state === 'base');
    expect(view).toMatchObject({ pinId: 'p1', pinnedAtMs: minute(300).getTime() });
    const noted = whole?.readings.filter(({ notes }) =>
      notes.some(({ code }: { code: string }) => code === 'baseline-pinned'),
    );
    expect(noted?.map(({ at }) => at)).toEqual([minute(300)]);
  });

  test('a proposed pin is rehearsed as if it had been in force, and leaves the live watch alone', async () => {
    await storeFleet(database.sql, fleetOf([story]));
    await inOnePiece(database, history);
    await askPin(database, 'p1', { chamber, analyser, from: minute(60), to: minute(240), at: minute(400) });
    while ((await readPin(database.sql, 'p1'))?.state === 'waiting') await workToTheEnd(realShop(), chamber);
    const before = await whatIsStored(database);
    const places = [{ chamber, analyser }];
    const change = { kind: 'baseline', pin: 'p1' } as const;
    await askRehearsal(database, 'r1', { request: { chamber, days: 90, change }, places, askedAt: new Date(END_MS) });
    await workToTheEnd(realShop(), chamber);
    expect(await rehearsed(database, 'r1')).toMatchObject({
      state: 'done',
      scans: 421,
      result: { asIs: [], asChanged: [], gained: [], lost: [], moved: [] },
    });
    expect(await whatIsStored(database)).toEqual(before);
  });
});
