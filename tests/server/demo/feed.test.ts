import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { gunzipSync } from 'node:zlib';
import { afterEach, describe, expect, it } from 'vitest';
import { runFeed } from '../../../server/demo/feed.ts';
import { openServer } from '../../../server/demo/http.ts';
import { anchorIn, chooseAnchor, OtherFleetError, setUpExample } from '../../../server/demo/setUp.ts';
import { makeWorld } from '../../../server/demo/world.ts';
import type { FleetDocument } from '../../../shared/contract/fleet.ts';
import type { Scan } from '../../../shared/contract/scans.ts';

const HOUR_MS = 3_600_000;
const ANCHOR_MS = Date.UTC(2031, 0, 8, 6, 0);

interface Heard {
  readonly method: string;
  readonly path: string;
  readonly authorization: string | undefined;
  readonly body: Buffer;
}
type Reply = { status: number; body?: unknown; headers?: Record<string, string> };

const closing: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

/** A listener that speaks as much of the contract as the feed hears: the server proper has tests of its own. */
async function listener(reply: (heard: Heard) => Reply) {
  const heard: Heard[] = [];
  const server = createServer(async (request: IncomingMessage, response: ServerResponse) => {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk as Buffer);
    const { method = '', url = '', headers } = request;
    const one = { method, path: url, authorization: headers.authorization, body: Buffer.concat(chunks) };
    heard.push(one);
    const { status, body, headers: extra } = reply(one);
    response.writeHead(status, { 'content-type': 'application/json', ...extra });
    response.end(body === undefined ? undefined : JSON.stringify(body));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closing.push(() => new Promise((resolve) => server.close(() => resolve())));
  const stop = new AbortController();
  const lines: string[] = [];
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const client = openServer({ url, signal: stop.signal, log: (line) => lines.push(line) });
  return { client, heard, stop, lines };
}

const unpack = (body: Buffer): Scan[] =>
  gunzipSync(body)
    .toString()
    .split('\n')
    .map((line) => JSON.parse(line) as Scan);

describe('the feed', () => {
  it('sends a history once and in order though the server is busy, away and slow to say yes', async () => {
    const moods: Reply[] = [
      { status: 503, headers: { 'retry-after': '0' } },
      { status: 429, headers: { 'retry-after': '0' } },
    ];
    const taken: Scan[] = [];
    const { client, heard, stop, lines } = await listener(({ body }) => {
      const mood = moods.shift();
      if (mood) return mood;
      const scans = unpack(body);
      taken.push(...scans);
      return { status: 200, body: { accepted: scans.length, duplicates: 0, rejected: [] } };
    });
    const world = makeWorld(ANCHOR_MS);
    const nowMs = ANCHOR_MS + 30_000;
    const position = { gatewayToken: 'gate', anchorMs: ANCHOR_MS, sentUntilMs: ANCHOR_MS - 12 * HOUR_MS };
    const running = runFeed({
      server: client,
      world,
      position,
      now: () => nowMs,
      signal: stop.signal,
      log: (line) => {
        lines.push(line);
        if (line.startsWith('history is in')) stop.abort();
      },
    });
    await expect(running).rejects.toThrow(/abort/i);
    const expected = [
      ...world.scans({
        afterMs: position.sentUntilMs,
        untilMs: ANCHOR_MS,
        fullFromMs: nowMs - 4 * HOUR_MS,
      }),
    ];
    expect(taken.map(({ id }) => id)).toEqual(expected.map(({ id }) => id));
    expect(heard.every(({ authorization }) => authorization === 'Bearer gate')).toBe(true);
    expect(Math.max(...heard.map(({ body }) => unpack(body).length))).toBeLessThanOrEqual(500);
    expect(lines.filter((line) => /the server says (503|429)/.test(line))).toHaveLength(2);
  });
});

describe('setting up', () => {
  const emptyFleet: FleetDocument = { areas: [], chambers: [], analysers: [] };

  it('applies the fleet and takes a gateway token that is named for the story’s anchor', async () => {
    const { client, heard } = await listener(({ method, path }) => {
      if (path === '/api/v1/fleet' && method === 'GET') return { status: 200, body: emptyFleet };
      if (path === '/api/v1/chambers') return { status: 200, body: { chambers: [] } };
      if (path === '/api/v1/tokens' && method === 'GET') return { status: 200, body: { tokens: [] } };
      if (path === '/api/v1/tokens') return { status: 201, body: { id: 't', token: 'secret' } };
      return { status: 200, body: {} };
    });
    const position = await setUpExample({ server: client, adminToken: 'admin', nowMs: ANCHOR_MS + 12_345 });
    expect(position).toEqual({
      gatewayToken: 'secret',
      anchorMs: ANCHOR_MS,
      sentUntilMs: ANCHOR_MS - 72 * HOUR_MS,
    });
    const made = heard.find(({ method, path }) => method === 'POST' && path === '/api/v1/tokens');
    const body = JSON.parse(String(made?.body)) as { name: string; role: string; analysers: string[] };
    expect(body.role).toBe('gateway');
    expect(body.analysers).toContain('heron-sample-a');
    expect(anchorIn(body.name)).toBe(ANCHOR_MS);
    expect(heard.some(({ method, path }) => method === 'PUT' && path === '/api/v1/fleet')).toBe(true);
  });

  it('goes on where it left off and puts its old token away', async () => {
    const name = `example feed, told from ${new Date(ANCHOR_MS).toISOString()}`;
    const lastScanAt = new Date(ANCHOR_MS + 5 * HOUR_MS).toISOString();
    const { client, heard } = await listener(({ method, path }) => {
      if (path === '/api/v1/fleet' && method === 'GET') return { status: 200, body: emptyFleet };
      if (path === '/api/v1/chambers')
        return { status: 200, body: { chambers: [{ lastScanAt }, { lastScanAt: null }] } };
      if (path === '/api/v1/tokens' && method === 'GET')
        return {
          status: 200,
          body: {
            tokens: [
              { id: 'old', name },
              { id: 'other', name: 'north gateway' },
            ],
          },
        };
      if (method === 'DELETE') return { status: 204 };
      if (path === '/api/v1/tokens') return { status: 201, body: { id: 't', token: 'secret' } };
      return { status: 200, body: {} };
    });
    const position = await setUpExample({ server: client, adminToken: 'admin', nowMs: ANCHOR_MS + 9 * HOUR_MS });
    expect(position.anchorMs).toBe(ANCHOR_MS);
    expect(position.sentUntilMs).toBe(Date.parse(lastScanAt));
    expect(heard.filter(({ method }) => method === 'DELETE').map(({ path }) => path)).toEqual(['/api/v1/tokens/old']);
  });

  it('keeps out of a database that holds another fleet, and changes nothing there', async () => {
    const other: FleetDocument = { ...emptyFleet, areas: [{ id: 'north' }] };
    const { client, heard } = await listener(() => ({ status: 200, body: other }));
    await expect(setUpExample({ server: client, adminToken: 'admin', nowMs: ANCHOR_MS })).rejects.toThrow(
      OtherFleetError,
    );
    expect(heard.map(({ method }) => method)).toEqual(['GET']);
  });

  it('says what the server refused', async () => {
    const { client } = await listener(() => ({ status: 401, body: { title: 'Unauthorized', status: 401 } }));
    await expect(setUpExample({ server: client, adminToken: 'wrong', nowMs: ANCHOR_MS })).rejects.toThrow(
      /GET \/api\/v1\/fleet: 401/,
    );
  });

  it('tells the story afresh only after a pause that is longer than the history', () => {
    const at = (hours: number) => ANCHOR_MS + hours * HOUR_MS;
    const choose = (lastScanMs: number | null, nowMs: number) =>
      chooseAnchor({ earlierAnchors: [null, ANCHOR_MS], lastScanMs, nowMs });
    expect(choose(null, at(1))).toBe(ANCHOR_MS);
    expect(choose(at(200), at(271))).toBe(ANCHOR_MS);
    expect(choose(at(200), at(273))).toBe(at(273));
    expect(chooseAnchor({ earlierAnchors: [], lastScanMs: null, nowMs: at(1) + 5000 })).toBe(at(1));
  });
});
