/**
 * The line between page and server is cut more than a hundred times, at random moments and in random ways, while
 * alerts are raised, acknowledged and readings come. The page's own code keeps its answers fresh; in the end they are
 * those of the server. The page's full re-reading after a cut is left out: what is told again must be enough.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import { type QueryKey, QueryObserver, type QueryObserverOptions } from '@tanstack/react-query';
import { afterAll, afterEach, beforeAll, expect, test, vi } from 'vitest';
import type { Session } from '../../shared/contract/access.ts';
import { makeClient } from '../../web/api/client.ts';
import { makeFreshener } from '../../web/api/freshness.ts';
import { alertsQuestion, chamberQuestion, roundQuestion } from '../../web/api/questions.ts';
import { openStream, type StreamEvent, type StreamState } from '../../web/api/stream.ts';
import { ADMIN, FLEET, NOW, openWorld, putAlert, putReadings, type World } from '../server/world.ts';
import { CUTS, type CuttableLine, openLine } from '../support/cuttableLine.ts';
import { eventSource } from '../support/eventSource.ts';
import { makeRandom } from '../support/world/random.ts';

const TIMES_CUT = 120;
const SEED = 20261129;

let world: World;
let line: CuttableLine;
let direct: string;
const { uniform: random } = makeRandom(SEED);
const headers = { authorization: `Bearer ${ADMIN}` };

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  direct = await world.app.listen({ host: '127.0.0.1', port: 0 });
  line = await openLine(Number(new URL(direct).port));
});
afterAll(async () => {
  await line.close();
  await world.close();
});
afterEach(() => {
  vi.unstubAllGlobals();
});

/** An open alert is one of its kind in its chamber. */
const free = ['n-prep-1', 's-load-1'].flatMap((chamber) =>
  ['air-leak', 'water', 'helium', 'methane', 'silicone', 'noise'].map((signature) => ({ chamber, signature })),
);
const raised: { id: string; chamber: string; signature: string }[] = [];
const acknowledged: typeof raised = [];
const takeOne = <T>(list: T[]): T => list.splice(Math.floor(random() * list.length), 1)[0] as T;
const tell = (event: object) => world.db.sql`select pg_notify('ullage_events', ${JSON.stringify(event)})`;

/** Something changes, told as the product tells it: after the commit. */
let made = 0;
const change = async (): Promise<void> => {
  made += 1;
  const what = random();
  if (what < 0.25 && free.length > 0) {
    const alert = { id: `alert-${made}`, ...takeOne(free) };
    await putAlert(world, { ...alert, gases: [], summary: `Number ${made}.` });
    raised.push(alert);
    await tell({ event: 'alert', ...alert, priority: 'high', state: 'unacknowledged' });
  } else if (what < 0.5 && raised.length > 0) {
    const alert = takeOne(raised);
    await world.ask('POST', `/api/v1/alerts/${alert.id}/acknowledge`, { body: { note: `seen ${made}` } });
    acknowledged.push(alert);
  } else if (what < 0.65 && acknowledged.length > 0) {
    const { id, ...pair } = takeOne(acknowledged);
    await world.ask('POST', `/api/v1/alerts/${id}/close`, { body: { cause: `cause ${made}` } });
    free.push(pair);
  } else {
    const at = new Date(NOW.getTime() + made * 1000);
    await putReadings(world, [{ at, gases: { N2: 1e-8 * (1 + random()) } }]);
    await tell({ event: 'reading', chamber: 'n-prep-1', analyser: 'n-prep-1-a', at: at.toISOString() });
  }
};

