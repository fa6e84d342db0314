import { setTimeout as sleep } from 'node:timers/promises';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { unpackFloat64 } from '../../../shared/db/codec.ts';
import { openDatabase } from '../../../shared/db/connect.ts';
import { quiet } from '../../support/services.ts';
import { ADMIN, aScan, FLEET, NOW, openWorld, type World } from '../world.ts';

let world: World;
let gateway: string;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  gateway = await world.tokenOf('gateway');
});
afterAll(() => world.close());

const post = (scans: unknown[], headers: Record<string, string> = {}) =>
  world.ask('POST', '/api/v1/scans', { body: { scans }, token: gateway, headers });
const raw = (body: string | Buffer, headers: Record<string, string> = {}) =>
  world.ask('POST', '/api/v1/scans', { body, token: gateway, headers });
const lines = (scans: unknown[]) => scans.map((scan) => JSON.stringify(scan)).join('\n');
/** The connection that is asked first may be one of the killed. */
const readWhenBack = async <T>(ask: () => PromiseLike<T>): Promise<T> => {
  for (let again = 0; ; again++) {
    try {
      return await ask();
    } catch (error) {
      if (again > 100) throw error;
      await sleep(20);
    }
  }
};
const NDJSON = { 'content-type': 'application/x-ndjson' };
const GZIP = { 'content-encoding': 'gzip' };

describe('an accepted scan', () => {
  test('is stored as sent, with its outstanding work, and its chamber is nudged', async () => {
    const scan = aScan({
      totalPressure: { value: 2e-9, unit: 'mbar' },
      state: 'base',
      temperatureC: 22.5,
      averages: 3,
    });
    const answer = await post([scan]);
    expect(answer).toMatchObject({ status: 200, body: { accepted: 1, duplicates: 0, rejected: [] } });
    const [row] = await world.db.sql`select * from scans where scan_id = ${scan.id as string}`;
    expect(row).toMatchObject({
      chamber: 'n-prep-1',
      analyser: 'n-prep-1-a',
      at: new Date('2026-03-02T11:00:00Z'),
      seconds: 20,
      averages: 3,
      masses: { first: 1, last: 5, perUnit: 1 },
      unit: 'A',
      detector: null,
      state: 'base',
      temperature_c: 22.5,
    });
    expect(row?.total_pressure_pa).toBeCloseTo(2e-7, 12);
    expect([...unpackFloat64(row?.values as Buffer)]).toEqual([1e-11, 2e-10, Number.NaN, -3e-13, 0]);
    expect(await world.db.sql`select 1 from outstanding_scans where scan_id = ${scan.id as string}`).toHaveLength(1);
    expect(world.nudged).toContain('n-prep-1');
  });

  test('counts in the backlog', async () => {
    const before = (await world.ask('GET', '/api/v1/backlog')).body.scans;
    await post([aScan(), aScan()]);
    expect((await world.ask('GET', '/api/v1/backlog')).body).toEqual({ scans: before + 2 });
  });

  test.each([
    ['a list of selected masses', { masses: [2, 18, 28, 44], values: [1, 2, 3, 4] }],
    ['a profile', { masses: { first: 1, last: 2, perUnit: 4 }, values: [1, 2, 3, 4, 5] }],
    ['an offset', { at: '2026-03-02T12:00:00.5+01:00' }],
    ['own partial pressures', { unit: 'Torr' }],
    ['relative signals with a total', { unit: '1', totalPressure: { value: 1e-8, unit: 'Torr' } }],
    ['an ion trap', { analyser: 'n-prep-1-b', unit: '1', totalPressure: { value: 1e-8, unit: 'Pa' } }],
    ['a time just within five minutes', { at: new Date(NOW.getTime() + 299_000).toISOString() }],
    [
      'null in optional fields',
      { averages: null, detector: null, totalPressure: null, state: null, temperatureC: null },
    ],
    ['values that are all null', { values: [null, null, null, null, null] }],
    ['an id of 128 characters', { id: 'é'.repeat(128) }],
  ])('may have %s', async (_name, change) => {
    expect((await post([aScan(change)])).body).toEqual({ accepted: 1, duplicates: 0, rejected: [] });
  });
});

