import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeAdminToken } from '../../../server/start/adminToken.ts';
import { prepareExample } from '../../../server/start/example.ts';
import { firstAdminToken, firstStartLines, setUpKey } from '../../../server/start/firstStart.ts';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { readSettings } from '../../../shared/settings.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../../support/services.ts';

let fresh: FreshDatabase;
let db: Database;
beforeEach(async () => {
  fresh = await freshDatabase();
  db = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
});
afterEach(async () => {
  await db.close();
  await fresh.drop();
});

const hash = (text: string): string => createHash('sha256').update(text).digest('hex');

describe('the first admin token', () => {
  it('is made once, also by two starts at once, and only its hash is kept', async () => {
    const made = await Promise.all([firstAdminToken(db.sql), firstAdminToken(db.sql)]);
    const tokens = made.filter((token) => token !== null);
    expect(tokens).toHaveLength(1);
    const rows = await db.sql`select role, hash, revoked_at from tokens`;
    expect(rows).toEqual([{ role: 'admin', hash: hash(tokens[0] ?? ''), revoked_at: null }]);
    expect(await firstAdminToken(db.sql)).toBe(null);
  });

  it('is not made again after it was revoked: somebody decided that', async () => {
    await firstAdminToken(db.sql);
    await db.sql`update tokens set revoked_at = now()`;
    expect(await firstAdminToken(db.sql)).toBe(null);
  });

  it('is still made where only the example has one', async () => {
    await makeAdminToken(db.sql, 'example loader');
    expect(await firstAdminToken(db.sql)).not.toBe(null);
  });
});

describe('the set-up key', () => {
  it('is new at every start and the only one that counts, until there is a person', async () => {
    const first = await setUpKey(db.sql);
    const second = await setUpKey(db.sql);
    expect(first).not.toBe(second);
    expect(await db.sql`select hash from set_up_keys`).toEqual([{ hash: hash(second ?? '') }]);
    const [row] = await db.sql`select extract(epoch from expires_at - now())::float8 / 3600 as hours from set_up_keys`;
    expect(row?.hours).toBeGreaterThan(23);
    expect(row?.hours).toBeLessThanOrEqual(24);
    await db.sql`insert into people (login, name, role, password_hash, created_at) values ('a', 'A', 'admin', 'x', now())`;
    expect(await setUpKey(db.sql)).toBe(null);
  });
});

it('a start says what is needed and nothing more', async () => {
  const address = 'http://here';
  const lines = await firstStartLines(db.sql, { address, ownAdminToken: false });
  expect(lines).toHaveLength(2);
  expect(lines[1]).toMatch(/^Make the first account .*: http:\/\/here\/set-up\?key=\S{43}$/);
  expect(await firstStartLines(db.sql, { address, ownAdminToken: false })).toHaveLength(1);
  expect((await firstStartLines(db.sql, { address, ownAdminToken: true })).join()).not.toContain('token');
});

describe('the example', () => {
  const settings = readSettings({ DATABASE_URL: 'postgres://u@h/d' });

  it('marks an empty database, and revokes its former credential at each start', async () => {
    const first = await prepareExample(db.sql, settings);
    const second = await prepareExample(db.sql, settings);
    const rows = await db.sql`select hash, revoked_at is null as valid from tokens order by created_at`;
    expect(rows).toEqual([
      { hash: hash(first), valid: false },
      { hash: hash(second), valid: true },
    ]);
    expect(await db.sql`select value from settings where key = 'example'`).toEqual([{ value: true }]);
  });

  it('keeps out of a database that holds a fleet', async () => {
    await db.sql`insert into areas (id, name, time_zone, shifts, position, document) values ('a', 'A', 'UTC', '{}', 0, '{}')`;
    await expect(prepareExample(db.sql, settings)).rejects.toThrow(/fleet of its own/);
    expect(await db.sql`select 1 from settings where key = 'example'`).toHaveLength(0);
  });
});
