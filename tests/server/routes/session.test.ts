import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { tidy } from '../../../server/housekeeping.ts';
import { sha256Hex } from '../../../server/secrets.ts';
import { ADMIN, FLEET, NOW, openWorld, type World } from '../world.ts';

let world: World;
const SAME = { 'sec-fetch-site': 'same-origin' };
const PASSWORD = 'correct horse battery';

beforeAll(async () => {
  world = await openWorld();
});
afterAll(() => world.close());

const cookieOf = (headers: Record<string, unknown>): string => String(headers['set-cookie']).split(';')[0] as string;
const signIn = (login: string, password: string, headers: Record<string, string> = SAME) =>
  world.ask('POST', '/api/v1/session', { body: { login, password }, token: null, headers });
const asPerson = (
  cookie: string,
  method: string,
  url: string,
  body?: unknown,
  headers: Record<string, string> = SAME,
) => world.ask(method, url, { body, token: null, headers: { cookie, ...headers } });

describe('the first account', () => {
  const setUp = (key: string, login = 'anna') =>
    world.ask('POST', '/api/v1/set-up', {
      body: { key, login, name: 'Anna', password: PASSWORD },
      token: null,
      headers: SAME,
    });
  const putKey = (key: string, expiresAt: Date) =>
    world.db.sql`insert into set_up_keys (hash, expires_at) values (${sha256Hex(key)}, ${expiresAt})`;

  test('is needed at first, and every page is told so', async () => {
    const { body } = await world.ask('GET', '/api/v1/session', { token: null });
    expect(body).toEqual({
      who: null,
      preferences: null,
      events: expect.stringMatching(/^[0-9a-f]{8}\.\d+$/),
      site: { name: 'Test site', example: false, timeZone: 'UTC', unit: 'mbar' },
      needsSetUp: true,
      version: '0.0.0',
      now: NOW.toISOString(),
    });
  });

  test('is made with the one-time link, which is then of no use, and is signed in', async () => {
    await putKey('old', new Date(NOW.getTime() - 1));
    await putKey('good', new Date(NOW.getTime() + 1000));
    for (const key of ['second', 'third']) await putKey(key, new Date(NOW.getTime() + 1000));
    expect((await setUp('old')).status).toBe(403);
    expect((await setUp('never given out')).status).toBe(403);
    const made = await setUp('good');
    expect(made).toMatchObject({
      status: 200,
      body: { who: { login: 'anna', name: 'Anna', role: 'admin' }, needsSetUp: false },
    });
    const cookie = String(made.headers['set-cookie']);
    expect(cookie).toMatch(/HttpOnly/);
    expect(cookie).toMatch(/SameSite=Lax/);
    expect((await asPerson(cookieOf(made.headers), 'GET', '/api/v1/session')).body.who.login).toBe('anna');
    expect((await setUp('good', 'eve')).status).toBe(403);
    const both = await Promise.all([setUp('second', 'eve'), setUp('third', 'mallory')]);
    expect(both.map(({ status }) => status)).toEqual([409, 409]);
    expect(await world.db.sql`select login from people`).toEqual([{ login: 'anna' }]);
  });
});

describe('signing in', () => {
  test('with the right password', async () => {
    const answer = await signIn('anna', PASSWORD);
    expect(answer).toMatchObject({ status: 200, body: { who: { login: 'anna' } } });
    const stored = JSON.stringify([
      await world.db.sql`select * from sessions`,
      await world.db.sql`select * from people`,
    ]);
    expect(stored).not.toContain(cookieOf(answer.headers).split('=')[1]);
    expect(stored).not.toContain(PASSWORD);
    expect(stored).toContain('$argon2id$v=19$m=19456,t=2,p=1$');
  });

  test('with a wrong password and with an unknown login gets the same answer', async () => {
    const [wrong, unknown] = [await signIn('anna', 'wrong'), await signIn('nobody', PASSWORD)];
    const same = ({ status, body }: typeof wrong) => ({ status, ...body, instance: null });
    expect(same(wrong)).toEqual(same(unknown));
    expect(wrong.status).toBe(401);
    expect(wrong.headers['set-cookie']).toBeUndefined();
  });

  test('is slowed down after ten failures for that address and login, not locked for others', async () => {
    for (let i = 0; i < 10; i++) await signIn('bert', 'wrong');
    const refused = await signIn('bert', 'wrong');
    expect(refused.status).toBe(429);
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0);
    expect((await signIn('anna', PASSWORD)).status).toBe(200);
    world.at(new Date(NOW.getTime() + 16 * 60_000));
    expect((await signIn('bert', 'wrong')).status).toBe(401);
    world.at(NOW);
  });

  test('from another site is refused', async () => {
    expect((await signIn('anna', PASSWORD, { 'sec-fetch-site': 'cross-site' })).status).toBe(403);
    expect((await signIn('anna', PASSWORD, { origin: 'https://evil.example' })).status).toBe(403);
  });
});

