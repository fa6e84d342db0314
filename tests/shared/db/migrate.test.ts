import { execFileSync, spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { getTableName, isTable } from 'drizzle-orm';
import type { PgTable } from 'drizzle-orm/pg-core';
import { drizzle } from 'drizzle-orm/postgres-js';
import { migrate } from 'drizzle-orm/postgres-js/migrator';
import { expect, it } from 'vitest';
import { openBareClient, openDatabase } from '../../../shared/db/connect.ts';
import { unpackInstrument, unpackMemory } from '../../../shared/db/memory.ts';
import { migrateDatabase } from '../../../shared/db/migrate.ts';
import * as tables from '../../../shared/db/tables.ts';
import { analyseChamber } from '../../../workers/analyseChamber.ts';
import { openWorkshop } from '../../../workers/openWorkshop.ts';
import { scriptedScience } from '../../support/scriptedScience.ts';
import { freshDatabase, quiet } from '../../support/services.ts';
import { accept, aFleet, aScan, storeFleet } from '../../support/storedFleet.ts';

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
  const migrations = readdirSync(join(root, 'migrations')).filter((name) => name.endsWith('.sql'));
  const run = await client`select count(*)::int as n from drizzle.__drizzle_migrations`;
  expect(run[0]?.n).toBe(migrations.length);
  await client.end();
  await fresh.drop();
});

it('the migrations are what the declared tables ask for', () => {
  const out = mkdtempSync(join(tmpdir(), 'ullage-migration-'));
  const sqlOf = (folder: string) => readdirSync(folder).filter((name) => name.endsWith('.sql'));
  try {
    cpSync(join(root, 'migrations'), out, { recursive: true });
    execFileSync(process.execPath, ['--import', 'tsx', 'migrations/generate.ts'], {
      cwd: root,
      env: { ...process.env, MIGRATIONS_OUT: out },
    });
    expect(sqlOf(out), 'run "npm run db:generate"').toEqual(sqlOf(join(root, 'migrations')));
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
});

/** The tables as the first release made them. */
const migrateToFirst = async (url: string) => {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-first-'));
  const client = openBareClient(url, { applicationName: 'test', log: quiet });
  try {
    const from = join(root, 'migrations');
    const journal = JSON.parse(readFileSync(join(from, 'meta/_journal.json'), 'utf8'));
    mkdirSync(join(folder, 'meta'));
    cpSync(join(from, '0000_tables.sql'), join(folder, '0000_tables.sql'));
    writeFileSync(
      join(folder, 'meta/_journal.json'),
      JSON.stringify({ ...journal, entries: journal.entries.slice(0, 1) }),
    );
    await migrate(drizzle(client), { migrationsFolder: folder });
  } finally {
    await client.end({ timeout: 5 });
    rmSync(folder, { recursive: true, force: true });
  }
};

it('a database of the first release, with what it holds, comes up to date and goes on', async () => {
  const fresh = await freshDatabase({ migrated: false });
  await migrateToFirst(fresh.url);
  const database = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
  const { sql } = database;
  await storeFleet(sql, aFleet('c1'));
  await accept(sql, { chamber: 'c1', scans: [aScan(0), aScan(1)] });
  // As the first release left them: one scan analysed, one outstanding. The memory is {"scans":["m0"],"told":[]}, packed.
  await sql`insert into gas_lists (gases) values ('{N2}')`;
  await sql`
    insert into readings (chamber, analyser, at, scan_id, state, gas_list, estimates, detected, notes,
      calibration_version, catalogue_version, judged)
    select chamber, analyser, at, scan_id, 'base', 1, decode(repeat('00', 16), 'hex'), '\\x01', '[]', 'c1-a/1', 'old', true
    from scans where scan_id = 'm0'`;
  await sql`
    insert into latest (chamber, analyser, at, scan_id, state, state_since, gas_list, notes, strip, received_at)
    select chamber, analyser, at, scan_id, 'base', at, 1, '[]', '[]', received_at from scans where scan_id = 'm0'`;
  const packed = deflateRawSync(JSON.stringify({ scans: ['m0'], told: [] }));
  await sql`insert into watch_memory (chamber, analyser, judged_to, version, memory)
    select chamber, analyser, at, 5, ${packed} from scans where scan_id = 'm0'`;
  await sql`delete from outstanding_scans where scan_id = 'm0'`;
  const before = await sql`select * from readings`;

  await migrateDatabase(fresh.url, quiet);
  const shop = openWorkshop({ database, science: scriptedScience(), log: quiet, stopping: () => false });
  // One more in a month that has no partition yet.
  await accept(sql, { chamber: 'c1', scans: [aScan(90 * 1440)] });
  expect(await analyseChamber(shop, 'c1')).toBe(false);

  const after = await sql`select * from readings order by at`;
  expect(after[0]).toEqual({
    ...before[0],
    chi_square_per_dof: null,
    detector: null,
    mass_offset_u: null,
    width_u: null,
    read_noise_pa: null,
    gain: null,
  });
  expect(after.slice(1)).toMatchObject([
    { scan_id: 'm1', width_u: 0.8 },
    { scan_id: 'm129600', width_u: 0.8 },
  ]);
  // What the overview reads of every chamber stays in the row, whatever else has come into it.
  const inRow = await sql`
    select attname as name from pg_attribute where attrelid = 'latest'::regclass and attstorage = 'm' order by 1`;
  expect(inRow.map(({ name }) => name)).toEqual(['estimates', 'notes', 'strip']);
  const [memory] = await sql<{ version: number; memory: Buffer; instrument: Buffer }[]>`select * from watch_memory`;
  expect(memory?.version).toBe(6);
  expect(unpackMemory(memory?.memory as Buffer)).toMatchObject({ scans: ['m0', 'm1', 'm129600'] });
  expect(unpackInstrument(memory?.instrument as Buffer)).toMatchObject({ scans: ['m1', 'm129600'] });
  await database.close();
  await fresh.drop();
});
