/** What keeps the product running, as far as this server can see it. What it cannot see is null, never a guess. */
import { statfs } from 'node:fs/promises';
import type { Sql } from 'postgres';
import type { Backup, Operation } from '../../shared/contract/about.ts';
import { iso } from '../instant.ts';

/** Older scans tell of a silent analyser, not of a clock. */
const HEARD_MINUTES = 60;
/** Where the report of the newest backup is kept. */
export const LAST_BACKUP = 'last backup';

const databaseOf = async (sql: Sql): Promise<{ version: string; bytes: number; folder: string | null }> => {
  const [row] = await sql<{ version: string; bytes: string; folder: string | null }[]>`
    select current_setting('server_version') as version, pg_database_size(current_database()) as bytes,
      case when pg_has_role(current_user, 'pg_read_all_settings', 'usage') then current_setting('data_directory') end
        as folder`;
  return { version: row?.version ?? '', bytes: Number(row?.bytes), folder: row?.folder ?? null };
};

const diskOf = async (dataDir: string | undefined, databaseFolder: string | null): Promise<Operation['disk']> => {
  if (dataDir === undefined) return null;
  const own = databaseFolder?.startsWith(dataDir) === true;
  const stat = await statfs(dataDir).catch(() => null);
  return (
    stat && {
      holds: own ? 'the database' : 'the data folder',
      freeBytes: stat.bavail * stat.bsize,
      bytes: stat.blocks * stat.bsize,
    }
  );
};

/** Queue and listening are connections of their own, of servers and workers alike. */
const processesOf = async (sql: Sql): Promise<Operation['processes']> => {
  const rows = await sql<{ name: string; connections: number; since: Date }[]>`
    select application_name as name, count(*)::int as connections, min(backend_start) as since
    from pg_stat_activity
    where datname = current_database() and application_name like 'ullage-%'
    group by 1 order by 1`;
  return rows.map(({ name, connections, since }) => ({ name, connections, since: iso(since) }));
};

const arrivalOf = async (sql: Sql, now: Date): Promise<Operation['arrival']> => {
  const since = new Date(now.getTime() - HEARD_MINUTES * 60_000);
  const rows = await sql<{ analyser: string; seconds: number }[]>`
    select analyser, extract(epoch from received_at - at)::float8 as seconds
    from latest where received_at > ${since} order by seconds, analyser`;
  const [earliest, latest, middle] = [rows[0], rows.at(-1), rows[Math.floor(rows.length / 2)]];
  return earliest && latest && middle
    ? { analysers: rows.length, medianSeconds: middle.seconds, earliest: { ...earliest }, latest: { ...latest } }
    : null;
};

export const readLastBackup = async (sql: Sql): Promise<Backup | null> => {
  const [row] = await sql<{ value: Backup }[]>`select value from settings where key = ${LAST_BACKUP}`;
  return row?.value ?? null;
};

export const describeOperation = async (
  sql: Sql,
  { dataDir, now, eventStreams }: { dataDir: string | undefined; now: Date; eventStreams: number },
): Promise<Operation> => {
  const [{ version, bytes, folder }, lastBackup, processes, arrival] = await Promise.all([
    databaseOf(sql),
    readLastBackup(sql),
    processesOf(sql),
    arrivalOf(sql, now),
  ]);
  const disk = await diskOf(dataDir, folder);
  return { database: { version, bytes }, disk, lastBackup, processes, arrival, eventStreams };
};
