/** What a new installation needs before anybody can come in: a token for programs, and a link for the first person. */
import type { Sql } from 'postgres';
import { makeAdminToken, newSecret, sha256Hex } from './adminToken.ts';
import { EXAMPLE_TOKEN } from './example.ts';

const SET_UP_HOURS = 24;

/** Makes the first admin token, or null when there has been one. One statement: two starts at once make one token. */
export async function firstAdminToken(sql: Sql): Promise<string | null> {
  const marked = await sql`
    insert into settings (key, value) select 'firstAdminToken', 'true'
    where not exists (select 1 from tokens where role = 'admin' and name <> ${EXAMPLE_TOKEN})
    on conflict do nothing returning 1`;
  return marked.length === 0 ? null : await makeAdminToken(sql, 'first start');
}

/** A key for the page that makes the first account, or null once there is a person. Earlier keys stop working. */
export async function setUpKey(sql: Sql): Promise<string | null> {
  const key = newSecret();
  const made = await sql`
    with earlier as (delete from set_up_keys where used_at is null)
    insert into set_up_keys (hash, expires_at)
    select ${sha256Hex(key)}, now() + make_interval(hours => ${SET_UP_HOURS})
    where not exists (select 1 from people) returning 1`;
  return made.length === 0 ? null : key;
}

/** The lines that tell a person how to come in; none when everything is there. */
export async function firstStartLines(sql: Sql, o: { address: string; ownAdminToken: boolean }): Promise<string[]> {
  const lines: string[] = [];
  const token = o.ownAdminToken ? null : await firstAdminToken(sql);
  if (token !== null) lines.push(`Admin token for programs, shown this once: ${token}`);
  const key = await setUpKey(sql);
  if (key !== null) lines.push(`Make the first account (within ${SET_UP_HOURS} h): ${o.address}/set-up?key=${key}`);
  return lines;
}
