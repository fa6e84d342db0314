/** The queue in PostgreSQL: the default, so that one machine needs no second service. */
import { createPostgresBackend, runMigrations, withBackend } from 'bullmq';
import pg from 'pg';
import { parseDatabaseUrl } from '../db/address.ts';
import { QUEUE, RETRY_MS, type Work, workerOptions } from './policy.ts';

/** A schema of its own, so that the queue's tables and ours never meet. */
const SCHEMA = 'ullage_queue';

const { Queue, Worker } = withBackend(createPostgresBackend);

function poolConfig(databaseUrl: string, max: number) {
  const { host, port, user, password, database, tls } = parseDatabaseUrl(databaseUrl);
  return {
    host,
    port,
    user,
    ...(password === null ? {} : { password }),
    database,
    ssl: tls === 'disable' ? false : { rejectUnauthorized: tls === 'verify-full' },
    max,
    schema: SCHEMA,
    application_name: 'ullage-queue',
    connectionTimeoutMillis: 5_000,
    // The client's own deadline: a frozen server must not hold a caller.
    query_timeout: 15_000,
    statement_timeout: 14_000,
    idle_in_transaction_session_timeout: 30_000,
    keepAlive: true,
  };
}

/** Makes the queue's tables; safe for many processes at once. Not needed with Redis. */
export async function migrateQueue(databaseUrl: string): Promise<void> {
  const {
    schema: _schema,
    query_timeout: _a,
    statement_timeout: _b,
    max: _max,
    ...config
  } = poolConfig(databaseUrl, 1);
  const client = new pg.Client(config);
  client.on('error', () => {
    // The running query rejects with the same error.
  });
  await client.connect();
  try {
    await runMigrations(client, SCHEMA);
  } finally {
    await client.end();
  }
}

export async function postgresQueue(databaseUrl: string) {
  const queue = new Queue(QUEUE, { connection: poolConfig(databaseUrl, 2) });
  await firstContact(queue);
  return { queue, end: async () => {} };
}

/**
 * BullMQ 6.7 remembers the outcome of its first connection to PostgreSQL for ever: one that failed would fail every
 * later call, at once, and its worker would call again without pause. So the opening fails, and the caller starts anew.
 */
async function firstContact(opened: {
  waitUntilReady: () => Promise<unknown>;
  on: (event: 'error', heard: (error: Error) => void) => unknown;
  close: () => Promise<void>;
}): Promise<void> {
  opened.on('error', () => {
    // The same failure rejects below.
  });
  try {
    await opened.waitUntilReady();
  } catch (error) {
    await opened.close().catch(() => {
      // It never was open.
    });
    throw error;
  }
}

export async function postgresWorker(work: Work, concurrency: number, databaseUrl: string) {
  const connection = poolConfig(databaseUrl, 4);
  const worker = new Worker(QUEUE, work, { ...workerOptions(concurrency), autorun: false, connection });
  await firstContact(worker);
  pauseOnErrors(worker);
  void worker.run();
  return { worker, end: async () => {} };
}

/** A database that is away or starting refuses at once, and BullMQ 6.7 asks again without pause. */
function pauseOnErrors(worker: {
  on: (event: 'error', heard: () => void) => unknown;
  isPaused: () => boolean;
  pause: (doNotWaitActive: boolean) => Promise<void>;
  resume: () => Promise<void>;
  closing: Promise<void> | undefined;
}): void {
  worker.on('error', () => {
    if (worker.isPaused() || worker.closing) return;
    void worker.pause(true);
    setTimeout(() => {
      if (!worker.closing) void worker.resume();
    }, RETRY_MS);
  });
}
