import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { ensurePartitions, ensurePartitionsFor } from '../../../shared/db/partitions.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../../support/services.ts';

let fresh: FreshDatabase;
let open: Database[];
const database = (): Database => open[0]!;

beforeAll(async () => {
  fresh = await freshDatabase();
  open = [1, 2, 3, 4, 5].map((i) => openDatabase(fresh.url, { applicationName: `test-${i}`, log: quiet }));
});
afterAll(async () => {
  await Promise.all(open.map((each) => each.close()));
  await fresh.drop();
});

const partitionsOf = async (table: string): Promise<string[]> => {
  const rows = await database().sql<{ name: string }[]>`
    select c.relname as name from pg_inherits join pg_class c on c.oid = inhrelid
    where inhparent = ${table}::regclass order by 1`;
  return rows.map(({ name }) => name);
};

const storeReading = (at: Date) => database().sql`
  insert into readings (chamber, analyser, at, scan_id, state, gas_list, notes, calibration_version, catalogue_version, judged)
  values ('c', 'a', ${at}, ${at.toISOString()}, 'base', 1, '[]', '1', '1', true)`;

describe('monthly partitions', () => {
  it('are made by many sessions at once without a failure', async () => {
    const from = Date.UTC(2019, 10, 30);
    await Promise.all(open.map(({ sql }) => ensurePartitions(sql, from, Date.UTC(2020, 1, 1))));
    const expected = ['2019_11', '2019_12', '2020_01', '2020_02'];
    expect(await partitionsOf('scans')).toEqual(expected.map((month) => `scans_${month}`));
    expect(await partitionsOf('readings')).toEqual(expected.map((month) => `readings_${month}`));
  });

  it('take every instant of their month, from its first millisecond to its last', async () => {
    await ensurePartitionsFor(database().sql, [Date.UTC(2001, 1, 10)]);
    await storeReading(new Date('2001-02-01T00:00:00.000Z'));
    await storeReading(new Date('2001-02-28T23:59:59.999Z'));
    const rows = await database().sql`select count(*)::int as n from readings_2001_02`;
    expect(rows[0]?.n).toBe(2);
    await expect(storeReading(new Date('2001-03-01T00:00:00.000Z'))).rejects.toThrow(/no partition/);
  });

  it('are made only for the months that occur, not for those between', async () => {
    await ensurePartitionsFor(database().sql, [Date.UTC(1999, 0, 1), Date.UTC(2003, 11, 31, 23, 59, 59, 999)]);
    const made = (await partitionsOf('scans')).filter((name) => /_(1999|200[023])_/.test(name));
    expect(made).toEqual(['scans_1999_01', 'scans_2003_12']);
  });

  it('keep the primary key, so that a reading cannot be stored twice', async () => {
    const at = new Date('2001-02-03T04:05:06.789Z');
    await ensurePartitionsFor(database().sql, [at.getTime()]);
    await storeReading(at);
    await expect(storeReading(at)).rejects.toThrow(/duplicate key/);
  });

  it('can be made while a transaction writes to the same table', async () => {
    await ensurePartitionsFor(database().sql, [Date.UTC(2005, 0, 15)]);
    await database().transaction(async (tx) => {
      await tx`insert into readings (chamber, analyser, at, scan_id, state, gas_list, notes, calibration_version, catalogue_version, judged)
        values ('c', 'a', '2005-01-02Z', 'open', 'base', 1, '[]', '1', '1', true)`;
      await ensurePartitionsFor(open[1]!.sql, [Date.UTC(2005, 5, 15)]);
    });
    expect(await partitionsOf('readings')).toContain('readings_2005_06');
  });
});
