import { afterAll, beforeAll, expect, test } from 'vitest';
import { aScan, FLEET, openWorld, type World } from '../world.ts';

let world: World;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
});
afterAll(() => world.close());
const get = (url: string) => world.ask('GET', url, { token: null });

test('lives and is ready', async () => {
  expect(await get('/health/live')).toMatchObject({ status: 200, body: { status: 'live' } });
  expect(await get('/health/ready')).toMatchObject({
    status: 200,
    body: { status: 'ready', database: { ok: true }, queue: { ok: true }, backlog: { ok: true, scans: 0 } },
  });
});

test('is not ready while the queue is away, nor with a backlog beyond its limit', async () => {
  const lame = await openWorld({ queueAnswers: () => Promise.reject(new Error('away')), mostOutstanding: 0 });
  await lame.ask('PUT', '/api/v1/fleet', { body: FLEET });
  await lame.ask('POST', '/api/v1/scans', { body: { scans: [aScan()] } });
  expect(await lame.ask('GET', '/health/ready')).toMatchObject({
    status: 503,
    body: { status: 'not ready', database: { ok: true }, queue: { ok: false }, backlog: { ok: false, scans: 1 } },
  });
  await lame.close();
});

test('counts in the text of Prometheus, with labels from short lists', async () => {
  await world.ask('POST', '/api/v1/scans', { body: { scans: [aScan(), aScan({ unit: 'V' })] } });
  await world.ask('GET', '/api/v1/chambers/n-prep-1');
  await world.ask('GET', '/some/guess');
  const { status, headers, body } = await get('/metrics');
  expect(status).toBe(200);
  expect(headers['content-type']).toMatch(/^text\/plain; version=0\.0\.4/);
  expect(body).toMatch(/^ullage_backlog_scans 1$/m);
  expect(body).toMatch(/^ullage_scans_total{verdict="accepted"} 1$/m);
  expect(body).toMatch(/^ullage_scans_total{verdict="rejected"} 1$/m);
  expect(body).toMatch(/route="\/api\/v1\/chambers\/:id",status="2xx"/);
  expect(body).not.toMatch(/n-prep-1|some\/guess/);
});

test('describes itself, with every schema complete enough to read', async () => {
  const { status, body } = await get('/api/v1/openapi.json');
  expect(status).toBe(200);
  expect(body.openapi).toMatch(/^3\./);
  const scan = body.paths['/api/v1/scans'].post.requestBody.content['application/json'].schema;
  expect(Object.keys(scan.properties.scans.items.properties)).toEqual(
    expect.arrayContaining(['analyser', 'masses', 'values']),
  );
  for (const methods of Object.values<Record<string, { responses: object; summary?: string }>>(body.paths))
    for (const route of Object.values(methods)) expect(Object.keys(route.responses)[0]).toMatch(/^2/);
});
