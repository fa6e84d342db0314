/**
 * A deadline on the client's side for every query. It is a little longer than the server's own statement_timeout,
 * whose message is the better one; it strikes when the server cannot speak, or when a query never got a connection.
 */
import type { PendingQuery, Row, Sql } from 'postgres';

/** The parts of the driver's query object that are replaced here (postgres 3.4.9, pinned for this reason). */
interface DriverQuery {
  handler: (query: DriverQuery) => unknown;
  resolve: (value: unknown) => void;
  reject: (reason: unknown) => void;
  cancel: () => Promise<unknown> | null;
}

export class DeadlineError extends Error {
  readonly code = 'DEADLINE';
  constructor(milliseconds: number) {
    super(`The database did not answer within ${milliseconds} ms`);
    this.name = 'DeadlineError';
  }
}

/** What to do around one query: refuse to send it, and hear how it ended. */
export interface Watch {
  deadlineMs: number;
  /** Asked just before sending; false: the query is never sent and never settles. */
  maySend?: () => boolean;
  failed?: (reason: unknown) => void;
}

const isQuery = (value: unknown): value is DriverQuery =>
  value instanceof Promise && typeof (value as unknown as DriverQuery).handler === 'function';

/** Fits a query with its watch. Identifiers and helpers, which are not queries, pass through. */
export function watched<T>(made: T, watch: Watch): T {
  if (!isQuery(made)) return made;
  const query: DriverQuery = made;
  const { handler } = query;
  let timer: NodeJS.Timeout | undefined;
  const settle =
    (how: (value: unknown) => void, heard?: (value: unknown) => void) =>
    (value: unknown): void => {
      clearTimeout(timer);
      heard?.(value);
      how(value);
    };
  query.resolve = settle(query.resolve);
  query.reject = settle(query.reject, watch.failed);
  // A fragment inside another query never reaches its handler, so it gets no timer either.
  query.handler = (self) => {
    if (watch.maySend?.() === false) return;
    timer = setTimeout(() => {
      query.reject(new DeadlineError(watch.deadlineMs));
      query.cancel()?.catch(() => {
        // The cancel request found no server either; the socket's own watch closes the connection.
      });
    }, watch.deadlineMs);
    return handler(self);
  };
  return made;
}

/** The same client or transaction, with every query watched. `replace` stands in for members by name. */
export function watchedClient<T extends Sql>(client: T, watch: Watch, replace: Record<string, unknown>): T {
  return new Proxy(client, {
    apply: (target, _self, args: unknown[]) =>
      watched((target as unknown as (...a: unknown[]) => PendingQuery<Row[]>)(...args), watch),
    get: (target, name) => {
      if (typeof name === 'string' && name in replace) return replace[name];
      const member = Reflect.get(target, name) as unknown;
      if (name !== 'unsafe' && name !== 'file') return member;
      return (...args: unknown[]) => watched((member as (...a: unknown[]) => unknown)(...args), watch);
    },
  });
}
