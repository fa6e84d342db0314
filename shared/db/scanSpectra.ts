/** Stored scans as they were sent, and the peaks of those that somebody has asked to be worked out. */
import type { Sql } from 'postgres';
import { unpackFloat64 } from './codec.ts';
import type { StoredSpectrum } from './tables.ts';

/** What a worker found in an earlier scan; it lies in the task that asked for it. */
export interface WorkedSpectrum {
  readonly floorPa: number | null;
  readonly calibrationVersion: string;
  readonly catalogueVersion: string;
  readonly spectrum: StoredSpectrum;
}

export interface SpectrumTask {
  readonly state: 'waiting' | 'done' | 'failed';
  readonly problem: string | null;
  readonly result: WorkedSpectrum | null;
}

interface ScanOf {
  readonly chamber: string;
  readonly analyser: string;
  readonly at: Date;
}

/** The newest that was asked for this scan; null: nobody has. */
export const readSpectrumTask = async (sql: Sql, { chamber, analyser, at }: ScanOf): Promise<SpectrumTask | null> => {
  const [row] = await sql<SpectrumTask[]>`
    select state, problem, result from tasks
    where chamber = ${chamber} and analyser = ${analyser} and kind = 'spectrum'
      and request ->> 'at' = ${at.toISOString()}
    order by asked_at desc, id limit 1`;
  return row ?? null;
};

export const countWaitingSpectra = async (sql: Sql, analyser: string): Promise<number> => {
  const [row] = await sql<{ n: number }[]>`
    select count(*)::int as n from tasks where analyser = ${analyser} and state = 'waiting' and kind = 'spectrum'`;
  return row?.n ?? 0;
};

/** What is usual at each mass in a state, N2-equivalent Pa, as it is known now. */
export const readUsualPeaks = async (
  sql: Sql,
  { chamber, analyser, state }: Omit<ScanOf, 'at'> & { state: string },
): Promise<Readonly<Record<string, number>>> => {
  const [row] = await sql<{ peaks: Record<string, number> }[]>`
    select peaks from baselines where chamber = ${chamber} and analyser = ${analyser} and state = ${state}`;
  return row?.peaks ?? {};
};

/** A scan with those beside it. */
export interface ScanFound {
  readonly at: Date;
  readonly scanId: string;
  readonly seconds: number;
  readonly averages: number;
  readonly masses: { first: number; last: number; perUnit: number } | readonly number[];
  /** As sent, in `unit`; not measured is NaN. */
  readonly values: Float64Array;
  readonly unit: string;
  readonly detector: string | null;
  readonly state: string | null;
  readonly gaugePa: number | null;
  readonly previousAt: Date | null;
  readonly nextAt: Date | null;
}

/** The last scan at or before an instant that has been analysed; null: there is none. */
export const readScanAt = async (
  sql: Sql,
  { chamber, analyser, at }: Omit<ScanOf, 'at'> & { at: Date | null },
): Promise<ScanFound | null> => {
  const [row] = await sql<(Omit<ScanFound, 'values'> & { values: Buffer })[]>`
    select s.at, s.scan_id as "scanId", s.seconds, s.averages, s.masses, s."values", s.unit, s.detector,
      coalesce(r.state, s.state) as state, s.total_pressure_pa as "gaugePa",
      (select max(b.at) from scans b where b.chamber = s.chamber and b.analyser = s.analyser and b.at < s.at)
        as "previousAt",
      (select min(n.at) from scans n where n.chamber = s.chamber and n.analyser = s.analyser and n.at > s.at)
        as "nextAt"
    from (
      select * from scans where chamber = ${chamber} and analyser = ${analyser}
        and at <= coalesce(${at}::timestamptz, 'infinity') order by at desc, scan_id desc limit 1
    ) s
    left join readings r
      on r.chamber = s.chamber and r.analyser = s.analyser and r.at = s.at and r.scan_id = s.scan_id`;
  return row ? { ...row, values: unpackFloat64(row.values) } : null;
};
