/**
 * Opens one database. The only file that makes a postgres.js client: what that driver does wrong when connections die
 * is contained behind it (wire.ts, deadline.ts, transaction.ts, listen.ts).
 */
import { drizzle, type PostgresJsDatabase } from 'drizzle-orm/postgres-js';
import postgres, { type Options, type Sql } from 'postgres';
import type { Log } from '../log.ts';
import { parseDatabaseUrl } from './address.ts';
import { teachArrays } from './arrays.ts';
import { watchedClient } from './deadline.ts';
import { openListening } from './listen.ts';
import * as tables from './tables.ts';
import { guardedBegin, type Transaction } from './transaction.ts';
import { GREETING_PADDING, openWire } from './wire.ts';

export type { Transaction } from './transaction.ts';
export type Orm = PostgresJsDatabase<typeof tables>;

export interface Database {
  /** Tagged templates. Dates go in and come out as Date, bytea as Buffer, bigint as string. */
  sql: Sql;
  /** Drizzle, on connections of its own: it rewires its client's handling of dates and JSON. */
  orm: Orm;
  /** Runs the callback in one transaction, which never outlives its connection. */
  transaction: <T>(body: (tx: Transaction) => Promise<T>) => Promise<T>;
  /** The same, and all its questions see the database as it stood at one instant. */
  atOneInstant: <T>(body: (tx: Transaction) => Promise<T>) => Promise<T>;
  /**
   * Hears what is sent with pg_notify. `again` is called after each reconnection: what was sent meanwhile is lost.
   */
  listen: (channel: string, heard: (payload: string) => void, again?: () => void) => Promise<void>;
  /** Waits up to 5 s for what is running. */
  close: () => Promise<void>;
}

export interface ConnectOptions {
  /** Shown in pg_stat_activity. */
  applicationName: string;
  /** Of the raw client; Drizzle may open half as many more, and listening takes one. */
  maxConnections?: number;
  /** Longest statement, by the server's clock. */
  statementTimeoutMs?: number;
  log: Log;
}

const MAX_CONNECTIONS = 8;
/** A page or a batch that takes longer is broken, and holds a connection that others wait for. */
const STATEMENT_TIMEOUT_MS = 15_000;
/** The client's deadline comes this much later, so that a living server speaks first. */
const DEADLINE_MARGIN_MS = 3_000;
/** Waiting longer for a lock means that something holds it wrongly; the caller may try again. */
const LOCK_TIMEOUT_MS = 5_000;
/** Between two queries of a transaction lie milliseconds of mathematics; longer means that its owner has frozen. */
const IDLE_IN_TRANSACTION_TIMEOUT_MS = 30_000;
const CONNECT_TIMEOUT_S = 5;
const CLOSE_TIMEOUT_S = 5;
/** A migration may rewrite a large table in one statement. */
const PATIENT_SILENCE_MS = 30 * 60_000;
/** Longest pause before connecting again. */
const LONGEST_BACKOFF_S = 2;

export function openDatabase(url: string, options: ConnectOptions): Database {
  const statementTimeoutMs = options.statementTimeoutMs ?? STATEMENT_TIMEOUT_MS;
  const deadlineMs = statementTimeoutMs + DEADLINE_MARGIN_MS;
  const max = options.maxConnections ?? MAX_CONNECTIONS;
  const open = (extra: object): Sql => openClient(url, { ...options, statementTimeoutMs, deadlineMs, extra });

  const raw = open({ max });
  const ormClient = open({ max: Math.max(1, Math.ceil(max / 2)) });
  const begin = guardedBegin(raw, deadlineMs);
  const sql = watchedClient(raw, { deadlineMs }, { begin });
  const orm = drizzle(watchedClient(ormClient, { deadlineMs }, { begin: guardedBegin(ormClient, deadlineMs) }), {
    schema: tables,
  });
  const listening = openListening(
    (events) => watchedClient(open({ max: 1, ...events, max_lifetime: null }), { deadlineMs }, {}),
    options.log,
  );

  return {
    sql,
    orm,
    transaction: (body) => begin(body),
    atOneInstant: (body) => begin('isolation level repeatable read', body),
    listen: listening.listen,
    close: async () => {
      await Promise.all([
        listening.close(),
        raw.end({ timeout: CLOSE_TIMEOUT_S }),
        ormClient.end({ timeout: CLOSE_TIMEOUT_S }),
      ]);
    },
  };
}

/** A session's locks are lost when the driver renews its connection. */
const ONE_FOR_GOOD = { max: 1, idle_timeout: null, max_lifetime: null };

/** One bare client of one session: no deadline, no guard. For migrations and for locks that are held long. */
export function openBareClient(url: string, options: { applicationName: string; log: Log }): Sql {
  return openClient(url, { ...options, statementTimeoutMs: 0, deadlineMs: 0, extra: ONE_FOR_GOOD });
}

function openClient(
  url: string,
  options: {
    applicationName: string;
    log: Log;
    statementTimeoutMs: number;
    deadlineMs: number;
    extra: object;
  },
): Sql {
  const address = parseDatabaseUrl(url);
  const limits =
    options.statementTimeoutMs === 0
      ? {}
      : {
          statement_timeout: options.statementTimeoutMs,
          lock_timeout: LOCK_TIMEOUT_MS,
          idle_in_transaction_session_timeout: IDLE_IN_TRANSACTION_TIMEOUT_MS,
        };
  const driverOptions = {
    host: address.host,
    port: address.port,
    user: address.user,
    pass: address.password ?? '',
    database: address.database,
    // Encryption is the wire's business.
    ssl: false,
    connect_timeout: CONNECT_TIMEOUT_S,
    idle_timeout: 60,
    fetch_types: false,
    backoff: (tries: number) => Math.min(0.05 * 2 ** tries, LONGEST_BACKOFF_S) * (0.5 + Math.random() / 2),
    connection: {
      application_name: options.applicationName,
      client_encoding: 'UTF8',
      TimeZone: 'UTC',
      options: GREETING_PADDING,
      ...limits,
    },
    onnotice: (notice: { severity?: string; message?: string }) => {
      if (notice.severity === 'WARNING') options.log.warn({ notice: notice.message }, 'The database warns');
    },
    socket: () => openWire(address, options.deadlineMs === 0 ? PATIENT_SILENCE_MS : options.deadlineMs),
    ...options.extra,
  };
  const client = postgres(driverOptions as unknown as Options<Record<string, never>>) as unknown as Sql;
  teachArrays(client);
  return client;
}
