import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, type World } from '../world.ts';

let world: World;
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000).toISOString();
const path = '/api/v1/chambers/n-prep-1/notes';

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
});
afterAll(() => world.close());

const list = async (query = '') => (await world.ask('GET', `${path}${query}`)).body.notes;

describe('notes of a chamber', () => {
  test('are kept at their moment, with who made them and when, and audited', async () => {
    const token = await world.tokenOf('operator');
    const body = { at: minutesAgo(90), text: '  valve V2 closed ' };
    const made = await world.ask('POST', path, { body, token });
    expect(made.status).toBe(201);
    expect(made.body).toMatchObject({
      ...{ chamber: 'n-prep-1', at: minutesAgo(90), text: 'valve V2 closed', madeAt: NOW.toISOString() },
      withdrawnAt: null,
    });
    await world.ask('POST', path, { body: { at: minutesAgo(30), text: 'opened again' }, token });
    expect((await list()).map(({ text }: { text: string }) => text)).toEqual(['opened again', 'valve V2 closed']);
    expect((await list(`?from=${minutesAgo(40)}`)).length).toBe(1);
    const [audit] = await world.db.sql<{ detail: { text: string } }[]>`
      select detail from audit where what = 'note made' order by id limit 1`;
    expect(audit?.detail).toMatchObject({ chamber: 'n-prep-1', text: 'valve V2 closed' });
  });

  test('are withdrawn once, and stay readable with who withdrew them', async () => {
    const [note] = await list();
    const withdraw = () => world.ask('POST', `${path}/${note.id}/withdraw`, { body: {} });
    expect(await withdraw()).toMatchObject({ status: 200, body: { withdrawnBy: 'admin token' } });
    expect(await withdraw()).toMatchObject({ status: 409 });
    expect((await list())[0]).toMatchObject({ text: 'opened again', withdrawnAt: NOW.toISOString() });
    expect(await world.ask('POST', `${path}/ghost/withdraw`, { body: {} })).toMatchObject({ status: 404 });
  });

  test('are refused with the field and the reason', async () => {
    const post = (body: unknown) => world.ask('POST', path, { body });
    expect(await post({ at: 'yesterday', text: 'x' })).toMatchObject({ status: 400 });
    expect(await post({ at: minutesAgo(-60), text: 'x' })).toMatchObject({
      ...{ status: 422, body: { errors: [{ path: '/at', problem: 'lies in the future' }] } },
    });
    expect(await post({ at: minutesAgo(1), text: '   ' })).toMatchObject({ status: 422 });
    expect(await post({ at: minutesAgo(1) })).toMatchObject({ status: 400 });
    const viewer = await world.tokenOf('viewer');
    expect(await world.ask('POST', path, { body: { at: minutesAgo(1), text: 'x' }, token: viewer })).toMatchObject({
      status: 403,
    });
    expect(await world.ask('GET', '/api/v1/chambers/nowhere/notes')).toMatchObject({ status: 404 });
  });
});
