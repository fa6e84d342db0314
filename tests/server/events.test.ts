import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
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
const listen = async (headers: Record<string, string> = {}, search = '') => {
  const abort = new AbortController();
  const { authorization = `Bearer ${ADMIN}`, ...others } = headers;
  const answer = await fetch(`${url}/api/v1/events${search}`, {
    headers: { ...(authorization === '' ? {} : { authorization }), ...others },
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

test('tells whoever comes back what it missed, once, and in order', async () => {
  const round = (id: string) =>
    world.db.sql`select pg_notify('ullage_events', ${JSON.stringify({ event: 'round', area: 'a', id })})`;
  const first = await listen();
  await round('heard');
  await first.until(/heard/);
  const place = /id: (\S+)\nevent: round\ndata: .*heard/.exec(first.text())?.[1] as string;
  first.stop();
  await round('missed 1');
  await round('missed 2');
  let times = 0;
  const told = async (headers: Record<string, string>, path: string) => {
    times += 1;
    const again = await listen(headers, path);
    await round(`now ${times}`);
    await again.until(new RegExp(`now ${times}`));
    again.stop();
    return [...again.text().matchAll(/^event: (\w+)(?:\ndata: .*?"id":"([^"]*)")?/gm)].map(
      (found) => found[2] ?? found[1],
    );
  };
  expect(await told({}, `?after=${place}`)).toEqual(['missed 1', 'missed 2', 'now 1']);
  expect(await told({ 'last-event-id': place }, '')).toEqual(['missed 1', 'missed 2', 'now 1', 'now 2']);
  expect(await told({}, '?after=another.12')).toEqual(['resync', 'now 3']);
  expect(await told({}, ''), 'who comes for the first time has missed nothing').toEqual(['now 4']);
});

test('the session says where the stream was before anything else was read', async () => {
  const { body } = await world.ask('GET', '/api/v1/session');
  await world.db.sql`select pg_notify('ullage_events', '{"event": "round", "area": "a", "id": "in between"}')`;
  const stream = await listen({}, `?after=${body.events}`);
  await stream.until(/in between/);
  stream.stop();
});

describe('a stream ends at once', () => {
  const SAME = { 'sec-fetch-site': 'same-origin' };
  const PASSWORD = 'correct horse battery';
  const ended = async (stream: Awaited<ReturnType<typeof listen>>) => {
    await stream.reading;
    expect(stream.text()).toMatch(/event: ended\ndata: {}\n\n$/);
  };
  const signedIn = async (login: string) => {
    const body = { login, password: PASSWORD };
    const { headers } = await world.ask('POST', '/api/v1/session', { body, token: null, headers: SAME });
    const cookie = String(headers['set-cookie']).split(';')[0] as string;
    return { cookie, stream: await listen({ authorization: '', cookie }) };
  };

  test('when its token is revoked, and no other', async () => {
    const make = async (name: string) =>
      (await world.ask('POST', '/api/v1/tokens', { body: { name, role: 'viewer' } })).body as {
        id: string;
        token: string;
      };
    const [one, two] = [await make('one'), await make('two')];
    const [first, second] = [
      await listen({ authorization: `Bearer ${one.token}` }),
      await listen({ authorization: `Bearer ${two.token}` }),
    ];
    await world.ask('DELETE', `/api/v1/tokens/${one.id}`);
    await ended(first);
    await world.db.sql`select pg_notify('ullage_events', '{"event": "round", "area": "a", "id": "still here"}')`;
    await second.until(/still here/);
    expect(second.text(), 'what concerns access is not for pages').not.toMatch(/access/);
    second.stop();
  });

  test('when its person signs out, and no other stream of that person', async () => {
    await world.ask('POST', '/api/v1/people', {
      body: { login: 'ida', name: 'Ida', role: 'operator', password: PASSWORD },
    });
    const [here, there] = [await signedIn('ida'), await signedIn('ida')];
    await world.ask('DELETE', '/api/v1/session', { token: null, headers: { ...SAME, cookie: here.cookie } });
    await ended(here.stream);
    await world.db.sql`select pg_notify('ullage_events', '{"event": "round", "area": "a", "id": "on she goes"}')`;
    await there.stream.until(/on she goes/);
    there.stream.stop();
  });

  test('when its person is given another role, or retired', async () => {
    const body = { login: 'ole', name: 'Ole', role: 'operator', password: PASSWORD };
    await world.ask('POST', '/api/v1/people', { body });
    const before = await signedIn('ole');
    await world.ask('PATCH', '/api/v1/people/ole', { body: { role: 'viewer' } });
    await ended(before.stream);
    const after = await signedIn('ole');
    await world.ask('PATCH', '/api/v1/people/ole', { body: { retired: true } });
    await ended(after.stream);
  });
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
