import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { aScan, FLEET, NOW, openWorld, type World } from '../world.ts';

let world: World;
let engineer: string;
let viewer: string;
const A = 'n-prep-1-a';
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000).toISOString();

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  engineer = await world.tokenOf('engineer');
  viewer = await world.tokenOf('viewer');
  await world.ask('POST', '/api/v1/scans', { body: { scans: [aScan({ at: minutesAgo(60) })] } });
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate tasks, baseline_pins, baselines`;
  await world.db.sql`delete from audit where what like 'baseline pin%'`;
  world.nudged.length = 0;
  world.at(NOW);
});

const PIN = { state: 'base', from: minutesAgo(90), to: minutesAgo(30), note: 'After the bake of Tuesday' };
const ask = (body: unknown, token = engineer, analyser = A) =>
  world.ask('POST', `/api/v1/analysers/${analyser}/pins`, { body, token });
const decide = (pin: string, verb: string, body: unknown = { note: 'Clean' }, token = engineer) =>
  world.ask('POST', `/api/v1/analysers/${A}/pins/${pin}/${verb}`, { body, token });
const propose = (id: string) =>
  world.db.sql`update baseline_pins set state = 'proposed', scan_count = 60 where id = ${id}`;
const list = async () => (await world.ask('GET', `/api/v1/analysers/${A}/pins`, { token: viewer })).body;

describe('a pin', () => {
  test('waits for the workers, is nudged and audited, and is listed', async () => {
    const { status, body } = await ask(PIN);
    expect(status).toBe(202);
    expect(body).toEqual({
      id: expect.stringMatching(/^pin-/),
      chamber: 'n-prep-1',
      analyser: A,
      version: 1,
      operatingState: 'base',
      from: PIN.from,
      to: PIN.to,
      note: PIN.note,
      state: 'waiting',
      problem: null,
      scans: null,
      setAt: NOW.toISOString(),
      setBy: 'engineer token',
      validFrom: null,
      decidedAt: null,
      decidedBy: null,
      decisionNote: null,
    });
    expect(world.nudged).toEqual(['n-prep-1']);
    expect(await world.db.sql`select kind, request from tasks`).toEqual([
      { kind: 'baseline', request: { kind: 'baseline', pin: body.id } },
    ]);
    expect(await list()).toEqual({ pins: [body], usual: [] });
    expect(await world.db.sql`select by from audit where what = 'baseline pin asked for'`).toHaveLength(1);
    expect((await world.ask('GET', `/api/v1/analysers/${A}/tasks`)).body.tasks).toEqual([]);
  });

  test('versions are counted per operating state', async () => {
    const versions = [];
    for (const state of ['base', 'gas-on', 'base']) versions.push((await ask({ ...PIN, state })).body.version);
    expect(versions).toEqual([1, 1, 2]);
  });

  test('two that are asked at once have two versions', async () => {
    const both = await Promise.all([ask(PIN), ask(PIN)]);
    expect(both.map(({ body }) => body.version).sort()).toEqual([1, 2]);
  });

  test('is shown with what it says is usual, beside what is usual now', async () => {
    const { id } = (await ask(PIN)).body;
    await propose(id);
    const gases = { H2O: { medianLog10Pa: -7, sigmaDecades: 0.02, halfWidthDecades: 0.1, scans: 60, frozen: false } };
    await world.db.sql`
      update tasks set state = 'done', result = ${world.db.sql.json({ state: 'base', sinceMs: 0, untilMs: 1, gases, peaks: {} })}`;
    await world.db.sql`
      insert into baselines (chamber, analyser, state, gases, peaks, since, until)
      values ('n-prep-1', ${A}, 'base', ${world.db.sql.json(gases)}, '{}', ${minutesAgo(900)}, ${minutesAgo(10)})`;
    const usual = { H2O: { median: 1e-7, low: 7.94328e-8, high: 1.25893e-7, scans: 60 } };
    expect(await list()).toMatchObject({
      pins: [{ id, state: 'proposed', scans: 60, usual }],
      usual: [{ operatingState: 'base', since: minutesAgo(900), until: minutesAgo(10), gases: usual }],
    });
  });
});

describe('a decision', () => {
  test('puts a proposed one in force from now on, and the one before is replaced', async () => {
    const first = (await ask(PIN)).body.id;
    await propose(first);
    expect(await decide(first, 'enforce')).toMatchObject({
      status: 200,
      body: { state: 'in-force', validFrom: NOW.toISOString(), decidedBy: 'engineer token', decisionNote: 'Clean' },
    });
    const second = (await ask(PIN)).body.id;
    await propose(second);
    const later = new Date(NOW.getTime() + 60_000);
    world.at(later);
    expect((await decide(second, 'enforce')).body.validFrom).toBe(later.toISOString());
    expect(
      (await list()).pins.map(({ version, state }: { version: number; state: string }) => [version, state]),
    ).toEqual([
      [2, 'in-force'],
      [1, 'replaced'],
    ]);
    expect((await decide(first, 'enforce')).body.detail).toMatch(/replaced by a later one/);
    const lines = await world.db.sql`select detail from audit where what = 'baseline pin put in force' order by id`;
    expect(lines.map(({ detail }) => detail.id)).toEqual([first, second]);
  });

  test('withdraws what is not in force, and not what is', async () => {
    const first = (await ask(PIN)).body.id;
    expect((await decide(first, 'enforce')).status).toBe(409);
    expect(await decide(first, 'withdraw')).toMatchObject({
      status: 200,
      body: { state: 'withdrawn', validFrom: null },
    });
    expect((await decide(first, 'withdraw')).status).toBe(409);
    const second = (await ask(PIN)).body.id;
    await propose(second);
    await decide(second, 'enforce');
    const late = await decide(second, 'withdraw');
    expect(late).toMatchObject({ status: 409, body: { detail: expect.stringMatching(/in force already/) } });
  });

  test('of what has failed says why', async () => {
    const { id } = (await ask(PIN)).body;
    await world.db.sql`update baseline_pins set state = 'failed', problem = 'The period is not steady.'`;
    expect((await decide(id, 'enforce')).body.detail).toMatch(/not steady/);
  });

  test('is for engineers, with a reason, on the analyser that it belongs to', async () => {
    const { id } = (await ask(PIN)).body;
    await propose(id);
    expect((await decide(id, 'enforce', { note: 'x' }, viewer)).status).toBe(403);
    expect((await decide(id, 'enforce', { note: ' ' })).status).toBe(422);
    expect((await decide(id, 'enforce', {})).status).toBe(400);
    expect((await decide('pin-9', 'enforce')).status).toBe(404);
    const elsewhere = `/api/v1/analysers/n-prep-1-b/pins/${id}/enforce`;
    expect((await world.ask('POST', elsewhere, { body: { note: 'x' }, token: engineer })).status).toBe(404);
    expect((await ask(PIN, viewer)).status).toBe(403);
  });
});

describe('is refused, with field and reason,', () => {
  test.each([
    ['a span that ends before it begins', { ...PIN, from: PIN.to, to: PIN.from }, 422, '/to'],
    ['a span without scans', { ...PIN, from: minutesAgo(20), to: minutesAgo(10) }, 422, '/from'],
    ['what is no time', { ...PIN, from: 'Monday' }, 400, '/from'],
    ['an empty note', { ...PIN, note: ' ' }, 422, '/note'],
    ['an unknown state', { ...PIN, state: 'asleep' }, 400, '/state'],
  ])('%s', async (_what, body, status, path) => {
    const answer = await ask(body);
    expect([answer.status, answer.body.errors[0].path]).toEqual([status, path]);
    expect(await world.db.sql`select 1 from baseline_pins`).toEqual([]);
  });
  test('an analyser that is not there', async () => expect((await ask(PIN, engineer, 'x')).status).toBe(404));
});
