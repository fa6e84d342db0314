import { afterAll, beforeAll, expect, test } from 'vitest';
import { openWorld, type World } from '../world.ts';

let world: World;
const SAME = { 'sec-fetch-site': 'same-origin' };
const PASSWORD = 'correct horse battery';
const DARK = { unit: 'Torr', theme: 'dark', zone: 'own', keys: false };

beforeAll(async () => {
  world = await openWorld();
  for (const login of ['ida', 'ole'])
    await world.ask('POST', '/api/v1/people', { body: { login, name: login, role: 'viewer', password: PASSWORD } });
});
afterAll(() => world.close());

const browser = async (login: string) => {
  const body = { login, password: PASSWORD };
  const { headers } = await world.ask('POST', '/api/v1/session', { body, token: null, headers: SAME });
  const cookie = String(headers['set-cookie']).split(';')[0] as string;
  return {
    put: (preferences: unknown) =>
      world.ask('PUT', '/api/v1/me/preferences', { body: preferences, token: null, headers: { ...SAME, cookie } }),
    session: async () => (await world.ask('GET', '/api/v1/session', { token: null, headers: { cookie } })).body,
  };
};

test('what a person sets in one browser is there in another, and is nobody else’s', async () => {
  const [here, there, other] = [await browser('ida'), await browser('ida'), await browser('ole')];
  expect((await here.session()).preferences).toBeNull();
  expect(await here.put(DARK)).toMatchObject({ status: 200, body: DARK });
  expect((await there.session()).preferences).toEqual(DARK);
  expect((await other.session()).preferences).toBeNull();
});

test('what is not a preference is refused by field', async () => {
  const { put } = await browser('ida');
  const refused = await put({ ...DARK, unit: 'psi', wallpaper: 1 });
  expect(refused.status).toBe(400);
  expect(await put({ ...DARK, theme: 7 })).toMatchObject({ status: 400, body: { errors: [{ path: '/theme' }] } });
});

test('what another version has stored is read as far as it is understood', async () => {
  const { session } = await browser('ole');
  await world.db
    .sql`update people set preferences = '{"unit": "Pa", "theme": "sepia", "later": 1}' where login = 'ole'`;
  expect((await session()).preferences).toEqual({ unit: 'Pa', theme: 'system', zone: 'site', keys: true });
});

test('a token has none, and says so', async () => {
  const token = await world.tokenOf('viewer');
  const answer = await world.ask('PUT', '/api/v1/me/preferences', { body: DARK, token });
  expect(answer).toMatchObject({ status: 403, body: { detail: expect.stringMatching(/keeps its own/) } });
  expect((await world.ask('GET', '/api/v1/session', { token })).body).toMatchObject({
    who: { kind: 'token', role: 'viewer' },
    preferences: null,
  });
});
