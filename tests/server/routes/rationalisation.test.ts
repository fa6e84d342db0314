import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { BUILT_IN_RATIONALISATION } from '../../../shared/catalogue/rationalisation.ts';
import { SIGNATURES } from '../../../shared/contract/words.ts';
import { FLEET, NOW, openWorld, putAlert, type World } from '../world.ts';

let world: World;
let eve: string;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  eve = (await world.ask('POST', '/api/v1/tokens', { body: { name: 'eve', role: 'engineer' } })).body.token;
});
afterAll(() => world.close());
beforeEach(() => world.db.sql`truncate rationalisations, audit, alerts, alert_moves`);

const built = BUILT_IN_RATIONALISATION.water;
const record = { ...built.record, latching: true, owner: 'beamline 4' };
const put = (body: Record<string, unknown>, token = eve, signature = 'water') =>
  world.ask('PUT', `/api/v1/rationalisation/${signature}`, {
    body: { basedOn: 0, record, note: 'cooled absorbers', ...body },
    token,
  });
const inForce = async (query = '') => {
  const { records } = (await world.ask('GET', `/api/v1/rationalisation${query}`)).body;
  expect(records.map(({ signature }: { signature: string }) => signature)).toEqual(SIGNATURES);
  return records.find(({ signature }: { signature: string }) => signature === 'water');
};
const history = async (query = '') =>
  (await world.ask('GET', `/api/v1/rationalisation/water/history${query}`)).body.records;

describe('the records', () => {
  test('are there for every signature, as built, before anybody has written one', async () => {
    expect(await inForce()).toEqual(JSON.parse(JSON.stringify(built)));
    expect(await history()).toHaveLength(1);
  });

  test('a new version takes the place of the old one, which stays', async () => {
    const answer = await put({});
    expect(answer.status).toBe(200);
    const first = {
      signature: 'water',
      kind: null,
      version: 1,
      setBy: 'eve',
      setAt: NOW.toISOString(),
      note: 'cooled absorbers',
    };
    expect(answer.body).toMatchObject(first);
    expect(await inForce()).toMatchObject({ ...first, record: { latching: true, owner: 'beamline 4' } });
    expect((await put({ basedOn: 1, record: built.record, note: 'not needed after all' })).body.version).toBe(2);
    expect((await history()).map(({ version }: { version: number }) => version)).toEqual([2, 1, 0]);
    const lines = await world.db.sql`select by, what, detail from audit where what = 'rationalisation set' order by id`;
    expect(lines.map(({ by, detail }) => [by, detail.version, detail.basedOn])).toEqual([
      ['eve', 1, 0],
      ['eve', 2, 1],
    ]);
  });

  test('one of a kind of chamber counts there, the one for every kind elsewhere; a version names one record', async () => {
    await put({ kind: 'preparation' });
    expect((await history('?kind=preparation')).map(({ version }: { version: number }) => version)).toEqual([1, 0]);
    expect((await put({ note: 'everywhere' })).body).toMatchObject({ kind: null, version: 2 });
    expect(await inForce('?kind=preparation')).toMatchObject({ kind: 'preparation', version: 1 });
    expect(await inForce('?kind=load-lock')).toMatchObject({ kind: null, version: 2 });
    expect(await inForce()).toMatchObject({ version: 2 });
    expect((await put({ kind: 'load-lock', basedOn: 2 })).body.version).toBe(3);
    expect((await history('?kind=preparation')).map(({ version }: { version: number }) => version)).toEqual([1, 0]);
    expect((await history('?kind=load-lock')).map(({ version }: { version: number }) => version)).toEqual([3, 2, 0]);
  });
});

describe('writing one', () => {
  test('from a version that is not in force any more: 409 that says who was first', async () => {
    await put({});
    const late = await put({ note: 'mine' });
    expect(late.status).toBe(409);
    expect(late.body.detail).toContain('Version 0 is not in force: version 1 is, set by eve at');
    expect(await history()).toHaveLength(2);
  });

  test('of ten who write at once one is first', async () => {
    const answers = await Promise.all(Array.from({ length: 10 }, (_, i) => put({ note: `try ${i}` })));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, ...Array(9).fill(409)]);
  });

  test.each([
    [{ record: { ...record, priority: 'high' } }, 422, '/record/priority'],
    [{ record: { ...record, armedStates: ['bake'] } }, 422, '/record/armedStates'],
    [{ record: { ...record, armedStates: [] } }, 400, '/record/armedStates'],
    [{ record: { ...record, leastDecades: 0.01 } }, 422, '/record/leastDecades'],
    [{ record: { ...record, colour: 'red' } }, 400, '/record/colour'],
    [{ record: { ...record, owner: ' ' } }, 422, '/record/owner'],
    [{ note: ' ' }, 422, '/note'],
    [{ note: '' }, 400, '/note'],
  ])('%j: %d', async (body, status, path) => {
    expect(await put(body)).toMatchObject({ status, body: { errors: [{ path }] } });
    expect(await history()).toHaveLength(1);
  });

  test('is for engineers; reading for everybody', async () => {
    expect((await put({}, await world.tokenOf('operator'))).status).toBe(403);
    const viewer = await world.tokenOf('viewer');
    expect((await world.ask('GET', '/api/v1/rationalisation', { token: viewer })).status).toBe(200);
    expect((await put({}, eve, 'ghost')).status).toBe(400);
  });
});

test('an alert shows the record that it was raised under, and that there is a newer one', async () => {
  await putAlert(world, { id: 'wet', signature: 'water' });
  await put({ kind: 'preparation' });
  const read = async () => (await world.ask('GET', '/api/v1/alerts/wet')).body;
  expect(await read()).toMatchObject({ rationalisation: { version: 0 }, newerRationalisation: 1 });
  await world.db.sql`update alerts set rationalisation_version = 1`;
  expect(await read()).toMatchObject({
    rationalisation: { version: 1, record: { owner: 'beamline 4' } },
    newerRationalisation: null,
  });
});