describe('a rejected scan', () => {
  const CASES: [string, Record<string, unknown>, RegExp][] = [
    ['unknown analyser', { analyser: 'nobody' }, /analyser.*nobody/],
    ['missing analyser', { analyser: undefined }, /analyser.*missing/],
    ['wrong count', { values: [1, 2, 3] }, /values.*3 values for 5 masses/],
    ['future', { at: '2026-03-02T12:05:01Z' }, /at.*future/],
    ['absurd year', { at: '0026-03-02T12:00:00Z' }, /at.*1990/],
    ['no time', { at: 'yesterday' }, /at.*RFC 3339/],
    ['local time without offset', { at: '2026-03-02T11:00:00' }, /at.*RFC 3339/],
    ['30 February', { at: '2026-02-30T11:00:00Z' }, /at.*RFC 3339/],
    ['seconds 0', { seconds: 0 }, /seconds.*greater than 0/],
    ['seconds as text', { seconds: '20' }, /seconds.*number/],
    ['averages 0', { averages: 0 }, /averages/],
    ['averages 1.5', { averages: 1.5 }, /averages.*whole/],
    ['a unit that is none', { unit: 'V' }, /unit.*one of A, Pa, mbar, Torr, 1/],
    ['unit as number', { unit: 1 }, /unit/],
    ['relative without total', { unit: '1' }, /totalPressure.*missing/],
    ['ion trap without total', { analyser: 'n-prep-1-b', unit: 'Pa' }, /totalPressure.*ion trap/],
    [
      'ion trap in ampere',
      { analyser: 'n-prep-1-b', unit: 'A', totalPressure: { value: 1, unit: 'Pa' } },
      /unit.*ion trap/,
    ],
    ['total of 0', { totalPressure: { value: 0, unit: 'Pa' } }, /totalPressure.*greater than 0/],
    ['total without unit', { totalPressure: { value: 1 } }, /totalPressure\/unit.*missing/],
    ['total in A', { totalPressure: { value: 1, unit: 'A' } }, /totalPressure\/unit/],
    ['a mass twice', { masses: [2, 18, 18, 28, 44] }, /masses.*18.*twice/],
    ['first above last', { masses: { first: 5, last: 1, perUnit: 1 } }, /first.*above last/],
    ['no whole number of steps', { masses: { first: 1, last: 5.5, perUnit: 1 } }, /whole number of steps/],
    ['perUnit 0', { masses: { first: 1, last: 5, perUnit: 0 } }, /masses\/perUnit/],
    ['masses without last', { masses: { first: 1, perUnit: 1 } }, /masses\/last.*missing/],
    ['masses with a text', { masses: [1, 2, 3, 4, 'x'] }, /masses\/4.*number/],
    ['no masses', { masses: [], values: [] }, /masses.*at least 1/],
    ['a boolean among values', { values: [true, 2, 3, 4, 5] }, /values\/0/],
    ['a list among values', { values: [[7], 2, 3, 4, 5] }, /values\/0/],
    ['a state that is none', { state: 'sleeping' }, /state.*one of vented/],
    ['a detector that is none', { detector: 'eye' }, /detector/],
    ['an unknown field', { colour: 'red' }, /colour.*not a field/],
    ['an empty id', { id: '' }, /id.*empty/],
    ['an id of 129 characters', { id: 'x'.repeat(129) }, /id.*128/],
    ['an id with NUL', { id: 'a\0b' }, /id.*stored/],
    ['an id with half a character', { id: 'a\ud800' }, /id.*stored/],
    ['an id as number', { id: 7 }, /id.*text/],
    ['a temperature below absolute zero', { temperatureC: -300 }, /temperatureC/],
  ];

  test.each(CASES)('%s: by index, with the reason, and the others go in', async (_name, change, reason) => {
    const bad = aScan(change);
    const { status, body } = await post([aScan(), bad, aScan()]);
    expect(status).toBe(200);
    expect(body).toMatchObject({ accepted: 2, duplicates: 0, rejected: [{ index: 1 }] });
    expect(body.rejected[0].problem).toMatch(reason);
  });

  test('that is no object at all', async () => {
    const { body } = await post([5, null, 'x', [], aScan()]);
    expect(body.accepted).toBe(1);
    expect(body.rejected.map((one: { index: number }) => one.index)).toEqual([0, 1, 2, 3]);
    expect(body.rejected[0]).toEqual({ index: 0, id: null, problem: 'a scan must be an object' });
  });

  test.each(['NaN', 'Infinity', '-Infinity', '1e999', '-1e999'])('holding %s is rejected alone', async (number) => {
    const text = JSON.stringify({ scans: [aScan({ id: `n${number}NaN` }), aScan()] }).replace('1e-11', number);
    const { status, body } = await raw(text);
    expect(status).toBe(200);
    expect(body).toMatchObject({ accepted: 1, rejected: [{ index: 0, id: `n${number}NaN` }] });
    expect(body.rejected[0].problem).toMatch(/values\/0.*finite/);
  });

  test('of a retired analyser', async () => {
    const without = { ...FLEET, analysers: FLEET.analysers.filter(({ id }) => id !== 's-load-1-a') };
    await world.ask('PUT', '/api/v1/fleet', { body: without });
    const { body } = await post([aScan({ analyser: 's-load-1-a' })]);
    expect(body.rejected[0].problem).toMatch(/retired/);
    await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
    expect((await post([aScan({ analyser: 's-load-1-a' })])).body.accepted).toBe(1);
  });

  test('stays readable for engineers, with the reason and what was sent', async () => {
    const bad = aScan({ id: 'to be read', unit: 'V' });
    await post([bad]);
    const engineer = await world.tokenOf('engineer');
    const { body } = await world.ask('GET', '/api/v1/rejects?limit=1', { token: engineer });
    expect(body.rejects[0]).toMatchObject({
      analyser: 'n-prep-1-a',
      scanId: 'to be read',
      index: 0,
      token: 'gateway token',
    });
    expect(body.rejects[0].problem).toMatch(/unit/);
    expect(JSON.parse(body.rejects[0].body)).toEqual(bad);
    const next = await world.ask('GET', `/api/v1/rejects?limit=1&before=${body.rejects[0].id}`, { token: engineer });
    expect(next.body.rejects[0].id).toBeLessThan(body.rejects[0].id);
  });

  test('from a gateway that was not made for the analyser', async () => {
    const narrow = await world.tokenOf('gateway', ['n-prep-1-b']);
    const body = {
      scans: [aScan(), aScan({ analyser: 'n-prep-1-b', unit: '1', totalPressure: { value: 1, unit: 'Pa' } })],
    };
    const answer = await world.ask('POST', '/api/v1/scans', { body, token: narrow });
    expect(answer.body).toMatchObject({ accepted: 1, rejected: [{ index: 0 }] });
    expect(answer.body.rejected[0].problem).toMatch(/not made for/);
  });
});

