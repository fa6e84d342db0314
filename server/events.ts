/**
 * Server-sent events: what the database tells, passed on to every open page. Each event has a place in the stream of
 * this process; a page that was away says the last one it heard and is told what it missed, or `resync` when that is
 * no longer known: then it reads everything again. A message may also be lost while the database is away; everyone
 * reads again then.
 */
import { randomUUID } from 'node:crypto';
import type { ServerResponse } from 'node:http';
import type { FastifyRequest } from 'fastify';
import { keepRecent, type Recent } from '../shared/contract/recent.ts';
import { object, Type } from '../shared/contract/schema.ts';
import { EVENT_CHANNEL, type StoredEvent } from '../shared/db/events.ts';
import { identify } from './access.ts';
import type { App, Deps } from './deps.ts';
import { ProblemError } from './errors.ts';
import type { Metrics } from './metrics.ts';

/** Keeps proxies from closing the stream; also how long a session that ran out by itself goes on hearing. */
const HEARTBEAT_MS = 15_000;
/** A page that does not read is dropped before it costs memory; it comes back and resyncs. */
const MOST_BUFFERED_BYTES = 256 * 1024;
/** All pages of a large site; beyond it the server refuses instead of failing. */
const MOST_CLIENTS = 1_000;

/** About half a minute of a large fleet's readings: whoever was away longer reads everything anyway. */
const MOST_RECENT = 1_000;

interface Client {
  readonly stream: ServerResponse;
  readonly request: FastifyRequest;
}

/** What this process has told its pages. */
export interface Told {
  readonly recent: Recent<string>;
  readonly nextPlace: () => string;
}

export const startTelling = (): Told => {
  const run = randomUUID().slice(0, 8);
  let told = 0;
  return {
    recent: keepRecent<string>(`${run}.0`, MOST_RECENT),
    nextPlace: () => {
      told += 1;
      return `${run}.${told}`;
    },
  };
};

const RESYNC = 'event: resync\ndata: {}\n\n';
/** Who was heard has signed out, or may no longer read. */
const ENDED = 'event: ended\ndata: {}\n\n';
const KNOWN = new Set(['reading', 'alert', 'round', 'access']);

const parse = (payload: string): StoredEvent | null => {
  try {
    const event = JSON.parse(payload) as StoredEvent;
    return KNOWN.has(event.event) ? event : null;
  } catch {
    return null;
  }
};

export const openEvents = (app: App, deps: Deps, metrics: Metrics, { recent, nextPlace }: Told): void => {
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
  const tellAll = (event: string): void => {
    const place = nextPlace();
    const text = `id: ${place}\n${event}`;
    recent.add(place, text);
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
  const end = (client: Client): void => {
    if (clients.has(client)) send(client, ENDED);
    drop(client);
  };
  const checkAgain = async (client: Client, then: () => void = () => {}): Promise<void> => {
    if (await stillMay(client)) then();
    else end(client);
  };
  const heartbeat = setInterval(() => {
    for (const client of [...clients]) void checkAgain(client, () => clients.has(client) && send(client, ': \n\n'));
  }, HEARTBEAT_MS).unref();

  const take = (event: StoredEvent): void => {
    if (event.event === 'access') {
      const concerned = ({ request: { identity } }: Client): boolean =>
        identity?.kind === 'person' ? identity.by === event.login : identity?.token === event.token;
      for (const client of [...clients]) if (concerned(client)) void checkAgain(client);
      return;
    }
    const { event: name, ...data } = event;
    tellAll(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`);
  };

  app.addHook('onReady', async () => {
    const heard = (payload: string) => {
      const event = parse(payload);
      if (event === null) log.warn({ payload: payload.slice(0, 200) }, 'An event that is not known was told');
      else take(event);
    };
    // The database may be away at the start; the listening comes back by itself, the pages read again then.
    await db
      .listen(EVENT_CHANNEL, heard, () => tellAll(RESYNC))
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
        summary: 'Server-sent events: reading, alert, round; resync: read everything again; ended: sign in again',
        tags: ['events'],
        produces: ['text/event-stream'],
        querystring: object({
          after: Type.Optional(
            Type.String({ maxLength: 80, description: 'id of the last event heard; what came after it is told first' }),
          ),
        }),
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
      send(client, ': \n\n');
      const heard = request.query.after ?? request.headers['last-event-id'];
      const missed = heard === undefined ? [] : recent.after(String(heard));
      const here = `id: ${recent.place()}\n`;
      // An id without data is heard by nobody, and is where a browser that comes back by itself goes on.
      send(client, `${missed?.join('') ?? here + RESYNC}${here}\n`);
      // A token that was revoked while its stream was being opened.
      void checkAgain(client);
    },
  );
};
