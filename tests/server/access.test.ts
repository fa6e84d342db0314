import Fastify from 'fastify';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkAccess } from '../../server/access.ts';
import type { App, Deps } from '../../server/deps.ts';
import { mayUse, type Policy } from '../../server/policy.ts';
import { ROLES, type Role } from '../../shared/contract/words.ts';
import { ADMIN, aScan, FLEET, openWorld, type World } from './world.ts';

/** Every route and who may use it, written down by hand from the interface's description: a change is a decision. */
const TABLE: Record<string, Policy> = {
  'POST /api/v1/scans': 'gateway',
  'GET /api/v1/backlog': 'viewer',
  'GET /api/v1/rejects': 'engineer',
  'GET /api/v1/fleet': 'viewer',
  'PUT /api/v1/fleet': 'admin',
  'POST /api/v1/tokens': 'admin',
  'GET /api/v1/tokens': 'admin',
  'DELETE /api/v1/tokens/{id}': 'admin',
  'GET /api/v1/session': 'open',
  'POST /api/v1/session': 'open',
  'DELETE /api/v1/session': 'open',
  'POST /api/v1/session/token': 'open',
  'PUT /api/v1/me/preferences': 'viewer',
  'GET /api/v1/about': 'viewer',
  'GET /api/v1/about/operation': 'engineer',
  'POST /api/v1/backups': 'engineer',
  'POST /api/v1/set-up': 'open',
  'GET /api/v1/people': 'admin',
  'POST /api/v1/people': 'admin',
  'PATCH /api/v1/people/{login}': 'admin',
  'GET /api/v1/chambers': 'viewer',
  'GET /api/v1/chambers/{id}': 'viewer',
  'GET /api/v1/chambers/{id}/states': 'viewer',
  'GET /api/v1/chambers/{id}/readings/latest': 'viewer',
  'GET /api/v1/chambers/{id}/spectrum': 'viewer',
  'GET /api/v1/chambers/{id}/baselines': 'viewer',
  'GET /api/v1/chambers/{id}/trend': 'viewer',
  'GET /api/v1/chambers/{id}/limits': 'viewer',
  'PUT /api/v1/chambers/{id}/limits': 'engineer',
  'GET /api/v1/chambers/{id}/ticket': 'viewer',
  'GET /api/v1/chambers/{id}/ticket/sheet': 'viewer',
  'GET /api/v1/chambers/{id}/comparison': 'viewer',
  'GET /api/v1/chambers/{id}/before-after': 'viewer',
  'GET /api/v1/chambers/{id}/sisters': 'viewer',
  // The spectrum of an earlier scan: a worker works it out, nothing that is judged changes.
  'GET /api/v1/chambers/{id}/scan': 'viewer',
  'GET /api/v1/chambers/{id}/notes': 'viewer',
  'POST /api/v1/chambers/{id}/notes': 'operator',
  'POST /api/v1/chambers/{id}/notes/{note}/withdraw': 'operator',
  'GET /api/v1/measurement': 'viewer',
  'GET /api/v1/measurement/settings': 'viewer',
  'PUT /api/v1/measurement/settings': 'engineer',
  'GET /api/v1/analysers/{id}/measurement': 'viewer',
  'GET /api/v1/analysers/{id}/measurement/trend': 'viewer',
  'GET /api/v1/analysers/{id}/residuals': 'viewer',
  'GET /api/v1/analysers/{id}/scans': 'viewer',
  'GET /api/v1/analysers/{id}/plan': 'viewer',
  'GET /api/v1/analysers/{id}/calibrations': 'viewer',
  'POST /api/v1/analysers/{id}/calibrations': 'engineer',
  'POST /api/v1/analysers/{id}/calibrations/{entry}/enforce': 'engineer',
  'POST /api/v1/analysers/{id}/calibrations/{entry}/withdraw': 'engineer',
  'GET /api/v1/analysers/{id}/tasks': 'viewer',
  // A change between two scans; whatever may become a calibration needs an engineer (see tasks.test.ts).
  'POST /api/v1/analysers/{id}/tasks': 'viewer',
  'GET /api/v1/analysers/{id}/tasks/{task}': 'viewer',
  'GET /api/v1/alerts': 'viewer',
  'GET /api/v1/alerts/{id}': 'viewer',
  'POST /api/v1/alerts/{id}/acknowledge': 'operator',
  'POST /api/v1/alerts/{id}/shelve': 'operator',
  'POST /api/v1/alerts/{id}/unshelve': 'operator',
  'POST /api/v1/alerts/{id}/close': 'operator',
  'POST /api/v1/alerts/{id}/reset': 'operator',
  'POST /api/v1/alerts/{id}/out-of-service': 'engineer',
  'POST /api/v1/alerts/{id}/return-to-service': 'engineer',
  'GET /api/v1/alerts/groups': 'viewer',
  'GET /api/v1/service-breaks': 'viewer',
  'GET /api/v1/rationalisation': 'viewer',
  'GET /api/v1/rationalisation/{signature}/history': 'viewer',
  'PUT /api/v1/rationalisation/{signature}': 'engineer',
  'POST /api/v1/rehearsals': 'engineer',
  'GET /api/v1/performance': 'viewer',
  'GET /api/v1/performance/confusion': 'viewer',
  'GET /api/v1/rehearsals': 'viewer',
  'GET /api/v1/rehearsals/{id}': 'viewer',
  'GET /api/v1/analysers/{id}/pins': 'viewer',
  'POST /api/v1/analysers/{id}/pins': 'engineer',
  'POST /api/v1/analysers/{id}/pins/{pin}/enforce': 'engineer',
  'POST /api/v1/analysers/{id}/pins/{pin}/withdraw': 'engineer',
  'POST /api/v1/alerts/{id}/example': 'engineer',
  'GET /api/v1/examples': 'viewer',
  'POST /api/v1/examples/{id}/withdraw': 'engineer',
  'GET /api/v1/round': 'viewer',
  'POST /api/v1/round/sign': 'operator',
  'GET /api/v1/round/handover': 'viewer',
  'GET /api/v1/handover/entries': 'viewer',
  'POST /api/v1/handover/entries': 'operator',
  'POST /api/v1/handover/entries/{id}/close': 'operator',
  'POST /api/v1/round/{id}/countersign': 'operator',
  'GET /api/v1/rounds': 'viewer',
  'GET /api/v1/rounds/{id}': 'viewer',
  'GET /api/v1/gases': 'viewer',
  'GET /api/v1/signatures': 'viewer',
  'GET /api/v1/events': 'viewer',
  'GET /api/v1/openapi.json': 'open',
  'GET /health/live': 'open',
  'GET /health/ready': 'open',
  'GET /metrics': 'open',
};
const ROUTES = Object.keys(TABLE);
const urlOf = (route: string) => (route.split(' ')[1] as string).replace(/\{\w+\}/g, 'nothing');
const methodOf = (route: string) => route.split(' ')[0] as string;

