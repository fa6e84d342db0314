import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openDatabase } from '../../shared/db/connect.ts';
import { quiet } from '../support/services.ts';
import { ADMIN, FLEET, openWorld, putAlert, type World } from './world.ts';

let world: World;
let url: string;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  url = await world.app.listen({ host: '127.0.0.1', port: 0 });
});
afterAll(() => world.close());

/** Opens the stream and gathers what it says. */
const listen = async (headers: Record<string, string> = {}) => {
  const abort = new AbortController();
  const answer = await fetch(`${url}/api/v1/events`, {
    headers: { authorization: `Bearer ${ADMIN}`, ...headers },
    signal: abort.signal,
  });
  let text = '';
  let ended = false;
  const reading = (async () => {
    try {
      for await (const chunk of answer.body as unknown as AsyncIterable<Uint8Array>)
        text += Buffer.from(chunk).toString();
    } catch {
      // Aborted by the test, or cut by the server.
    }
    ended = true;
  })();
  const until = async (pattern: RegExp) => {
    while (!pattern.test(text)) {
      if (ended) throw new Error(`the stream ended after: ${text}`);
      await sleep(10);
    }
  };
  return { answer, until, text: () => text, reading, stop: () => abort.abort() };
};

test('tells what happened, as it is committed', async () => {
  const stream = await listen();
  expect(stream.answer.status).toBe(200);
  expect(stream.answer.headers.get('content-type')).toBe('text/event-stream; charset=utf-8');
  await stream.until(/^: \n\n/);
  await putAlert(world, { id: 'leak' });
  await world.ask('POST', '/api/v1/alerts/leak/acknowledge', { body: {} });
  await stream.until(/event: alert\ndata: .*\n\n/);
  expect(JSON.parse(/event: alert\ndata: (.*)/.exec(stream.text())?.[1] as string)).toEqual({
    chamber: 'n-prep-1',
    id: 'leak',
    signature: 'air-leak',
    priority: 'high',
    state: 'acknowledged',
  });
  const { body } = await world.ask('POST', '/api/v1/round/sign', { body: { area: 'north' } });
  await stream.until(/event: round/);
  expect(stream.text()).toContain(`event: round\ndata: ${JSON.stringify({ area: 'north', id: body.id })}\n\n`);
  const reading = { event: 'reading', chamber: 'n-prep-1', analyser: 'n-prep-1-a', at: '2026-03-02T11:00:00.000Z' };
  await world.db.sql`select pg_notify('ullage_events', ${JSON.stringify(reading)})`;
  await stream.until(/event: reading/);
  stream.stop();
});

test('tells whoever comes back to read everything again', async () => {
  const stream = await listen({ 'last-event-id': '7' });
  await stream.until(/event: resync\ndata: {}\n\n/);
  stream.stop();
});

test('tells everyone to read again when it could not hear for a while', async () => {
  const stream = await listen();
  await stream.until(/: /);
  const killer = openDatabase(world.url, { applicationName: 'ullage-killer', log: quiet, maxConnections: 1 });
  await killer.sql`
    select pg_terminate_backend(pid) from pg_stat_activity
    where datname = current_database() and application_name = 'ullage-test'`;
  await stream.until(/event: resync/);
  await killer.sql`select pg_notify('ullage_events', '{"event": "round", "area": "a", "id": "heard again"}')`;
  await stream.until(/heard again/);
  await killer.close();
  stream.stop();
});

test('passes on nothing that it does not know', async () => {
  const stream = await listen();
  for (const payload of ['no json', '{"event": "secret"}', '7'])
    await world.db.sql`select pg_notify('ullage_events', ${payload})`;
  await world.db.sql`select pg_notify('ullage_events', '{"event": "round", "area": "a", "id": "last"}')`;
  await stream.until(/last/);
  expect(stream.text()).not.toMatch(/secret|no json/);
  stream.stop();
});

test('is refused as a problem without a token', async () => {
  const answer = await fetch(`${url}/api/v1/events`);
  expect(answer.status).toBe(401);
  expect(answer.headers.get('content-type')).toMatch(/problem\+json/);
});

test('a page that has gone is forgotten', async () => {
  const clients = async () =>
    Number(/^ullage_event_clients (\d+)/m.exec((await world.ask('GET', '/metrics')).body)?.[1]);
  const stream = await listen();
  await stream.until(/: /);
  const before = await clients();
  expect(before).toBeGreaterThan(0);
  stream.stop();
  while ((await clients()) >= before) await sleep(10);
});

test('closing the server ends open streams and does not wait for them', async () => {
  const other = await openWorld();
  const address = await other.app.listen({ host: '127.0.0.1', port: 0 });
  const answer = await fetch(`${address}/api/v1/events`, { headers: { authorization: `Bearer ${ADMIN}` } });
  const text = answer.text();
  await other.close();
  expect(await text).toMatch(/^: /);
});
