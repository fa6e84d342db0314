import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { drizzle } from 'drizzle-orm/postgres-js';
import { migrate } from 'drizzle-orm/postgres-js/migrator';
import type { Sql } from 'postgres';
import type { Log } from '../log.ts';
import { openBareClient } from './connect.ts';
import { watchedClient } from './deadline.ts';
import { MIGRATE_LOCK } from './locks.ts';
import { guardedBegin } from './transaction.ts';

const MIGRATIONS = fileURLToPath(new URL('../../migrations', import.meta.url));
/** Half an hour: a migration of a large site may rewrite a table. */
const DEADLINE_MS = 30 * 60_000;

/**
 * Brings the database to the newest tables. Any number of processes may call it at once: they wait for each other on
 * a lock of one session, which goes with its connection if the process is killed.
 */
export async function migrateDatabase(url: string, log: Log): Promise<void> {
  const client = openBareClient(url, { applicationName: 'ullage-migrate', log });
  try {
    await client`select pg_advisory_lock(${MIGRATE_LOCK})`;
    // Drizzle rewires the client it gets, and its transaction must not outlive the connection that holds the lock.
    const guarded = watchedClient(client, { deadlineMs: DEADLINE_MS }, { begin: guardedBegin(client, DEADLINE_MS) });
    await migrate(drizzle(guarded), { migrationsFolder: MIGRATIONS });
    await client`select pg_advisory_unlock(${MIGRATE_LOCK})`;
  } finally {
    await client.end({ timeout: 5 });
  }
}

export interface MigrationLevel {
  readonly applied: number;
  readonly known: number;
  /** Name of the newest step taken; null: none, or one of a newer version than this. */
  readonly newest: string | null;
}

/** How far the database has come, beside the steps that this version knows. */
export async function migrationLevel(sql: Sql): Promise<MigrationLevel> {
  const { entries } = JSON.parse(readFileSync(join(MIGRATIONS, 'meta/_journal.json'), 'utf8')) as {
    entries: { when: number; tag: string }[];
  };
  const rows = await sql<
    { at: string }[]
  >`select created_at as at from drizzle.__drizzle_migrations order by created_at`;
  const newest = Number(rows.at(-1)?.at);
  return {
    applied: rows.length,
    known: entries.length,
    newest: entries.find(({ when }) => when === newest)?.tag ?? null,
  };
}