let world: World;
const tokens = new Map<Role, string>();
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  for (const role of ROLES) tokens.set(role, await world.tokenOf(role));
});
afterAll(() => world.close());

test('the description lists exactly the routes of this table', async () => {
  const { body } = await world.ask('GET', '/api/v1/openapi.json');
  const listed = Object.entries(body.paths as Record<string, object>).flatMap(([path, methods]) =>
    Object.keys(methods)
      .filter((method) => method !== 'head')
      .map((method) => `${method.toUpperCase()} ${path}`),
  );
  expect(listed.sort()).toEqual([...ROUTES].sort());
});

describe('what each role may do', () => {
  const KINDS = [...ROLES, 'nobody', 'a stranger'] as const;
  const cases = ROUTES.flatMap((route) => KINDS.map((kind) => [route, kind] as const)).filter(
    // The stream never ends by itself; it has its own test.
    ([route, kind]) =>
      route !== 'GET /api/v1/events' || kind === 'gateway' || kind === 'nobody' || kind === 'a stranger',
  );
  test.each(cases)('%s as %s', async (route, kind) => {
    const token = kind === 'nobody' ? null : kind === 'a stranger' ? 'ullage_unknown' : (tokens.get(kind) as string);
    const { status, headers, body } = await world.ask(methodOf(route), urlOf(route), { token });
    const policy = TABLE[route] as Policy;
    expect(status).toBeLessThan(500);
    if (policy === 'open') {
      // The session says who is asking, so it does not take an unknown token for nobody.
      if (route !== 'GET /api/v1/session' || kind !== 'a stranger') expect([401, 403]).not.toContain(status);
      return;
    }
    if (kind === 'nobody' || kind === 'a stranger') {
      expect(status).toBe(401);
      expect(headers['www-authenticate']).toBe('Bearer');
      expect(body.title).toBe('Unauthorized');
    } else if (mayUse(kind, policy)) expect([401, 403]).not.toContain(status);
    else {
      expect(status).toBe(403);
      expect(body).toMatchObject({ status: 403, title: 'Forbidden' });
    }
  });
});

