/** What a ticket holds beside the trend: the scans of its span one by one, and the alerts that stood in it. */
import type { Sql } from 'postgres';
import type { Note } from '../contract/readings.ts';
import { unpackEstimates } from './codec.ts';
import type { SeriesPlace } from './series.ts';

export interface ScanFacts {
  readonly at: Date;
  readonly scanId: string;
  readonly state: string;
  readonly gases: ReturnType<typeof unpackEstimates>;
  readonly gaugePa: number | null;
  readonly sumPa: number | null;
  readonly floorPa: number | null;
  readonly decades: number | null;
  readonly unexplained: number | null;
  readonly notes: readonly Note[];
  readonly calibrationVersion: string;
  readonly catalogueVersion: string;
}

type Row = Omit<ScanFacts, 'gases'> & { gasNames: string[]; estimates: Buffer | null; detected: Buffer | null };

export const countReadings = async (sql: Sql, { chamber, analyser, from, to }: SeriesPlace): Promise<number> => {
  const [row] = await sql<{ n: number }[]>`
    select count(*)::int as n from readings
    where chamber = ${chamber} and analyser = ${analyser} and at between ${from} and ${to}`;
  return row?.n ?? 0;
};

/** Time of the `n`th reading of a span, the first being 1; null: it holds fewer. */
export const nthReading = async (
  sql: Sql,
  { chamber, analyser, from, to }: SeriesPlace,
  n: number,
): Promise<Date | null> => {
  const [row] = await sql<{ at: Date }[]>`
    select at from readings
    where chamber = ${chamber} and analyser = ${analyser} and at between ${from} and ${to}
    order by at offset ${n - 1} limit 1`;
  return row?.at ?? null;
};

/** Oldest first. */
export const readScanFacts = async (sql: Sql, { chamber, analyser, from, to }: SeriesPlace): Promise<ScanFacts[]> => {
  const rows = await sql<Row[]>`
    select r.at, r.scan_id as "scanId", r.state, g.gases as "gasNames", r.estimates, r.detected, r.gauge_pa as "gaugePa",
      r.sum_pa as "sumPa", r.floor_pa as "floorPa", r.decades, r.unexplained, r.notes,
      r.calibration_version as "calibrationVersion", r.catalogue_version as "catalogueVersion"
    from readings r left join gas_lists g on g.id = r.gas_list
    where r.chamber = ${chamber} and r.analyser = ${analyser} and r.at between ${from} and ${to}
    order by r.at, r.scan_id`;
  return rows.map(({ gasNames, estimates, detected, ...row }) => ({
    ...row,
    gases: unpackEstimates(gasNames ?? [], estimates, detected),
  }));
};

/** Alerts of the chamber that stood at some time of the span, oldest first. */
export const alertsOfSpan = async (
  sql: Sql,
  { chamber, from, to }: Omit<SeriesPlace, 'analyser'>,
): Promise<string[]> => {
  const rows = await sql<{ id: string }[]>`
    select id from alerts where chamber = ${chamber} and raised_at <= ${to}
      and (state <> 'normal' or coalesce(closed_at, returned_at) >= ${from})
    order by raised_at, id`;
  return rows.map(({ id }) => id);
};

/** Time of the newest scan that an analyser has had analysed. */
export const newestReading = async (sql: Sql, chamber: string, analyser: string): Promise<Date | null> => {
  const [row] = await sql<{ at: Date | null }[]>`
    select max(at) as at from readings where chamber = ${chamber} and analyser = ${analyser}`;
  return row?.at ?? null;
};