describe('a session', () => {
  test('may write only from its own page', async () => {
    const cookie = cookieOf((await signIn('anna', PASSWORD)).headers);
    const put = (headers: Record<string, string>) => asPerson(cookie, 'PUT', '/api/v1/fleet', FLEET, headers);
    expect((await put({})).status).toBe(403);
    expect((await put({ 'sec-fetch-site': 'cross-site' })).status).toBe(403);
    expect((await put({ 'sec-fetch-site': 'same-site' })).status).toBe(403);
    expect((await put({ 'sec-fetch-site': 'none' })).status).toBe(403);
    expect((await put({ origin: 'https://evil.example' })).status).toBe(403);
    expect((await put({ origin: 'http://localhost:4170', host: 'localhost:4170' })).status).toBe(200);
    expect((await put(SAME)).status).toBe(200);
    expect((await asPerson(cookie, 'GET', '/api/v1/fleet', undefined, { 'sec-fetch-site': 'cross-site' })).status).toBe(
      200,
    );
  });

  test('ends when it is signed out', async () => {
    const cookie = cookieOf((await signIn('anna', PASSWORD)).headers);
    expect((await asPerson(cookie, 'DELETE', '/api/v1/session')).status).toBe(204);
    expect((await asPerson(cookie, 'GET', '/api/v1/fleet')).status).toBe(401);
    expect((await asPerson(cookie, 'GET', '/api/v1/session')).body.who).toBeNull();
  });

  test('ends an hour after it was last used, and twelve hours after it began', async () => {
    const cookie = cookieOf((await signIn('anna', PASSWORD)).headers);
    const statusAfter = async (minutes: number) => {
      world.at(new Date(NOW.getTime() + minutes * 60_000));
      return (await asPerson(cookie, 'GET', '/api/v1/fleet')).status;
    };
    expect(await statusAfter(59)).toBe(200);
    expect(await statusAfter(118)).toBe(200);
    expect(await statusAfter(179)).toBe(401);
    const other = cookieOf((await signIn('anna', PASSWORD)).headers);
    let status = 200;
    for (let minutes = 180; minutes < 180 + 13 * 60; minutes += 50) {
      world.at(new Date(NOW.getTime() + minutes * 60_000));
      status = (await asPerson(other, 'GET', '/api/v1/fleet')).status;
      if (minutes < 179 + 12 * 60) expect(status).toBe(200);
    }
    expect(status).toBe(401);
    world.at(NOW);
  });
});

describe('accounts', () => {
  const make = (login: string, role: string) =>
    world.ask('POST', '/api/v1/people', { body: { login, name: login.toUpperCase(), role, password: PASSWORD } });
  const patch = (login: string, body: unknown) => world.ask('PATCH', `/api/v1/people/${login}`, { body });

  test('are made, listed, and refused where the login is taken', async () => {
    expect(await make('carl', 'operator')).toMatchObject({ status: 201, body: { login: 'carl', role: 'operator' } });
    expect((await make('carl', 'viewer')).status).toBe(409);
    const { people } = (await world.ask('GET', '/api/v1/people')).body;
    expect(people.map(({ login }: { login: string }) => login)).toEqual(['anna', 'carl']);
    expect(JSON.stringify(people)).not.toContain('argon2');
  });

  test('that change role, password or end sign their sessions out', async () => {
    for (const change of [{ role: 'viewer' }, { password: 'another long password' }]) {
      await patch('carl', { role: 'operator', password: PASSWORD });
      const cookie = cookieOf((await signIn('carl', PASSWORD)).headers);
      expect((await patch('carl', change)).status).toBe(200);
      expect((await asPerson(cookie, 'GET', '/api/v1/fleet')).status).toBe(401);
    }
    await patch('carl', { password: PASSWORD, retired: true });
    expect((await signIn('carl', PASSWORD)).status).toBe(401);
    await patch('carl', { retired: false });
    expect((await signIn('carl', PASSWORD)).status).toBe(200);
  });

  test('leave at least one admin', async () => {
    expect((await patch('anna', { role: 'viewer' })).status).toBe(409);
    expect((await patch('anna', { retired: true })).status).toBe(409);
    await make('dora', 'admin');
    expect((await patch('anna', { role: 'operator' })).status).toBe(200);
  });

  test.each([
    ['a short password', { login: 'e', name: 'E', role: 'viewer', password: 'short' }, '/password'],
    ['the role of a program', { login: 'e', name: 'E', role: 'gateway', password: PASSWORD }, '/role'],
    ['a login with a blank', { login: 'e e', name: 'E', role: 'viewer', password: PASSWORD }, '/login'],
  ])('are not made with %s', async (_name, body, path) => {
    expect(await world.ask('POST', '/api/v1/people', { body })).toMatchObject({
      status: 400,
      body: { errors: [{ path }] },
    });
  });

  test('nobody: 404', async () => {
    expect((await patch('nobody', { name: 'x' })).status).toBe(404);
  });
});