test('a route that does not say who may use it fails at start', async () => {
  const app = Fastify() as unknown as App;
  checkAccess(app, {} as Deps);
  app.get('/secret', async () => 'secret');
  await expect(app.ready()).rejects.toThrow(/\/secret does not say who may use it/);
});

describe('tokens', () => {
  test('are shown once, kept only as a hash, listed without it, and revoked at once', async () => {
    const made = await world.ask('POST', '/api/v1/tokens', { body: { name: 'dashboard', role: 'viewer' } });
    expect(made.status).toBe(201);
    const { id, token } = made.body;
    expect(Object.keys(made.body).sort()).toEqual(['id', 'token']);
    expect(token.length).toBeGreaterThanOrEqual(43);
    const dump = JSON.stringify([await world.db.sql`select * from tokens`, await world.db.sql`select * from audit`]);
    expect(dump).not.toContain(token);
    expect((await world.ask('GET', '/api/v1/backlog', { token })).status).toBe(200);
    const { tokens: listed } = (await world.ask('GET', '/api/v1/tokens')).body;
    const line = listed.find((one: { id: string }) => one.id === id);
    expect(line).toMatchObject({ name: 'dashboard', role: 'viewer', analysers: null });
    expect(line.lastUsedAt).not.toBeNull();
    expect((await world.ask('DELETE', `/api/v1/tokens/${id}`)).status).toBe(204);
    expect((await world.ask('GET', '/api/v1/backlog', { token })).status).toBe(401);
    expect((await world.ask('DELETE', `/api/v1/tokens/${id}`)).status).toBe(404);
    expect(JSON.stringify((await world.ask('GET', '/api/v1/tokens')).body)).not.toContain(id);
  });

  test('of a gateway keep its analysers', async () => {
    const body = { name: 'gw', role: 'gateway', analysers: ['n-prep-1-a'] };
    const { token } = (await world.ask('POST', '/api/v1/tokens', { body })).body;
    const scans = { scans: [aScan(), aScan({ analyser: 's-load-1-a' })] };
    expect((await world.ask('POST', '/api/v1/scans', { body: scans, token })).body).toMatchObject({
      accepted: 1,
      rejected: [{ index: 1 }],
    });
  });

  test.each([
    ['no role', { name: 'x' }, 400, '/role'],
    ['a role that is none', { name: 'x', role: 'king' }, 400, '/role'],
    ['an empty name', { name: '', role: 'viewer' }, 400, '/name'],
    ['an unknown field', { name: 'x', role: 'viewer', more: 1 }, 400, '/more'],
    ['analysers for a viewer', { name: 'x', role: 'viewer', analysers: ['a'] }, 422, '/analysers'],
    ['a gateway for nothing', { name: 'x', role: 'gateway', analysers: [] }, 422, '/analysers'],
  ])('are not made with %s', async (_name, body, status, path) => {
    expect(await world.ask('POST', '/api/v1/tokens', { body })).toMatchObject({ status, body: { errors: [{ path }] } });
  });

  test('may be written with any case of "bearer", and nothing else', async () => {
    const as = (authorization: string) =>
      world.ask('GET', '/api/v1/backlog', { token: null, headers: { authorization } });
    expect((await as(`bearer ${ADMIN}`)).status).toBe(200);
    for (const other of [ADMIN, `Basic ${ADMIN}`, 'Bearer', `Bearer ${ADMIN}x`, `Bearer ${ADMIN} x`])
      expect((await as(other)).status).toBe(401);
  });
});
