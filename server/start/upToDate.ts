import { openBareClient } from '../../shared/db/connect.ts';
import { migrateDatabase } from '../../shared/db/migrate.ts';
import type { Log } from '../../shared/log.ts';
import { migrateQueue } from '../../shared/queues.ts';
import { OLDEST_MAJOR } from './binaries.ts';
import { StartError } from './say.ts';

/** Without these an accepted scan may be lost in a crash of the server's machine. */
const DURABLE = ['fsync', 'full_page_writes', 'synchronous_commit'];

/** Our tables and the queue's; safe for many processes at once. */
export async function bringUpToDate(databaseUrl: string, log: Log): Promise<void> {
  const client = openBareClient(databaseUrl, { applicationName: 'ullage-start', log });
  try {
    const rows = await client<{ name: string; setting: string }[]>`
      select name, setting from pg_settings where name = any(${['server_version_num', ...DURABLE]})`;
    const value = Object.fromEntries(rows.map(({ name, setting }) => [name, setting]));
    const major = Math.floor(Number(value.server_version_num) / 10_000);
    if (major < OLDEST_MAJOR) {
      throw new StartError(`DATABASE_URL names a PostgreSQL ${major}; version ${OLDEST_MAJOR} or newer is needed.`);
    }
    const off = DURABLE.filter((name) => value[name] === 'off');
    if (off.length > 0) log.warn({ off }, 'The database may lose accepted scans in a crash: these settings are off');
  } catch (error) {
    if (error instanceof StartError) throw error;
    throw new StartError(`The database (DATABASE_URL) cannot be used: ${(error as Error).message}`);
  } finally {
    await client.end({ timeout: 5 });
  }
  await migrateDatabase(databaseUrl, log);
  await migrateQueue(databaseUrl);
}
