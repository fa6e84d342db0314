import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { text } from 'node:stream/consumers';
import { afterEach, expect, it } from 'vitest';
import { closeCases } from '../../../server/demo/closeCases.ts';
import { openServer } from '../../../server/demo/http.ts';
import { storiesFrom } from '../../../server/demo/stories.ts';

const ANCHOR_MS = Date.UTC(2031, 0, 8, 6, 0);
const closing: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

interface Heard {
  readonly method: string;
  readonly url: string;
  readonly body: Record<string, unknown> | null;
}

/** As much of the contract as the example hears: the server proper has tests of its own. */
async function close(alertsAt: (look: number) => readonly unknown[], now = () => ANCHOR_MS) {
  const heard: Heard[] = [];
  let looks = 0;
  const server = createServer(async (request, response) => {
    const sent = await text(request);
    const one = { method: request.method ?? '', url: request.url ?? '', body: sent ? JSON.parse(sent) : null };
    heard.push(one);
    response.writeHead(200, { 'content-type': 'application/json' });
    response.end(JSON.stringify(one.method === 'GET' ? { alerts: alertsAt(++looks) } : {}));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closing.push(() => new Promise((resolve) => server.close(() => resolve())));
  const { signal } = new AbortController();
  const lines: string[] = [];
  const log = (line: string) => void lines.push(line);
  const client = openServer({ url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, signal, log });
  await closeCases({ server: client, adminToken: 'token', stories: storiesFrom(ANCHOR_MS), now, signal, log });
  return { posts: heard.filter(({ method }) => method === 'POST'), lines };
}

const standing = { id: 'a1', state: 'unacknowledged', returnedAt: null };
const returned = { id: 'a1', state: 'returned-unacknowledged', returnedAt: '2031-01-06T11:00:00Z' };

it('waits until the alert is over, closes it with what was found and keeps it as an example', async () => {
  const { posts, lines } = await close((look) => (look < 2 ? [] : look < 3 ? [standing] : [returned]));
  expect(posts.map(({ url }) => url)).toEqual(['/api/v1/alerts/a1/close', '/api/v1/alerts/a1/example']);
  expect(posts[0]?.body).toMatchObject({ cause: 'purge valve left open', verified: 'gas-inleak' });
  expect(lines).toEqual([]);
});

it('leaves alone what is closed already', async () => {
  expect((await close(() => [{ ...returned, state: 'normal' }])).posts).toEqual([]);
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
  expect(lines[0]).toContain('waits for a person');
});