/** A page without a picture: its questions, its stream and what keeps them together. */
const openPage = async () => {
  const base = `http://127.0.0.1:${line.port}`;
  const plain = globalThis.fetch;
  vi.stubGlobal('fetch', (path: string | URL, init: RequestInit = {}) =>
    String(path).startsWith('/')
      ? plain(base + String(path), { ...init, headers: { ...(init.headers as Record<string, string>), ...headers } })
      : plain(path, init),
  );
  const session = (await (await fetch('/api/v1/session')).json()) as Session;
  const client = makeClient();
  const watch = <T, K extends QueryKey>(question: QueryObserverOptions<T, Error, T, T, K>) =>
    new QueryObserver(client, question).subscribe(() => {});
  watch(roundQuestion);
  watch(alertsQuestion({}));
  watch(chamberQuestion('n-prep-1'));
  const freshener = makeFreshener(client);
  const heard: StreamEvent[] = [];
  let state: StreamState | null = null;
  let cuts = 0;
  const stream = openStream({
    open: (address) => eventSource(base + address, headers),
    probe: async (patienceMs) => {
      await fetch('/health/live', { signal: AbortSignal.timeout(patienceMs) });
    },
    after: session.events,
    onEvent: (event) => {
      heard.push(event);
      freshener.take(event);
    },
    onState: (next) => {
      if (state?.status === 'live' && next.status === 'cut-off') cuts += 1;
      state = next;
    },
    now: () => Date.now(),
    random,
  });
  return {
    client,
    heard,
    stream,
    isLive: () => state?.status === 'live',
    cuts: () => cuts,
    close: () => {
      stream.close();
      freshener.close();
      client.clear();
    },
  };
};

const serverSays = async (path: string): Promise<unknown> => (await fetch(direct + path, { headers })).json();
/** All but the moment at which it was asked. */
const timeless = (value: unknown): unknown => ({ ...(value as object), at: null });

test(`the line is cut ${TIMES_CUT} times, and no alert and no reading is missed`, async () => {
  const page = await openPage();
  while (!page.isLive()) await sleep(5);
  for (let n = 0; n < TIMES_CUT; n += 1) {
    for (let i = Math.floor(random() * 3); i > 0; i -= 1) await change();
    await sleep(random() * 30);
    line.cut(CUTS[Math.floor(random() * CUTS.length)] as (typeof CUTS)[number]);
    for (let i = Math.floor(random() * 3); i > 0; i -= 1) await change();
    await sleep(random() * 30);
    line.mend();
    while (page.isLive()) await sleep(2);
    // As a person's "Try now" does; without it the pauses between attempts would fill minutes.
    page.stream.tryNow();
    while (!page.isLive()) await sleep(5);
  }
  await change();
  expect(page.cuts()).toBeGreaterThanOrEqual(TIMES_CUT);
  expect(made).toBeGreaterThan(TIMES_CUT);

  const questions = [
    [['round'], '/api/v1/round'],
    [['alerts', {}], '/api/v1/alerts'],
    [['chamber', 'n-prep-1', 'detail'], '/api/v1/chambers/n-prep-1?unit=Pa'],
  ] as const;
  const isCurrent = async ([key, path]: (typeof questions)[number]) =>
    JSON.stringify(timeless(page.client.getQueryData([...key]))) === JSON.stringify(timeless(await serverSays(path)));
  // Gathered questions and bad weather have pauses of their own; counted, not timed.
  for (let tries = 0; tries < 600; tries += 1) {
    if ((await Promise.all(questions.map(isCurrent))).every(Boolean)) break;
    await sleep(100);
  }
  for (const [key, path] of questions)
    expect(timeless(page.client.getQueryData([...key])), path).toEqual(timeless(await serverSays(path)));
  expect(
    page.heard.filter(({ kind }) => kind === 'resync'),
    'the server knew what was missed each time',
  ).toEqual([]);
  page.close();
});

test('a server that was started anew cannot know: the page reads everything again', async () => {
  const page = await openPage();
  while (!page.isLive()) await sleep(5);
  const other = await openWorld();
  const answer = await other.app.inject({ url: '/api/v1/session' });
  const place = (answer.json() as Session).events;
  await other.close();
  const stranger = eventSource(`${direct}/api/v1/events?after=${place}`, headers);
  const told = await new Promise<string>((heard) => {
    for (const kind of ['resync', 'alert', 'reading']) stranger.addEventListener(kind, () => heard(kind));
  });
  stranger.close();
  expect(told).toBe('resync');
  page.close();
});
