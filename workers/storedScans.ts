/** Stored scans as the analysis sees them, and those of a period in pieces. */
import type { Sql } from 'postgres';
import type { AnalysisScan } from '../shared/analysis/types.ts';
import type { ScanUnit } from '../shared/contract/words.ts';
import { unpackFloat64 } from '../shared/db/codec.ts';
import { DEFAULT_STATE } from './outcome.ts';

/** The columns of `scans` that make an AnalysisScan. */
export interface ScanColumns {
  analyser: string;
  at: Date;
  scanId: string;
  seconds: number;
  averages: number;
  masses: AnalysisScan['masses'];
  values: Buffer;
  unit: string;
  detector: 'faraday' | 'multiplier' | null;
  totalPressurePa: number | null;
  temperatureC: number | null;
}

export const scanOf = (row: ScanColumns): Omit<AnalysisScan, 'state'> => ({
  analyser: row.analyser,
  id: row.scanId,
  atMs: row.at.getTime(),
  seconds: row.seconds,
  averages: row.averages,
  masses: row.masses,
  values: unpackFloat64(row.values),
  unit: row.unit as ScanUnit,
  detector: row.detector,
  totalPressurePa: row.totalPressurePa,
  temperatureC: row.temperatureC,
});

/** One analyser's scans of a period, both ends included. */
export interface Period {
  readonly chamber: string;
  readonly analyser: string;
  readonly from: Date;
  readonly to: Date;
}

/** A place between two scans of an analyser: after this one. */
export interface After {
  readonly at: Date;
  readonly scanId: string;
}

export const countScans = async (sql: Sql, { chamber, analyser, from, to }: Period): Promise<number> => {
  const [row] = await sql<{ n: number }[]>`
    select count(*)::int as n from scans
    where chamber = ${chamber} and analyser = ${analyser} and at between ${from} and ${to}`;
  return row?.n ?? 0;
};

type Row = ScanColumns & { state: string | null; judged: boolean };

const columns = (sql: Sql) => sql`
  s.analyser, s.at, s.scan_id as "scanId", s.seconds, s.averages, s.masses, s."values", s.unit, s.detector,
  s.total_pressure_pa as "totalPressurePa", s.temperature_c as "temperatureC", coalesce(r.state, s.state) as state,
  coalesce(r.judged, true) as judged`;

/** The operating state as it was settled when the scan was analysed. */
const reading = (sql: Sql) => sql`
  left join readings r on r.chamber = s.chamber and r.analyser = s.analyser and r.at = s.at and r.scan_id = s.scan_id`;

const present = (row: Row): AnalysisScan => ({ ...scanOf(row), state: row.state ?? DEFAULT_STATE });

interface Piece {
  readonly after: After | null;
  readonly limit: number;
  readonly bytes: number;
}

/** Oldest first, at most `limit`, fewer where their values would exceed `bytes`, but one at least. */
export const readScans = async (sql: Sql, period: Period, asked: Piece): Promise<AnalysisScan[]> =>
  (await readRows(sql, period, asked)).map(present);

/** The same, each with whether it went through the watch; one that came late did not. */
export const readJudgedScans = async (
  sql: Sql,
  period: Period,
  asked: Piece,
): Promise<{ scan: AnalysisScan; judged: boolean }[]> =>
  (await readRows(sql, period, asked)).map((row) => ({ scan: present(row), judged: row.judged }));

const readRows = async (sql: Sql, period: Period, asked: Piece): Promise<Row[]> => {
  const { chamber, analyser, from, to } = period;
  const { after, limit, bytes } = asked;
  return await sql<Row[]>`
    select ${columns(sql)} from (
      select t.*, row_number() over (order by t.at, t.scan_id) as position,
        sum(octet_length(t."values")) over (order by t.at, t.scan_id) as bytes
      from (
        select * from scans where chamber = ${chamber} and analyser = ${analyser} and at between ${from} and ${to}
          ${after === null ? sql`` : sql`and (at, scan_id) > (${after.at}, ${after.scanId})`}
        order by at, scan_id limit ${limit}
      ) t
    ) s ${reading(sql)}
    where s.bytes <= ${bytes} or s.position = 1
    order by s.position`;
};

/** Those of one operating state, oldest first; of more than `most` every so many, so that the period stays covered. */
export const readScansOfState = async (
  sql: Sql,
  { chamber, analyser, from, to }: Period,
  asked: { state: string; most: number; bytes: number },
): Promise<AnalysisScan[]> => {
  const rows = await sql<Row[]>`
    with of_state as (
      select s.at, s.scan_id, octet_length(s."values") as bytes, row_number() over (order by s.at, s.scan_id) - 1 as place,
        count(*) over () as n, sum(octet_length(s."values")) over () as total
      from scans s ${reading(sql)}
      where s.chamber = ${chamber} and s.analyser = ${analyser} and s.at between ${from} and ${to}
        and coalesce(r.state, s.state, ${DEFAULT_STATE}) = ${asked.state} and coalesce(r.judged, true)
    ), chosen as (
      select at, scan_id from of_state
      where place % greatest(1, ceil(n::numeric / ${asked.most}), ceil(total::numeric / ${asked.bytes}))::bigint = 0
    )
    select ${columns(sql)} from chosen c
    join scans s on s.chamber = ${chamber} and s.analyser = ${analyser} and s.at = c.at and s.scan_id = c.scan_id
    ${reading(sql)} order by s.at, s.scan_id`;
  return rows.map(present);
};

/** The last ones before a period, oldest first: at most `limit`, and no more than `bytes` of values. */
export const readScansBefore = async (
  sql: Sql,
  { chamber, analyser, from }: Period,
  { limit, bytes }: { limit: number; bytes: number },
): Promise<AnalysisScan[]> => {
  const rows = await sql<Row[]>`
    select ${columns(sql)} from (
      select t.*, sum(octet_length(t."values")) over (order by t.at desc, t.scan_id desc) as bytes
      from (
        select * from scans where chamber = ${chamber} and analyser = ${analyser} and at < ${from}
        order by at desc, scan_id desc limit ${limit}
      ) t
    ) s ${reading(sql)}
    where s.bytes <= ${bytes}
    order by s.at, s.scan_id`;
  return rows.map(present);
};

/** The last scan at or before an instant, or the first at or after it. */
export const readScanBeside = async (
  sql: Sql,
  asked: Pick<Period, 'chamber' | 'analyser'> & { instant: Date; side: 'before' | 'after' },
): Promise<AnalysisScan | null> => {
  const { chamber, analyser, instant, side } = asked;
  const [row] = await sql<Row[]>`
    select ${columns(sql)} from (
      select * from scans where chamber = ${chamber} and analyser = ${analyser}
        ${side === 'before' ? sql`and at <= ${instant} order by at desc, scan_id desc` : sql`and at >= ${instant} order by at, scan_id`}
      limit 1
    ) s ${reading(sql)}`;
  return row ? present(row) : null;
};
