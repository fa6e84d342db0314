import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { FINDING, FLEET, NOW, openWorld, putAlert, type World } from '../world.ts';

let world: World;
let engineer: string;
let viewer: string;

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  engineer = await world.tokenOf('engineer');
  viewer = await world.tokenOf('viewer');
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate alerts, alert_moves, tasks, signature_examples`;
  await world.db.sql`delete from audit where what like 'example%'`;
  world.nudged.length = 0;
});

const CHANGE = {
  masses: [2, 18, 28],
  usualPa: [1e-7, 2e-7, 1e-7],
  changePa: [0, 1e-9, 4e-8],
  sigmaPa: [1e-9, 2e-9, 1e-9],
  gaugeChangePa: 4e-8,
};

/** An alert as it is closed. */
const closed = async (
  id: string,
  stated: { verified?: string | null; change?: unknown; chamber?: string; open?: boolean } = {},
) => {
  const { verified = 'gas-inleak', change = CHANGE, chamber = 'n-prep-1', open = false } = stated;
  await putAlert(world, { id, chamber, state: open ? 'unacknowledged' : 'normal' });
  const { sql } = world.db;
  await sql`
    update alerts set finding = ${sql.json({ ...FINDING, ...(change === null ? {} : { change }) } as never)},
      verified = ${open ? null : verified}, closed_at = ${open ? null : NOW}, closed_by = ${open ? null : 'ann'},
      closed_cause = ${open ? null : 'valve seat'}
    where id = ${id}`;
};
const keep = (alert: string, body: unknown = {}, token = engineer) =>
  world.ask('POST', `/api/v1/alerts/${alert}/example`, { body, token });
const withdraw = (id: string, token = engineer) =>
  world.ask('POST', `/api/v1/examples/${id}/withdraw`, { body: {}, token });
const list = async () => (await world.ask('GET', '/api/v1/examples', { token: viewer })).body.examples;

describe('a closed case', () => {
  test('is kept with its change and the cause that was found, to be checked by the workers', async () => {
    await closed('a1');
    const { status, body } = await keep('a1', { note: 'Purge valve leaked' });
    expect(status).toBe(201);
    expect(body).toEqual({
      id: expect.stringMatching(/^example-/),
      alert: 'a1',
      chamber: 'n-prep-1',
      chamberKind: 'preparation',
      claimed: 'air-leak',
      verified: 'gas-inleak',
      gases: ['N2', 'O2', 'Ar'],
      note: 'Purge valve leaked',
      setAt: NOW.toISOString(),
      setBy: 'engineer token',
      withdrawnAt: null,
      withdrawnBy: null,
      check: null,
    });
    const [row] = await world.db.sql`select example from signature_examples`;
    expect(row?.example).toEqual({ id: body.id, signature: 'gas-inleak', gases: ['N2', 'O2', 'Ar'], ...CHANGE });
    expect(await world.db.sql`select chamber, analyser, request from tasks`).toEqual([
      { chamber: 'n-prep-1', analyser: 'n-prep-1-a', request: { kind: 'example', example: body.id } },
    ]);
    expect(world.nudged).toEqual(['n-prep-1']);
    expect(await list()).toEqual([body]);
    expect(await world.db.sql`select by from audit where what = 'example kept'`).toEqual([{ by: 'engineer token' }]);
  });

  test('is withdrawn once, and may be kept again', async () => {
    await closed('a1');
    const { id } = (await keep('a1')).body;
    expect((await keep('a1')).body.detail).toMatch(/already/);
    expect(await withdraw(id)).toMatchObject({
      status: 200,
      body: { withdrawnAt: NOW.toISOString(), withdrawnBy: 'engineer token' },
    });
    expect((await withdraw(id)).status).toBe(409);
    expect(await list()).toMatchObject([{ id, withdrawnBy: 'engineer token' }]);
    expect(await keep('a1', { note: 'After all' })).toMatchObject({
      status: 201,
      body: { id, withdrawnAt: null, note: 'After all' },
    });
    expect(await world.db.sql`select 1 from tasks where kind = 'example'`).toHaveLength(3);
    expect(await world.db.sql`select what from audit where what like 'example%' order by id`).toEqual([
      { what: 'example kept' },
      { what: 'example withdrawn' },
      { what: 'example kept' },
    ]);
  });
});

describe('is refused with the reason:', () => {
  test.each([
    ['an open alert', { open: true }, /not closed/],
    ['closed without what was found', { verified: null }, /without saying what was found/],
    ['planned work', { verified: 'planned-work' }, /planned-work.* no signature/],
    ['a false alert', { verified: 'false-alert' }, /no signature/],
    ['an alert without a change of the spectrum', { change: null }, /does not rest on a change/],
  ])('%s', async (_what, stated, reason) => {
    await closed('a1', stated);
    const { status, body } = await keep('a1');
    expect([status, body.detail]).toEqual([409, expect.stringMatching(reason)]);
    expect(await list()).toEqual([]);
  });

  test('what is not there, and who may not', async () => {
    await closed('a1');
    expect((await keep('a9')).status).toBe(404);
    expect((await withdraw('example-9')).status).toBe(404);
    expect((await keep('a1', {}, viewer)).status).toBe(403);
    expect((await keep('a1', {}, await world.tokenOf('operator'))).status).toBe(403);
  });
});
