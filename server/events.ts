/**
 * Server-sent events: what the database tells, passed on to every open page. A message may be lost while the database
 * is away or a page reconnects, and its order is not the order of commits; so nothing is replayed: the page is told
 * `resync` and reads again.
 */
import type { ServerResponse } from 'node:http';
import type { FastifyRequest } from 'fastify';
import { Type } from '../shared/contract/schema.ts';
import { EVENT_CHANNEL, type StoredEvent } from '../shared/db/events.ts';
import { identify } from './access.ts';
import type { App, Deps } from './deps.ts';
import { ProblemError } from './errors.ts';
import type { Metrics } from './metrics.ts';

/** Keeps proxies from closing the stream; also how long a revoked token goes on hearing. */
const HEARTBEAT_MS = 15_000;
/** A page that does not read is dropped before it costs memory; it comes back and resyncs. */
const MOST_BUFFERED_BYTES = 256 * 1024;
/** All pages of a large site; beyond it the server refuses instead of failing. */
const MOST_CLIENTS = 1_000;

interface Client {
  readonly stream: ServerResponse;
  readonly request: FastifyRequest;
}

const told = (event: StoredEvent): string => {
  const { event: name, ...data } = event;
  return `event: ${name}\ndata: ${JSON.stringify(data)}\n\n`;
};

const RESYNC = 'event: resync\ndata: {}\n\n';
const KNOWN = new Set(['reading', 'alert', 'round']);

const parse = (payload: string): StoredEvent | null => {
  try {
    const event = JSON.parse(payload) as StoredEvent;
    return KNOWN.has(event.event) ? event : null;
  } catch {
    return null;
  }
};

export const openEvents = (app: App, deps: Deps, metrics: Metrics): void => {
  const { db, log } = deps;
  const clients = new Set<Client>();

  const drop = (client: Client): void => {
    if (!clients.delete(client)) return;
    metrics.eventClients.set(clients.size);
    client.stream.end();
  };
  const send = (client: Client, text: string): void => {
    if (client.stream.writableLength > MOST_BUFFERED_BYTES) {
      drop(client);
      client.stream.destroy();
    } else client.stream.write(text);
  };
  const sendAll = (text: string): void => {
    for (const client of clients) send(client, text);
  };

  const stillMay = async (client: Client): Promise<boolean> => {
    try {
      return (await identify(deps, client.request)) !== null;
    } catch (error) {
      // A database that is away says nothing about the token.
      return !(error instanceof ProblemError);
    }
  };
  const heartbeat = setInterval(() => {
    for (const client of [...clients])
      void stillMay(client).then((may) => (may ? send(client, ': \n\n') : drop(client)));
  }, HEARTBEAT_MS).unref();

  app.addHook('onReady', async () => {
    const heard = (payload: string) => {
      const event = parse(payload);
      if (event === null) log.warn({ payload: payload.slice(0, 200) }, 'An event that is not known was told');
      else sendAll(told(event));
    };
    // The database may be away at the start; the listening comes back by itself, the pages read again then.
    await db
      .listen(EVENT_CHANNEL, heard, () => sendAll(RESYNC))
      .catch((error: unknown) => {
        log.warn({ error }, 'Cannot listen to the database yet');
      });
  });
  // Fastify waits for open answers, and these would never end by themselves.
  app.addHook('preClose', async () => {
    clearInterval(heartbeat);
    for (const client of [...clients]) drop(client);
  });

  app.get(
    '/api/v1/events',
    {
      // The head of a stream that never ends would never end either.
      exposeHeadRoute: false,
      schema: {
        summary: 'Server-sent events: reading, alert, round; resync: read everything again',
        tags: ['events'],
        produces: ['text/event-stream'],
        response: { 200: Type.String() },
      },
      config: { policy: 'viewer' },
    },
    (request, reply) => {
      if (clients.size >= MOST_CLIENTS)
        throw new ProblemError(503, 'Too many event streams are open.', { retryAfterSeconds: 30 });
      reply.hijack();
      const stream = reply.raw;
      stream.writeHead(200, {
        'content-type': 'text/event-stream; charset=utf-8',
        'cache-control': 'no-store',
        'x-accel-buffering': 'no',
        'x-request-id': request.id,
      });
      stream.socket?.setTimeout(0);
      const client = { stream, request };
      clients.add(client);
      metrics.eventClients.set(clients.size);
      stream.on('close', () => drop(client));
      // Whoever comes back has missed something.
      send(client, request.headers['last-event-id'] === undefined ? ': \n\n' : RESYNC);
    },
  );
};
