/**
 * Writes scans so that none is lost and none is there twice. Key, scan and outstanding work appear in one statement,
 * which is atomic by itself, whatever dies meanwhile; a sender who heard nothing sends again and is told "duplicate".
 */
import type { Sql } from 'postgres';
import { ensurePartitionsFor } from './partitions.ts';

export interface ScanRow {
  readonly chamber: string;
  readonly analyser: string;
  readonly id: string;
  readonly atMs: number;
  readonly seconds: number;
  readonly averages: number;
  readonly masses: unknown;
  /** float64, little-endian. */
  readonly packed: Buffer;
  readonly digest: Buffer;
  readonly unit: string;
  readonly detector: string | null;
  readonly totalPressurePa: number | null;
  readonly state: string | null | undefined;
  readonly temperatureC: number | null;
}

/** `conflict`: the id is taken by a scan with other content. */
export type Stored = 'stored' | 'duplicate' | 'conflict';

/** Values per statement: what PostgreSQL holds in memory at once, some 32 MiB with its text form. */
const MOST_BYTES_PER_STATEMENT = 8 * 1024 * 1024;

const keyOf = (row: { chamber: string; analyser: string; id: string }): string =>
  `${row.chamber}\n${row.analyser}\n${row.id}`;

const column = <T>(rows: readonly ScanRow[], of: (row: ScanRow) => T): T[] => rows.map(of);

/** @returns the keys that were not there before */
const insertNew = async (sql: Sql, rows: readonly ScanRow[], receivedAt: Date): Promise<Set<string>> => {
  // Sorted: two requests that hold the same scans wait for each other in the same order and cannot deadlock.
  const sorted = rows.toSorted((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
  const fresh = await sql<{ chamber: string; analyser: string; id: string }[]>`
    with incoming as materialized (
      select * from unnest(
        ${column(sorted, (r) => r.chamber)}::text[], ${column(sorted, (r) => r.analyser)}::text[],
        ${column(sorted, (r) => r.id)}::text[], ${column(sorted, (r) => new Date(r.atMs).toISOString())}::text[],
        ${column(sorted, (r) => r.digest.toString('base64'))}::text[], ${column(sorted, (r) => String(r.seconds))}::text[],
        ${column(sorted, (r) => String(r.averages))}::text[], ${column(sorted, (r) => JSON.stringify(r.masses))}::text[],
        ${column(sorted, (r) => r.packed.toString('base64'))}::text[], ${column(sorted, (r) => r.unit)}::text[],
        ${column(sorted, (r) => r.detector)}::text[],
        ${column(sorted, (r) => (r.totalPressurePa === null ? null : String(r.totalPressurePa)))}::text[],
        ${column(sorted, (r) => r.state ?? null)}::text[],
        ${column(sorted, (r) => (r.temperatureC === null ? null : String(r.temperatureC)))}::text[]
      ) with ordinality as t (chamber, analyser, scan_id, at, digest, seconds, averages, masses, packed, unit,
        detector, total_pressure_pa, state, temperature_c, n)
    ), keys as (
      insert into scan_keys (chamber, analyser, scan_id, at, digest)
      select chamber, analyser, scan_id, at::timestamptz, decode(digest, 'base64') from incoming order by n
      on conflict do nothing
      returning chamber, analyser, scan_id
    ), kept as (
      insert into scans (chamber, analyser, at, scan_id, seconds, averages, masses, values, unit, detector,
        total_pressure_pa, state, temperature_c, received_at)
      select chamber, analyser, at::timestamptz, scan_id, seconds::float8, averages::int, masses::jsonb,
        decode(packed, 'base64'), unit, detector, total_pressure_pa::float8, state, temperature_c::real, ${receivedAt}
      from incoming join keys using (chamber, analyser, scan_id)
    ), work as (
      insert into outstanding_scans (chamber, analyser, at, scan_id, received_at)
      select chamber, analyser, at::timestamptz, scan_id, ${receivedAt}
      from incoming join keys using (chamber, analyser, scan_id)
    )
    select chamber, analyser, scan_id as id from keys`;
  return new Set(fresh.map(keyOf));
};

/** Digests of keys that are taken; asked in a statement of its own, because the one before could not see its rivals. */
const digestsOf = async (sql: Sql, rows: readonly ScanRow[]): Promise<Map<string, Buffer>> => {
  const found = await sql<{ chamber: string; analyser: string; id: string; digest: Buffer }[]>`
    select chamber, analyser, scan_id as id, digest from scan_keys
    join unnest(${column(rows, (r) => r.chamber)}::text[], ${column(rows, (r) => r.analyser)}::text[],
      ${column(rows, (r) => r.id)}::text[]) as t (chamber, analyser, scan_id) using (chamber, analyser, scan_id)`;
  return new Map(found.map((row) => [keyOf(row), row.digest]));
};

const storeTogether = async (sql: Sql, rows: readonly ScanRow[], receivedAt: Date): Promise<Stored[]> => {
  const fresh = await insertNew(sql, rows, receivedAt);
  const taken = rows.filter((row) => !fresh.has(keyOf(row)));
  const digests = taken.length === 0 ? new Map<string, Buffer>() : await digestsOf(sql, taken);
  return rows.map((row) => {
    if (fresh.has(keyOf(row))) return 'stored';
    return digests.get(keyOf(row))?.equals(row.digest) ? 'duplicate' : 'conflict';
  });
};

/** @param rows no two with the same chamber, analyser and id. @returns a verdict for each, after the commit. */
export const storeScans = async (sql: Sql, rows: readonly ScanRow[], receivedAt: Date): Promise<Stored[]> => {
  if (rows.length === 0) return [];
  await ensurePartitionsFor(
    sql,
    rows.map((row) => row.atMs),
  );
  const verdicts: Stored[] = [];
  let batch: ScanRow[] = [];
  let bytes = 0;
  const flush = async () => {
    if (batch.length > 0) verdicts.push(...(await storeTogether(sql, batch, receivedAt)));
    batch = [];
    bytes = 0;
  };
  for (const row of rows) {
    if (bytes + row.packed.length > MOST_BYTES_PER_STATEMENT) await flush();
    batch.push(row);
    bytes += row.packed.length;
  }
  await flush();
  return verdicts;
};

export interface Reject {
  readonly token: string;
  readonly analyser: string | null;
  readonly scanId: string | null;
  readonly position: number;
  readonly problem: string;
  readonly body: string;
}

export const keepRejects = async (sql: Sql, rejects: readonly Reject[], receivedAt: Date): Promise<void> => {
  if (rejects.length === 0) return;
  const rows = rejects.map((reject) => ({
    received_at: receivedAt,
    token: reject.token,
    analyser: reject.analyser,
    scan_id: reject.scanId,
    position: reject.position,
    problem: reject.problem,
    body: reject.body,
  }));
  await sql`insert into rejects ${sql(rows)}`;
};

/** Exactly how many scans are accepted and not yet analysed. */
export const countOutstanding = async (sql: Sql): Promise<number> => {
  const [row] = await sql<{ n: number }[]>`select count(*)::int as n from outstanding_scans`;
  return row?.n ?? 0;
};