describe('the same scan again', () => {
  test('is a duplicate whatever the order of its keys, the offset of its time and the defaults it spells out', async () => {
    const scan = aScan({ at: '2026-03-02T10:00:00Z' });
    await post([scan]);
    const reordered = Object.fromEntries(
      Object.entries({ ...scan, averages: 1, at: '2026-03-02T11:00:00.000+01:00' }).reverse(),
    );
    expect((await post([scan, reordered])).body).toEqual({ accepted: 0, duplicates: 2, rejected: [] });
    expect(await world.db.sql`select 1 from scans where scan_id = ${scan.id as string}`).toHaveLength(1);
  });

  test.each([
    ['value', { values: [1e-11, 2e-10, null, -3e-13, 1e-20] }],
    ['null for 0', { values: [1e-11, 2e-10, null, -3e-13, null] }],
    ['time', { at: '2026-03-02T11:00:00.001Z' }],
    ['unit', { unit: 'Pa' }],
    ['state', { state: 'bake' }],
    ['masses', { masses: [1, 2, 3, 4, 5] }],
  ])('with another %s is rejected, and the first stays', async (_name, change) => {
    const scan = aScan();
    await post([scan]);
    const { body } = await post([{ ...scan, ...change }]);
    expect(body).toMatchObject({ accepted: 0, duplicates: 0, rejected: [{ index: 0, id: scan.id }] });
    expect(body.rejected[0].problem).toMatch(/other content/);
    const [row] = await world.db.sql`select at, unit from scans where scan_id = ${scan.id as string}`;
    expect(row).toMatchObject({ at: new Date(scan.at as string), unit: 'A' });
  });

  test('twice in one request: the first is accepted, the same is a duplicate, another content is rejected', async () => {
    const scan = aScan();
    const { body } = await post([scan, { ...scan }, { ...scan, seconds: 21 }]);
    expect(body).toMatchObject({ accepted: 1, duplicates: 1, rejected: [{ index: 2, id: scan.id }] });
  });

  test('under another analyser is another scan', async () => {
    const scan = aScan();
    const { body } = await post([scan, { ...scan, analyser: 's-load-1-a' }]);
    expect(body).toMatchObject({ accepted: 2 });
  });

  test('any multiset of deliveries, some at once, leaves each scan once and counts it accepted once', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.array(fc.integer({ min: 0, max: 7 }), { minLength: 1, maxLength: 12 }), {
          minLength: 2,
          maxLength: 6,
        }),
        fc.uuid(),
        async (deliveries, run) => {
          const scans = Array.from({ length: 8 }, (_, i) => aScan({ id: `${run}-${i}`, seconds: 20 + i }));
          const answers = await Promise.all(deliveries.map((picks) => post(picks.map((i) => scans[i]))));
          const sent = new Set(deliveries.flat());
          const sum = (key: 'accepted' | 'duplicates') => answers.reduce((n, { body }) => n + body[key], 0);
          expect(answers.every(({ status, body }) => status === 200 && body.rejected.length === 0)).toBe(true);
          expect(sum('accepted')).toBe(sent.size);
          expect(sum('duplicates')).toBe(deliveries.flat().length - sent.size);
          for (const table of ['scans', 'scan_keys', 'outstanding_scans'])
            expect(
              await world.db.sql`select 1 from ${world.db.sql(table)} where scan_id like ${`${run}-%`}`,
            ).toHaveLength(sent.size);
        },
      ),
      { numRuns: 15 },
    );
  });

  test('with two contents at once: one wins, the other is told', async () => {
    for (let i = 0; i < 10; i++) {
      const scan = aScan();
      const answers = await Promise.all([post([scan]), post([{ ...scan, seconds: 99 }])]);
      expect(answers.map(({ body }) => body.accepted).sort()).toEqual([0, 1]);
      expect(answers.map(({ body }) => body.rejected.length).sort()).toEqual([0, 1]);
    }
  });
});