describe('a display that signs in with a token', () => {
  const enter = (token: string, headers: Record<string, string> = SAME) =>
    world.ask('POST', '/api/v1/session/token', { body: { token }, token: null, headers });
  const make = async (role: string) =>
    (await world.ask('POST', '/api/v1/tokens', { body: { name: 'hall display', role } })).body as {
      id: string;
      token: string;
    };

  test('has the role of the token, reads, and moves nothing', async () => {
    const { token } = await make('viewer');
    const entered = await enter(` ${token}\n`);
    const who = { kind: 'token', login: 'hall display', name: 'hall display', role: 'viewer' };
    expect(entered).toMatchObject({ status: 200, body: { who, preferences: null } });
    const cookie = cookieOf(entered.headers);
    expect(String(entered.headers['set-cookie'])).toMatch(/HttpOnly.*SameSite=Lax/);
    expect(cookie).not.toContain(token);
    expect((await asPerson(cookie, 'GET', '/api/v1/round')).status).toBe(200);
    expect((await asPerson(cookie, 'POST', '/api/v1/round/sign', { area: 'north' })).status).toBe(403);
    expect(JSON.stringify(await world.db.sql`select * from sessions`)).not.toContain(token);
  });

  test('stays as long as the token, whatever the hour, and its cookie is renewed', async () => {
    const made = await make('viewer');
    const cookie = cookieOf((await enter(made.token)).headers);
    const later = new Date(NOW.getTime() + 300 * 86_400_000);
    world.at(later);
    await tidy(world.db, later);
    const seen = await asPerson(cookie, 'GET', '/api/v1/session');
    expect(seen.body.who).toMatchObject({ kind: 'token' });
    expect(String(seen.headers['set-cookie'])).toMatch(/Max-Age=34560000/);
    world.at(new Date(NOW.getTime() + 600 * 86_400_000));
    expect((await asPerson(cookie, 'GET', '/api/v1/session')).body.who).not.toBeNull();
    world.at(NOW);
    await world.ask('DELETE', `/api/v1/tokens/${made.id}`);
    expect((await asPerson(cookie, 'GET', '/api/v1/session')).body.who).toBeNull();
    expect((await asPerson(cookie, 'GET', '/api/v1/round')).status).toBe(401);
    expect(await world.db.sql`select 1 from sessions where token = ${made.id}`).toEqual([]);
  });

  test('may write only from its own page, when its token may write at all', async () => {
    const cookie = cookieOf((await enter((await make('operator')).token)).headers);
    const sign = (headers: Record<string, string>) =>
      asPerson(cookie, 'POST', '/api/v1/round/sign', { area: 'nowhere' }, headers);
    expect((await sign({})).status).toBe(403);
    expect((await sign({ 'sec-fetch-site': 'cross-site' })).status).toBe(403);
    expect((await sign(SAME)).status).toBe(404);
  });

  test('a gateway does not look; an unknown token, a revoked one and the one of the environment do not enter', async () => {
    expect((await enter((await make('gateway')).token)).status).toBe(403);
    const revoked = await make('viewer');
    await world.ask('DELETE', `/api/v1/tokens/${revoked.id}`);
    for (const token of ['nonsense', revoked.token, ADMIN]) {
      const answer = await enter(token);
      expect(answer.status).toBe(401);
      expect(answer.headers['set-cookie']).toBeUndefined();
    }
    expect((await enter((await make('viewer')).token, { 'sec-fetch-site': 'cross-site' })).status).toBe(403);
  });
});
