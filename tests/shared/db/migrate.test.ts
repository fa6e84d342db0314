import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getTableName, isTable } from 'drizzle-orm';
import type { PgTable } from 'drizzle-orm/pg-core';
import { expect, it } from 'vitest';
import { openBareClient } from '../../../shared/db/connect.ts';
import * as tables from '../../../shared/db/tables.ts';
import { freshDatabase, quiet } from '../../support/services.ts';

const root = join(import.meta.dirname, '../../..');

it('five processes at once on an empty database make the tables once, and none fails', async () => {
  const fresh = await freshDatabase({ migrated: false });
  const script = `
    import { bringUpToDate } from './server/start/upToDate.ts';
    const log = { info() {}, warn() {}, error: console.error };
    await bringUpToDate(${JSON.stringify(fresh.url)}, log);`;
  const codes = await Promise.all(
    Array.from({ length: 5 }, () => {
      const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
        cwd: root,
        stdio: 'inherit',
      });
      return new Promise((done) => child.once('exit', done));
    }),
  );
  expect(codes).toEqual([0, 0, 0, 0, 0]);
  const client = openBareClient(fresh.url, { applicationName: 'test', log: quiet });
  const made = await client`select tablename as name from pg_tables where schemaname = 'public'`;
  const declared = Object.values(tables)
    .filter(isTable)
    .map((table) => getTableName(table as PgTable));
  expect(made.map(({ name }) => name as string).toSorted()).toEqual(declared.toSorted());
  const partitioned = await client`select relname as name from pg_class where relkind = 'p' order by 1`;
  expect(partitioned.map(({ name }) => name)).toEqual(['readings', 'scans']);
  expect((await client`select count(*)::int as n from drizzle.__drizzle_migrations`)[0]?.n).toBe(1);
  await client.end();
  await fresh.drop();
});

it('the migration is the one that the declared tables ask for', () => {
  const out = mkdtempSync(join(tmpdir(), 'ullage-migration-'));
  try {
    execFileSync(process.execPath, ['--import', 'tsx', 'migrations/generate.ts'], {
      cwd: root,
      env: { ...process.env, MIGRATIONS_OUT: out },
    });
    const sqlOf = (folder: string) =>
      readdirSync(folder)
        .filter((name) => name.startsWith('0000_'))
        .map((name) => readFileSync(join(folder, name), 'utf8'));
    expect(sqlOf(join(root, 'migrations')), 'run "npm run db:generate"').toEqual(sqlOf(out));
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
});
