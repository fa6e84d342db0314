import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import type { Scan, ScanAnswer } from '../../shared/contract/scans.ts';

const packed = promisify(gzip);

/** The server understood and said no: asking again would not help. */
export class RefusedError extends Error {
  readonly status: number;
  constructor(status: number, message: string) {
    super(message);
    this.name = 'RefusedError';
    this.status = status;
  }
}

export interface Server {
  readonly ask: <Answer>(request: Request) => Promise<Answer>;
  readonly sendScans: (token: string, scans: readonly Scan[]) => Promise<ScanAnswer>;
}

export interface Request {
  readonly method: 'GET' | 'PUT' | 'POST' | 'DELETE';
  readonly path: string;
  readonly token: string;
  readonly body?: unknown;
}

export interface Connection {
  readonly url: string;
  readonly signal: AbortSignal;
  readonly log: (line: string) => void;
}

interface Outgoing {
  readonly method: Request['method'];
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array<ArrayBuffer>;
}

export function openServer(connection: Connection): Server {
  return {
    ask: async <Answer>({ method, path, token, body }: Request) => {
      const headers: Record<string, string> = { authorization: `Bearer ${token}` };
      if (body !== undefined) headers['content-type'] = 'application/json';
      const response = await untilAnswered(connection, {
        method,
        path,
        headers,
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      return (response.status === 204 ? undefined : await response.json()) as Answer;
    },
    sendScans: async (token, scans) => {
      const lines = scans.map((scan) => JSON.stringify(scan)).join('\n');
      const response = await untilAnswered(connection, {
        method: 'POST',
        path: '/api/v1/scans',
        headers: {
          authorization: `Bearer ${token}`,
          'content-type': 'application/x-ndjson',
          'content-encoding': 'gzip',
        },
        body: new Uint8Array(await packed(lines)),
      });
      return (await response.json()) as ScanAnswer;
    },
  };
}

const FIRST_PAUSE_MS = 500;
const LONGEST_PAUSE_MS = 4_000;
/** A server that is just coming up needs a few seconds: nothing to tell anyone. */
const QUIET_ATTEMPTS = 4;
/** A server that asks for more than this is asked again all the same: it may have come back. */
const LONGEST_RETRY_AFTER_MS = 60_000;
const PATIENCE_MS = 60_000;

/** Asks again while the server is away, busy or being restarted; anything else that is not 2xx is a refusal. */
async function untilAnswered({ url, signal, log }: Connection, outgoing: Outgoing): Promise<Response> {
  for (let attempt = 0; ; attempt += 1) {
    const response = await answerOrNothing(url, outgoing, signal);
    if (response?.ok) return response;
    if (response && !passing(response.status))
      throw new RefusedError(response.status, await reason(outgoing, response));
    const backOffMs = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** Math.min(attempt, 8));
    const waitMs = retryAfterMs(response) ?? backOffMs;
    const said = response ? `the server says ${response.status}` : 'no answer';
    if (response || attempt >= QUIET_ATTEMPTS)
      log(`${outgoing.method} ${outgoing.path}: ${said}; again in ${Math.round(waitMs / 1000)} s`);
    await pause(waitMs, undefined, { signal });
  }
}

const passing = (status: number): boolean => status === 429 || status >= 500;

async function answerOrNothing(url: string, outgoing: Outgoing, signal: AbortSignal): Promise<Response | null> {
  const { path, ...options } = outgoing;
  try {
    return await fetch(new URL(path, url), {
      ...options,
      signal: AbortSignal.any([signal, AbortSignal.timeout(PATIENCE_MS)]),
    });
  } catch (error) {
    // Stopped by whoever runs this: not the server's fault, and no reason to go on.
    if (signal.aborted) throw error;
    return null;
  }
}

function retryAfterMs(response: Response | null): number | null {
  const header = response?.headers.get('retry-after');
  const seconds = Number(header);
  if (!header || !Number.isFinite(seconds) || seconds < 0) return null;
  return Math.min(LONGEST_RETRY_AFTER_MS, seconds * 1000);
}

async function reason({ method, path }: Outgoing, response: Response): Promise<string> {
  const text = await response.text();
  return `${method} ${path}: ${response.status} ${text.slice(0, 500)}`;
}
