import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { text } from 'node:stream/consumers';
import { afterEach, expect, it } from 'vitest';
import { calibrateExample } from '../../../server/demo/calibrate.ts';
import { openServer } from '../../../server/demo/http.ts';
import { storiesFrom } from '../../../server/demo/stories.ts';

const ANCHOR_MS = Date.UTC(2031, 0, 8, 6, 0);
const stories = storiesFrom(ANCHOR_MS);
const closing: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

interface Heard {
  readonly method: string;
  readonly url: string;
  readonly body: Record<string, unknown> | null;
}

/** As much of the contract as the engineer of the example hears: the server proper has tests of its own. */
async function bench(answer: (heard: Heard) => unknown) {
  const heard: Heard[] = [];
  const server = createServer(async (request, response) => {
    const sent = await text(request);
    const one = { method: request.method ?? '', url: request.url ?? '', body: sent ? JSON.parse(sent) : null };
    heard.push(one);
    response.writeHead(200, { 'content-type': 'application/json' });
    response.end(JSON.stringify(answer(one)));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closing.push(() => new Promise((resolve) => server.close(() => resolve())));
  const { signal } = new AbortController();
  const lines: string[] = [];
  const log = (line: string) => void lines.push(line);
  const client = openServer({ url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, signal, log });
  const people = { adminToken: 'token', tokenOf: async () => 'engineer', anchorMs: ANCHOR_MS };
  const calibrate = () => calibrateExample({ server: client, ...people, stories, now: () => ANCHOR_MS, signal, log });
  return { heard, lines, calibrate };
}

it('marks the scans of the story, waits for the worker and puts in force what it proposes', async () => {
  let looks = 0;
  const { heard, calibrate, lines } = await bench(({ method, url }) => {
    if (url.endsWith('/calibrations')) return { entries: [] };
    if (url.endsWith('/tasks')) return { id: 't1', state: 'waiting' };
    if (method === 'GET')
      return { id: 't1', state: ++looks % 2 ? 'waiting' : 'done', calibration: 'c1', problem: null };
    return {};
  });
  await calibrate();
  const posts = heard.filter(({ method }) => method === 'POST');
  expect(posts.map(({ url }) => url)).toEqual([
    '/api/v1/analysers/heron-prep-a/tasks',
    '/api/v1/analysers/heron-prep-a/calibrations/c1/enforce',
    '/api/v1/analysers/heron-garage-a/tasks',
    '/api/v1/analysers/heron-garage-a/calibrations/c1/enforce',
  ]);
  expect(posts.map(({ body }) => body?.kind)).toEqual(['background', undefined, 'pattern', undefined]);
  const asked = posts[2]?.body as { from: string; to: string; gas: string };
  expect(asked.gas).toBe('N2');
  expect(Date.parse(asked.from)).toBeLessThan(Date.parse(asked.to));
  expect(posts[1]?.body?.validFrom).toBe(new Date(ANCHOR_MS).toISOString());
  expect(lines).toEqual([]);
});

it('leaves alone what is there already', async () => {
  const { heard, calibrate } = await bench(() => ({ entries: [{ id: 'c0' }] }));
  await calibrate();
  expect(heard.filter(({ method }) => method !== 'GET')).toEqual([]);
});

it('says why nothing was put in force when the worker could not', async () => {
  const { heard, calibrate, lines } = await bench(({ url }) =>
    url.endsWith('/calibrations')
      ? { entries: [] }
      : { id: 't1', state: 'failed', calibration: null, problem: 'Too few scans.' },
  );
  await calibrate();
  expect(heard.filter(({ url }) => url.endsWith('/enforce'))).toEqual([]);
  expect(lines).toHaveLength(2);
  expect(lines[0]).toContain('Too few scans.');
});
