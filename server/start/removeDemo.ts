/**
 * `npm run demo:remove`: takes the example away with all its data. With a database of our own the data folder goes;
 * with DATABASE_URL every table is emptied, and only if the data are marked as the example.
 */
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Sql } from 'postgres';
import { openBareClient } from '../../shared/db/connect.ts';
import { type Log, makeLog } from '../../shared/log.ts';
import { readSettings, SettingsError } from '../../shared/settings.ts';
import { EXAMPLE_MARK, isExample } from './example.ts';
import { openOwnDatabase } from './ownDatabase.ts';
import { StartError, say } from './say.ts';
import { CLUSTER_PLACE } from './servant.ts';

const ROOT = resolve(import.meta.dirname, '../..');

async function removeFolder(dataDir: string, log: Log): Promise<void> {
  if (!existsSync(dataDir)) return say(`There is no example in ${dataDir}.`);
  if (!existsSync(join(dataDir, EXAMPLE_MARK))) {
    throw new StartError(`${dataDir} was not made by "npm run demo"; nothing is deleted.`);
  }
  // Whoever holds the folder refuses us here: nothing is deleted under a running product.
  const own = await openOwnDatabase(dataDir, log);
  const client = openBareClient(own.url, { applicationName: 'ullage-start', log });
  // A start that was cut short before its first table leaves nothing to protect.
  const example = await isExample(client).catch((error: { code?: string }) => error.code === '42P01');
  await client.end({ timeout: 5 });
  await own.release();
  await own.cluster.stop();
  if (!example) throw new StartError(`The data in ${dataDir} are not marked as the example; nothing is deleted.`);
  const elsewhere = join(dataDir, CLUSTER_PLACE);
  if (existsSync(elsewhere)) rmSync(readFileSync(elsewhere, 'utf8').trim(), { recursive: true, force: true });
  rmSync(dataDir, { recursive: true, force: true });
  say(`The example is gone: ${dataDir} was deleted.`);
}

async function emptyDatabase(url: string, log: Log): Promise<void> {
  const client = openBareClient(url, { applicationName: 'ullage-demo-remove', log });
  try {
    await requireOurs(client);
    const tables = await client<{ name: string }[]>`
      select format('%I.%I', schemaname, tablename) as name from pg_tables
      where schemaname = 'public' or (schemaname = 'ullage_queue' and tablename not like '%migration%')`;
    const partitions = await client<{ name: string }[]>`
      select inhrelid::regclass::text as name from pg_inherits
      where inhparent in ('scans'::regclass, 'readings'::regclass)`;
    // One statement of several parts is one transaction: all or nothing.
    await client.unsafe(
      [
        `truncate ${tables.map(({ name }) => name).join(', ')} restart identity`,
        ...partitions.map(({ name }) => `drop table ${name}`),
      ].join(';'),
    );
    say('The example is gone: every table of the database in DATABASE_URL was emptied.');
  } finally {
    await client.end({ timeout: 5 });
  }
}

async function requireOurs(client: Sql): Promise<void> {
  const [present] = await client`select to_regclass('public.settings') as settings`;
  if (present?.settings === null || !(await isExample(client))) {
    throw new StartError('The database in DATABASE_URL does not hold the example; nothing is deleted.');
  }
  const users = await client`
    select distinct application_name as name from pg_stat_activity
    where datname = current_database() and application_name like 'ullage%' and pid <> pg_backend_pid()`;
  if (users.length > 0) throw new StartError('Ullage is running on this database; stop it first.');
}

try {
  if (!process.env.ULLAGE_DATA_DIR) process.env.ULLAGE_DATA_DIR = resolve(ROOT, '.ullage-demo');
  const settings = readSettings(process.env);
  const log = makeLog({ process: 'start', level: settings.logLevel });
  if (settings.databaseUrl === null) await removeFolder(settings.dataDir, log);
  else await emptyDatabase(settings.databaseUrl, log);
} catch (error) {
  if (!(error instanceof SettingsError || error instanceof StartError)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