describe('bodies', () => {
  test('a scan a line, with blank lines and carriage returns between them', async () => {
    const { body } = await raw(`\n${lines([aScan(), aScan()]).replace('\n', '\r\n\r\n')}\n\n`, NDJSON);
    expect(body).toEqual({ accepted: 2, duplicates: 0, rejected: [] });
  });

  test('one line that cannot be read is rejected by index; the others go in', async () => {
    const { status, body } = await raw(`${JSON.stringify(aScan())}\n{"analyser": \n${JSON.stringify(aScan())}`, NDJSON);
    expect(status).toBe(200);
    expect(body).toMatchObject({ accepted: 2, rejected: [{ index: 1, id: null }] });
    expect(body.rejected[0].problem).toMatch(/JSON/);
  });

  test('gzip, for both types', async () => {
    expect((await raw(gzipSync(JSON.stringify({ scans: [aScan()] })), GZIP)).body.accepted).toBe(1);
    expect((await raw(gzipSync(lines([aScan(), aScan()])), { ...NDJSON, ...GZIP })).body.accepted).toBe(2);
  });

  test.each<[string, string | Buffer, Record<string, string>]>([
    ['no JSON', 'hello', {}],
    ['half of JSON', '{"scans": [', {}],
    ['empty', '', {}],
    ['no UTF-8', Buffer.from([0x7b, 0xff, 0xfe, 0x7d]), {}],
    ['a list', '[]', {}],
    ['no scans', '{}', {}],
    ['scans that are none', '{"scans": {}}', {}],
    ['a field beside scans', '{"scans": [], "more": 1}', {}],
    ['deep nesting', `{"scans": ${'['.repeat(100_000)}${']'.repeat(100_000)}}`, {}],
    ['no gzip', 'not gzip', GZIP],
    ['half of gzip', gzipSync(JSON.stringify({ scans: [aScan()] })).subarray(0, 60), GZIP],
    ['lines that cannot be read', 'a\nb\n', NDJSON],
    ['no lines', '\n\n', NDJSON],
  ])('%s: 400 problem', async (_name, body, headers) => {
    const answer = await raw(body, headers);
    expect(answer.status).toBe(400);
    expect(answer.headers['content-type']).toMatch(/^application\/problem\+json/);
    expect(answer.body).toMatchObject({ status: 400, title: 'Bad Request' });
  });

  test('a line that nests deep is rejected by index', async () => {
    const { body } = await raw(`${'['.repeat(50_000)}${']'.repeat(50_000)}\n${JSON.stringify(aScan())}`, NDJSON);
    expect(body).toMatchObject({ accepted: 1, rejected: [{ index: 0 }] });
  });

  test('an empty list of scans is fine', async () => {
    expect(await post([])).toMatchObject({ status: 200, body: { accepted: 0, duplicates: 0, rejected: [] } });
  });

  test('2,000 scans go in, 2,001 are 413', async () => {
    const scans = Array.from({ length: 2001 }, () => aScan());
    expect(await post(scans)).toMatchObject({ status: 413, body: { status: 413 } });
    expect(await raw(lines(scans), NDJSON)).toMatchObject({ status: 413 });
    expect(await post(scans.slice(1))).toMatchObject({ status: 200, body: { accepted: 2000 } });
  });

  test('more than 16 MiB unpacked is 413, also when it arrives as a small gzip', async () => {
    const bomb = gzipSync(Buffer.alloc(200 * 1024 * 1024, 0x20));
    expect(bomb.length).toBeLessThan(1024 * 1024);
    expect(await raw(bomb, GZIP)).toMatchObject({ status: 413 });
    expect(await raw(Buffer.alloc(17 * 1024 * 1024, 0x20))).toMatchObject({ status: 413 });
  });

  test.each([
    ['a type that is not taken', { 'content-type': 'text/plain' }],
    ['an encoding that is not taken', { 'content-encoding': 'br' }],
  ])('%s: 415', async (_name, headers) => {
    expect(await raw('{"scans": []}', headers)).toMatchObject({ status: 415, body: { status: 415 } });
  });
});

