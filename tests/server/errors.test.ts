import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openDatabase } from '../../shared/db/connect.ts';
import { quiet } from '../support/services.ts';
import { aScan, FLEET, openWorld, type World } from './world.ts';

let world: World;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
});
afterAll(() => world.close());

test.each([
  ['an unknown route', 'GET', '/api/v1/nothing', undefined, 404],
  ['an unknown route outside the interface', 'GET', '/nothing.txt', undefined, 404],
  ['a method that a route does not have', 'PATCH', '/api/v1/fleet', {}, 404],
  ['a body that is no JSON', 'PUT', '/api/v1/fleet', 'hello', 400],
  ['a prototype in a body', 'PUT', '/api/v1/fleet', '{"__proto__": {"admin": true}}', 400],
  ['a body that nests deep', 'PUT', '/api/v1/fleet', `${'['.repeat(200_000)}${']'.repeat(200_000)}`, 400],
  ['a query that is not known', 'GET', '/api/v1/backlog?x=1', undefined, 400],
  ['a query twice', 'GET', '/api/v1/chambers?area=a&area=b', undefined, 400],
  ['NUL in a path', 'GET', '/api/v1/chambers/a%00b', undefined, 400],
  ['NUL in a query', 'GET', '/api/v1/alerts?chamber=a%00b', undefined, 400],
  ['a broken escape in a path', 'GET', '/api/v1/chambers/%zz', undefined, 400],
  ['a body that is too large', 'POST', '/api/v1/round/sign', { area: 'x'.repeat(2_000_000) }, 413],
])('%s is a problem document with the id of the request', async (_name, method, url, body, status) => {
  const answer = await world.ask(method, url, { body });
  expect(answer.status).toBe(status);
  expect(answer.headers['content-type']).toMatch(/^application\/problem\+json/);
  expect(answer.body).toMatchObject({
    type: 'about:blank',
    status,
    title: expect.any(String),
    detail: expect.any(String),
  });
  expect(answer.body.instance).toBe(answer.headers['x-request-id']);
  expect(JSON.stringify(answer.body)).not.toMatch(/node_modules|\.ts:|at Object/);
});

test.each([
  ['text/plain', {}],
  ['application/xml', {}],
  ['application/json', { 'content-encoding': 'gzip' }],
])('a body as %s %j: 415', async (type, headers) => {
  const answer = await world.ask('PUT', '/api/v1/fleet', {
    body: '<fleet/>',
    headers: { 'content-type': type, ...headers },
  });
  expect(answer).toMatchObject({ status: 415, body: { status: 415 } });
});

test('headers let nothing in, and lock no browser out of plain http', async () => {
  for (const url of ['/api/v1/fleet', '/nothing', '/health/live']) {
    const { headers } = await world.ask('GET', url);
    expect(headers['content-security-policy']).toContain("default-src 'none'");
    expect(headers['content-security-policy']).not.toContain('upgrade-insecure-requests');
    expect(headers['strict-transport-security']).toBeUndefined();
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['access-control-allow-origin']).toBeUndefined();
  }
  expect((await world.ask('GET', '/api/v1/fleet')).headers['cache-control']).toBe('no-store');
});

test('no text in a query or a path makes the server fail', async () => {
  const urls = [
    (text: string) => `/api/v1/chambers/${text}`,
    (text: string) => `/api/v1/chambers/n-prep-1/trend?gases=${text}`,
    (text: string) => `/api/v1/chambers/n-prep-1/trend?from=${text}`,
    (text: string) => `/api/v1/chambers/n-prep-1/ticket?alert=${text}`,
    (text: string) => `/api/v1/alerts?chamber=${text}&signature=${text}`,
    (text: string) => `/api/v1/round?area=${text}`,
    (text: string) => `/api/v1/rejects?analyser=${text}&before=${text}`,
  ];
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...urls),
      fc.oneof(
        fc.string({ unit: 'binary', maxLength: 80 }),
        fc.constantFrom("' or 1=1 --", '../../etc/passwd', '9'.repeat(400)),
      ),
      async (url, text) => {
        expect(
          (await world.ask('GET', url(encodeURIComponent(text.replace(/\p{Surrogate}/gu, ''))))).status,
        ).toBeLessThan(500);
      },
    ),
    { numRuns: 200 },
  );
});

test('no JSON in place of a scan makes the server fail, and a good scan beside it goes in', async () => {
  const token = await world.tokenOf('gateway');
  await fc.assert(
    fc.asyncProperty(
      fc.json(),
      fc.dictionary(fc.constantFrom(...Object.keys(aScan()), 'x'), fc.jsonValue()),
      async (any, change) => {
        const body = { scans: [JSON.parse(any), { ...aScan(), ...change }, aScan()] };
        const answer = await world.ask('POST', '/api/v1/scans', { body, token });
        expect(answer.status).toBe(200);
        const { accepted, duplicates, rejected } = answer.body;
        expect(accepted).toBeGreaterThanOrEqual(1);
        expect(accepted + duplicates + rejected.length).toBe(3);
      },
    ),
    { numRuns: 150 },
  );
});

describe('while the database is away', () => {
  test('answers are 503 with Retry-After, and the server lives', async () => {
    const nowhere = openDatabase('postgres://nobody@127.0.0.1:1/none', { applicationName: 'ullage-test', log: quiet });
    const lost = await openWorld({ db: nowhere });
    try {
      for (const [method, url, body] of [
        ['GET', '/api/v1/chambers', undefined],
        ['POST', '/api/v1/scans', { scans: [aScan()] }],
        ['PUT', '/api/v1/fleet', FLEET],
      ] as const) {
        const answer = await lost.ask(method, url, { body });
        expect(answer.status).toBe(503);
        expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0);
        expect(answer.body).toMatchObject({ status: 503, title: 'Service Unavailable' });
        expect(JSON.stringify(answer.body)).not.toMatch(/ECONNREFUSED|127\.0\.0\.1/);
      }
      expect((await lost.ask('GET', '/health/live')).status).toBe(200);
      const ready = await lost.ask('GET', '/health/ready');
      expect(ready.status).toBe(503);
      expect(ready.body).toMatchObject({
        status: 'not ready',
        database: { ok: false },
        queue: { ok: true },
        backlog: { scans: null },
      });
    } finally {
      await lost.close();
    }
  });
});
