import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { aScan, FLEET, NOW, openWorld, type World } from '../world.ts';

let world: World;
let engineer: string;
let viewer: string;
const A = 'n-prep-1-a';
const B = 'n-prep-1-b';
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000).toISOString();

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  engineer = await world.tokenOf('engineer');
  viewer = await world.tokenOf('viewer');
  const scans = [60, 50, 40, 30, 20].flatMap((minute) => [
    aScan({ at: minutesAgo(minute) }),
    aScan({ at: minutesAgo(minute), analyser: B, unit: '1', totalPressure: { value: 1e-7, unit: 'Pa' } }),
  ]);
  const { body } = await world.ask('POST', '/api/v1/scans', { body: { scans } });
  expect(body.accepted).toBe(10);
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate tasks`;
  await world.db.sql`delete from audit where what = 'task asked for'`;
  world.nudged.length = 0;
});

const ask = (body: unknown, token = engineer, analyser = A) =>
  world.ask('POST', `/api/v1/analysers/${analyser}/tasks`, { body, token });
const span = { from: minutesAgo(60), to: minutesAgo(20) };
const PATTERN = { kind: 'pattern', gas: 'carbon dioxide', ...span, amountFromGauge: true, note: 'Bottle on V3' };
const BACKGROUND = { kind: 'background', source: 'closed valve', ...span, note: 'V1 closed' };
const RECOMPUTATION = { kind: 'recomputation', ...span, note: 'After the certificate' };
const CHANGE = { kind: 'change', before: minutesAgo(50), after: minutesAgo(30) };

describe('asking', () => {
  test('keeps the task with the gas by its id, nudges the chamber and audits', async () => {
    const { status, body } = await ask(PATTERN);
    expect(status).toBe(202);
    expect(body).toMatchObject({
      id: expect.stringMatching(/^task-/),
      analyser: A,
      kind: 'pattern',
      request: { ...PATTERN, gas: 'CO2' },
      state: 'waiting',
      askedAt: NOW.toISOString(),
      askedBy: 'engineer token',
      finishedAt: null,
      problem: null,
      calibration: null,
      scans: null,
      change: null,
      notes: [{ code: 'caution-dose' }],
    });
    expect(world.nudged).toEqual(['n-prep-1']);
    const list = (await world.ask('GET', `/api/v1/analysers/${A}/tasks`, { token: viewer })).body;
    expect(list.tasks).toEqual([body]);
    expect(list.notes.map(({ code }: { code: string }) => code)).toEqual(['caution-dose', 'caution-closed-valve']);
    expect((await world.ask('GET', `/api/v1/analysers/${A}/tasks/${body.id}`)).body).toEqual(body);
    const [line] = await world.db.sql`select by, detail from audit where what = 'task asked for'`;
    expect(line).toMatchObject({ by: 'engineer token', detail: { analyser: A, id: body.id, request: { gas: 'CO2' } } });
  });

  test('a background by closed valve carries its caution, one by a second analyser names it', async () => {
    expect((await ask(BACKGROUND)).body.notes).toMatchObject([{ code: 'caution-closed-valve' }]);
    const second = await ask({ ...BACKGROUND, source: 'second analyser', other: B });
    expect(second).toMatchObject({ status: 202, body: { request: { other: B } } });
    expect(second.body.notes).toBeUndefined();
  });

  test('times with an offset are kept in UTC', async () => {
    const { body } = await ask({
      ...RECOMPUTATION,
      from: '2026-03-02T12:55:00+02:00',
      calibrationOf: '2026-01-01T00:00:00+01:00',
    });
    expect(body.request).toMatchObject({ from: '2026-03-02T10:55:00.000Z', calibrationOf: '2025-12-31T23:00:00.000Z' });
  });

  test('a viewer may ask for a change, which puts nothing in force', async () => {
    expect((await ask(CHANGE, viewer)).status).toBe(202);
    for (const body of [PATTERN, BACKGROUND, RECOMPUTATION]) expect((await ask(body, viewer)).status).toBe(403);
    expect((await ask(CHANGE, await world.tokenOf('gateway'))).status).toBe(403);
    expect((await ask(RECOMPUTATION, await world.tokenOf('operator'))).status).toBe(403);
  });

  test('a task of another analyser is not there', async () => {
    const { id } = (await ask(CHANGE)).body;
    expect((await world.ask('GET', `/api/v1/analysers/${B}/tasks/${id}`)).status).toBe(404);
  });

  test('more than twenty that wait are too many', async () => {
    for (let i = 0; i < 20; i++) expect((await ask(CHANGE, viewer)).status).toBe(202);
    const late = await ask(CHANGE, viewer);
    expect(late.status).toBe(429);
    expect(late.headers['retry-after']).toBe('10');
    expect((await ask({ ...CHANGE }, viewer, B)).status).toBe(202);
  });
});

describe('is refused, with field and reason,', () => {
  test.each([
    ['an unknown gas', { ...PATTERN, gas: 'unobtainium' }, 422, '/gas', /not in the catalogue/],
    [
      'a span without scans',
      { ...PATTERN, from: minutesAgo(19), to: minutesAgo(5) },
      422,
      '/from',
      /no scans of n-prep-1-a/,
    ],
    ['a span that ends before it begins', { ...PATTERN, from: span.to, to: span.from }, 422, '/to', /before from/],
    ['what is no time', { ...RECOMPUTATION, from: 'Monday' }, 400, '/from', /RFC 3339/],
    ['an empty note', { ...BACKGROUND, note: ' ' }, 422, '/note', /not be empty/],
    ['a second analyser that is not named', { ...BACKGROUND, source: 'second analyser' }, 422, '/other', /is missing/],
    ['the analyser as its own second', { ...BACKGROUND, source: 'second analyser', other: A }, 422, '/other', /itself/],
    [
      'a second on another chamber',
      { ...BACKGROUND, source: 'second analyser', other: 's-load-1-a' },
      422,
      '/other',
      /another chamber/,
    ],
    [
      'a second that nobody knows',
      { ...BACKGROUND, source: 'second analyser', other: 'x' },
      422,
      '/other',
      /no analyser x/,
    ],
    ['a second behind a closed valve', { ...BACKGROUND, other: B }, 422, '/other', /valve was closed/],
    ['a calibration of no time', { ...RECOMPUTATION, calibrationOf: 'then' }, 400, '/calibrationOf', /RFC 3339/],
    ['a change backwards', { ...CHANGE, before: CHANGE.after, after: CHANGE.before }, 422, '/after', /after before/],
    [
      'a change from before the first scan',
      { ...CHANGE, before: minutesAgo(70) },
      422,
      '/before',
      /no scan .* at or before/,
    ],
    ['a change to after the last scan', { ...CHANGE, after: minutesAgo(10) }, 422, '/after', /no scan .* at or after/],
    ['a kind that is none', { ...CHANGE, kind: 'guess' }, 400, '/kind', /not a word that is known/],
    ['no kind', { before: CHANGE.before, after: CHANGE.after }, 400, '/kind', /is missing|must be a text/],
    [
      'a missing field of its kind',
      { kind: 'pattern', gas: 'N2', ...span, note: 'x' },
      400,
      '/amountFromGauge',
      /is missing/,
    ],
    ['a field of another kind', { ...CHANGE, gas: 'N2' }, 400, '/gas', /not a field/],
  ])('%s', async (_what, body, status, path, problem) => {
    const answer = await ask(body);
    expect(answer.body).toMatchObject({ status, errors: [{ path, problem: expect.stringMatching(problem) }] });
    expect(await world.db.sql`select 1 from tasks`).toHaveLength(0);
    expect(world.nudged).toEqual([]);
  });

  test('more scans than a pattern is worked out from', async () => {
    await world.db.sql`
      insert into scans (chamber, analyser, at, scan_id, seconds, averages, masses, values, unit, received_at)
      select 'n-prep-1', ${A}, ${minutesAgo(55)}::timestamptz + i * interval '1 second', 'many-' || i, 1, 1, '[]', '', 'A', now()
      from generate_series(1, 500) as i`;
    expect(await ask(PATTERN)).toMatchObject({ status: 422, body: { errors: [{ path: '/to' }] } });
    expect((await ask(RECOMPUTATION)).status).toBe(202);
    await world.db.sql`delete from scans where scan_id like 'many-%'`;
  });
});

describe('a finished task', () => {
  test('tells its result, or why there is none', async () => {
    const { id } = (await ask(CHANGE)).body;
    const change = {
      before: CHANGE.before,
      after: CHANGE.after,
      gases: [{ gas: 'N2', changePa: -2e-9, sigmaPa: 1e-10, significant: true }],
    };
    await world.db.sql`
      update tasks set state = 'done', finished_at = ${NOW}, scans = 2, change = ${world.db.sql.json(change)} where id = ${id}`;
    const read = async (task: string) => (await world.ask('GET', `/api/v1/analysers/${A}/tasks/${task}`)).body;
    expect(await read(id)).toMatchObject({ state: 'done', finishedAt: NOW.toISOString(), scans: 2, change });
    const failed = (await ask(BACKGROUND)).body.id;
    await world.db.sql`update tasks set state = 'failed', problem = 'The signal was not steady.' where id = ${failed}`;
    expect(await read(failed)).toMatchObject({ state: 'failed', problem: 'The signal was not steady.' });
  });
});
