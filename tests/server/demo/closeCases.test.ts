import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { text } from 'node:stream/consumers';
import { afterEach, expect, it } from 'vitest';
import { closeCases } from '../../../server/demo/closeCases.ts';
import { openServer } from '../../../server/demo/http.ts';
import { ENGINEER } from '../../../server/demo/people.ts';
import { storiesFrom } from '../../../server/demo/stories.ts';

const ANCHOR_MS = Date.UTC(2031, 0, 8, 6, 0);
const stories = storiesFrom(ANCHOR_MS);
const closable = stories.filter(({ closed }) => closed);
const closing: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

interface Heard {
  readonly method: string;
  readonly url: string;
  readonly by: string | undefined;
  readonly body: Record<string, unknown> | null;
}

/** As much of the contract as the example hears: the server proper has tests of its own. */
async function close(
  alertsAt: (look: number, url: string) => readonly unknown[],
  now = () => ANCHOR_MS,
  backlogAt: (ask: number) => number = () => 0,
) {
  const heard: Heard[] = [];
  let looks = 0;
  let asks = 0;
  const server = createServer(async (request, response) => {
    const sent = await text(request);
    const { method = '', url = '', headers } = request;
    heard.push({ method, url, by: headers.authorization, body: sent ? JSON.parse(sent) : null });
    response.writeHead(200, { 'content-type': 'application/json' });
    if (url === '/api/v1/backlog') response.end(JSON.stringify({ scans: backlogAt(++asks) }));
    else response.end(JSON.stringify(method === 'GET' ? { alerts: alertsAt(++looks, url) } : {}));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closing.push(() => new Promise((resolve) => server.close(() => resolve())));
  const { signal } = new AbortController();
  const lines: string[] = [];
  const log = (line: string) => void lines.push(line);
  const client = openServer({ url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, signal, log });
  const tokenOf = async ({ name }: { name: string }) => `token-of-${name.split(' ')[0]}`;
  const people = { adminToken: 'token', tokenOf, anchorMs: ANCHOR_MS };
  await closeCases({ server: client, ...people, stories, now, signal, log });
  return { posts: heard.filter(({ method }) => method === 'POST'), lines };
}

const raisedAt = new Date(ANCHOR_MS).toISOString();
const standing = { id: 'a1', state: 'unacknowledged', returnedAt: null, raisedAt };
const returned = { ...standing, state: 'returned-unacknowledged', returnedAt: raisedAt };
/** One alert for each chamber, named for it. */
const of = (alert: typeof standing | typeof returned, url: string) => [
  { ...alert, id: new URL(url, 'http://x').searchParams.get('chamber') },
];

it('waits until an alert is over, and its engineer closes it with what was found', async () => {
  const { posts, lines } = await close((look, url) => (look < 2 ? [] : of(look < 3 ? standing : returned, url)));
  const closes = posts.filter(({ url }) => url.endsWith('/close'));
  expect(closes.map(({ url }) => url)).toEqual(closable.map(({ chamber }) => `/api/v1/alerts/${chamber}/close`));
  expect(closes.map(({ body }) => body)).toEqual(
    closable.map(({ closed }) => ({ cause: closed?.cause, verified: closed?.verified, note: closed?.note })),
  );
  expect(new Set(closes.map(({ by }) => by))).toEqual(new Set([`Bearer token-of-${ENGINEER.name.split(' ')[0]}`]));
  expect(lines).toEqual([]);
});

it('keeps as an example what the story says', async () => {
  const { posts } = await close((_look, url) => of(returned, url));
  const kept = posts.filter(({ url }) => url.endsWith('/example'));
  const asked = closable.filter(({ closed }) => closed?.keptAs);
  expect(asked.length).toBeGreaterThan(0);
  expect(asked.length).toBeLessThan(closable.length);
  expect(kept.map(({ url }) => url)).toEqual(asked.map(({ chamber }) => `/api/v1/alerts/${chamber}/example`));
});

it('leaves alone what is closed already', async () => {
  expect((await close(() => [{ ...returned, state: 'normal' }])).posts).toEqual([]);
});

it('takes no alert of an earlier telling for that of the story', async () => {
  const old = { state: 'normal', raisedAt: new Date(ANCHOR_MS - 400 * 3_600_000).toISOString(), id: 'old' };
  const { posts } = await close((_look, url) => [{ ...returned, ...old }, ...of(returned, url)]);
  expect(posts.filter(({ url }) => url.endsWith('/close'))).toHaveLength(closable.length);
});

it('leaves to a person what is not over in time, and says so', async () => {
  let clock = ANCHOR_MS;
  const { posts, lines } = await close(
    () => [standing],
    () => {
      clock += 200_000;
      return clock;
    },
  );
  expect(posts).toEqual([]);
  expect(lines).toHaveLength(closable.length);
  for (const line of lines) expect(line).toContain('waits for a person');
});

it('does not give up while the workers still have the past to work through', async () => {
  let clock = ANCHOR_MS;
  const late = () => {
    clock += 200_000;
    return clock;
  };
  const { posts, lines } = await close(
    (look, url) => (look < 4 ? [] : of(returned, url)),
    late,
    (ask) => (ask < 4 ? 9_000 : 0),
  );
  expect(posts.filter(({ url }) => url.endsWith('/close'))).toHaveLength(closable.length);
  expect(lines).toEqual([]);
});
