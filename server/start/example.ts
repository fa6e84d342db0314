/** Where the example may live: in data of its own, marked as such, so that it can be told from real data and removed. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Sql } from 'postgres';
import type { Settings } from '../../shared/settings.ts';
import { SITE_NAME } from '../demo/fleet.ts';
import { makeAdminToken } from './adminToken.ts';
import { StartError } from './say.ts';

/** The credential under which the example loads itself. */
export const EXAMPLE_TOKEN = 'example loader';
/** A file that says that a data folder was made for the example and may be deleted with it. */
export const EXAMPLE_MARK = 'example';

/** @returns an admin token for the loader. @throws {StartError} when the data are somebody's own */
export async function prepareExample(sql: Sql, settings: Settings): Promise<string> {
  if (!(await markAsExample(sql))) {
    throw new StartError('This database holds a fleet of its own; the example is not mixed into it.');
  }
  if (settings.databaseUrl === null) writeFileSync(join(settings.dataDir, EXAMPLE_MARK), 'Made by "npm run demo".\n');
  return settings.adminToken ?? (await makeAdminToken(sql, EXAMPLE_TOKEN));
}

async function markAsExample(sql: Sql): Promise<boolean> {
  await sql`
    insert into settings (key, value)
    select key, value from (values ('example', 'true'::jsonb), ('site', to_jsonb(${SITE_NAME}::text))) as own (key, value)
    where not exists (select 1 from areas) and not exists (select 1 from scan_keys)
    on conflict (key) do nothing`;
  return isExample(sql);
}

export async function isExample(sql: Sql): Promise<boolean> {
  return (await sql`select 1 from settings where key = 'example' and value = 'true'`).length > 0;
}