test('while connections to the database are killed, what was answered 2xx is there once, and 503 may be sent again', async () => {
  const killer = openDatabase(world.url, { applicationName: 'ullage-killer', log: quiet, maxConnections: 1 });
  let done = false;
  let killed = 0;
  let putOff = 0;
  const killing = (async () => {
    while (!done) {
      const found = await killer.sql`
        select pg_terminate_backend(pid) from pg_stat_activity
        where datname = current_database() and application_name = 'ullage-test' and random() < 0.5`;
      killed += found.length;
      // Ever more rarely, so that a scan gets through on a slow machine too.
      await sleep(Math.min(200, 5 + killed));
    }
  })();
  const sendUntilTaken = async (scan: unknown): Promise<number> => {
    for (let again = 0; again < 200; again++) {
      const { status, headers, body } = await post([scan]);
      if (status === 200) return body.accepted + body.duplicates;
      expect(status).toBe(503);
      expect(headers['retry-after']).toBeDefined();
      putOff++;
      await sleep(20);
    }
    return 0;
  };
  const run = `killed-${Date.now()}`;
  const scans = Array.from({ length: 60 }, (_, i) => aScan({ id: `${run}-${i}` }));
  const taken = new Map<unknown, number>();
  const sendInTurn = async (from: number) => {
    for (let i = from; i < scans.length; i += 6) taken.set(scans[i], await sendUntilTaken(scans[i]));
  };
  // As long as it takes until the kills have hit something.
  while (putOff < 5) await Promise.all([0, 1, 2, 3, 4, 5].map(sendInTurn));
  done = true;
  await killing;
  await killer.close();
  expect(killed).toBeGreaterThan(0);
  expect([...taken.values()]).toEqual(Array(60).fill(1));
  for (const table of ['scans', 'scan_keys', 'outstanding_scans'])
    expect(
      await readWhenBack(() => world.db.sql`select 1 from ${world.db.sql(table)} where scan_id like ${`${run}-%`}`),
    ).toHaveLength(60);
});

describe('when much is outstanding', () => {
  test('429 with Retry-After, and the scans are taken later', async () => {
    let now = NOW;
    const small = await openWorld({ mostOutstanding: 2, now: () => now });
    try {
      await small.ask('PUT', '/api/v1/fleet', { body: FLEET });
      const send = () => small.ask('POST', '/api/v1/scans', { body: { scans: [aScan(), aScan(), aScan()] } });
      expect((await send()).status).toBe(200);
      now = new Date(now.getTime() + 10_000);
      const refused = await send();
      expect(refused).toMatchObject({ status: 429, body: { status: 429 } });
      expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0);
      await small.db.sql`delete from outstanding_scans`;
      now = new Date(now.getTime() + 10_000);
      expect((await send()).status).toBe(200);
    } finally {
      await small.close();
    }
  });

  test('a queue that fails or hangs costs nothing but its nudge', async () => {
    for (const nudge of [() => Promise.reject(new Error('away')), () => new Promise<void>(() => {})]) {
      const lame = await openWorld({ nudge });
      try {
        await lame.ask('PUT', '/api/v1/fleet', { body: FLEET });
        const answer = await lame.ask('POST', '/api/v1/scans', { body: { scans: [aScan()] }, token: ADMIN });
        expect(answer).toMatchObject({ status: 200, body: { accepted: 1 } });
      } finally {
        await lame.close();
      }
    }
  });
});
