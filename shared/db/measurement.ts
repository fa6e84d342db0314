/** How well analysers measure, as it was stored: now, over time, and scan by scan. */
import type { Sql } from 'postgres';
import type { InstrumentView, Measurement } from '../analysis/types.ts';
import type { Analyser } from '../contract/fleet.ts';
import type { Note } from '../contract/readings.ts';
import type { OperatingState } from '../contract/words.ts';
import type { CoursesView } from '../watch/coursesView.ts';
import { unpackEstimates } from './codec.ts';
import type { StoredMeasurement, StoredSpectrum } from './tables.ts';

/** An analyser of the fleet with what its newest scan says of it; null from `at` on: it has sent nothing yet. */
export interface MeasurementFacts {
  readonly chamber: string;
  readonly chamberName: string;
  readonly area: string;
  readonly analyser: string;
  readonly retired: boolean;
  readonly document: Analyser;
  /** Of the document. */
  readonly documentVersion: number;
  readonly at: Date | null;
  readonly state: OperatingState | null;
  readonly scanPeriodSeconds: number | null;
  /** Three standard deviations of the noise, N2-equivalent Pa. */
  readonly floorPa: number | null;
  readonly decades: number | null;
  readonly unexplained: number | null;
  readonly kappa: number | null;
  /** Null: the newest scan gave no answer, or was analysed before this was kept. */
  readonly measurement: Pick<
    StoredMeasurement,
    'detector' | 'responseSeconds' | 'massScale' | 'widthU' | 'gain' | 'chiSquarePerDof' | 'leftOut'
  > | null;
  readonly instrument: Pick<InstrumentView, 'kappa' | 'gain' | 'massScale' | 'noise'> | null;
  /** `valid_from` of the newest calibration that is in force at the asked instant; null: only the document. */
  readonly calibratedAt: Date | null;
}

/** Which analysers: one (also a retired one), or those that are watched, in one area or all. */
export interface WhichAnalysers {
  readonly area?: string | undefined;
  readonly analyser?: string | undefined;
  /** For `calibratedAt`. */
  readonly at: Date;
}

/** Masses, noise per gas and curves stay where they are: a list of a thousand needs none of them. */
const slim = (sql: Sql) => sql`
  case when l.measurement is not null then jsonb_build_object('detector', l.measurement -> 'detector',
    'responseSeconds', l.measurement -> 'responseSeconds', 'massScale', l.measurement -> 'massScale',
    'widthU', l.measurement -> 'widthU', 'gain', l.measurement -> 'gain', 'leftOut', l.measurement -> 'leftOut',
    'chiSquarePerDof', l.measurement -> 'chiSquarePerDof') end as measurement,
  case when l.instrument is not null then jsonb_build_object('kappa', l.instrument -> 'kappa',
    'gain', l.instrument -> 'gain', 'massScale', l.instrument -> 'massScale', 'noise', l.instrument -> 'noise')
    end as instrument`;

const facts = (sql: Sql, at: Date) => sql`
  a.chamber, c.name as "chamberName", c.area, a.id as analyser, a.retired_at is not null as retired, a.document,
  a.version as "documentVersion", l.at, l.state, l.scan_period_seconds as "scanPeriodSeconds",
  l.floor_pa as "floorPa", l.decades, l.unexplained, l.kappa,
  (select max(k.valid_from) from calibrations k where k.chamber = a.chamber and k.analyser = a.id
    and k.state = 'in-force' and k.valid_from <= ${at} and (k.valid_to is null or k.valid_to > ${at})) as "calibratedAt"`;

/** In the order of the fleet document. */
export const readMeasurements = (sql: Sql, which: WhichAnalysers): Promise<MeasurementFacts[]> => {
  const { area, analyser, at } = which;
  return sql<MeasurementFacts[]>`
    select ${facts(sql, at)}, ${slim(sql)}
    from analysers a
    join chambers c on c.id = a.chamber
    left join areas r on r.id = c.area
    left join latest l on l.chamber = a.chamber and l.analyser = a.id
    where ${analyser === undefined ? sql`a.retired_at is null and c.retired_at is null` : sql`a.id = ${analyser}`}
      ${area === undefined ? sql`` : sql`and c.area = ${area}`}
    order by r.position, c.position, c.id, a.position, a.id`;
};

/** Everything that is stored of one analyser's newest scan. */
export interface WholeMeasurement extends Omit<MeasurementFacts, 'measurement' | 'instrument'> {
  readonly scanId: string | null;
  readonly sumPa: number | null;
  readonly gaugePa: number | null;
  /** Empty: no answer. */
  readonly gases: ReturnType<typeof unpackEstimates>;
  readonly notes: readonly Note[];
  readonly spectrum: StoredSpectrum | null;
  readonly measurement: StoredMeasurement | null;
  readonly instrument: InstrumentView | null;
  readonly courses: CoursesView | null;
  /** Of the newest scan's reading. */
  readonly calibrationVersion: string | null;
}

type WholeRow = Omit<WholeMeasurement, 'gases' | 'notes'> & {
  notes: Note[] | null;
  gasNames: string[] | null;
  estimates: Buffer | null;
  detected: Buffer | null;
};

/** Also of a retired analyser. @returns null where the fleet never knew it */
export const readMeasurement = async (
  sql: Sql,
  asked: { analyser: string; at: Date },
): Promise<WholeMeasurement | null> => {
  const [row] = await sql<WholeRow[]>`
    select ${facts(sql, asked.at)}, l.scan_id as "scanId", l.sum_pa as "sumPa", l.gauge_pa as "gaugePa", l.notes,
      l.spectrum, l.measurement, l.instrument, l.courses, g.gases as "gasNames", l.estimates, l.detected,
      (select d.calibration_version from readings d where d.chamber = l.chamber and d.analyser = l.analyser
        and d.at = l.at and d.scan_id = l.scan_id) as "calibrationVersion"
    from analysers a
    join chambers c on c.id = a.chamber
    left join latest l on l.chamber = a.chamber and l.analyser = a.id
    left join gas_lists g on g.id = l.gas_list
    where a.id = ${asked.analyser}`;
  if (!row) return null;
  const { gasNames, estimates, detected, notes, ...rest } = row;
  return { ...rest, notes: notes ?? [], gases: unpackEstimates(gasNames ?? [], estimates, detected) };
};

/** One stored scan, as a person picks it for marking. */
export interface ScanLineRow {
  readonly id: string;
  readonly at: Date;
  readonly state: OperatingState | null;
  readonly seconds: number;
  readonly averages: number;
  readonly detector: Measurement['detector'];
  readonly gaugePa: number | null;
  /** Null: not analysed yet, or no answer. */
  readonly sumPa: number | null;
}

/** The newest of the span, newest first. */
export const readScanLines = (
  sql: Sql,
  asked: { chamber: string; analyser: string; from: Date; to: Date; limit: number },
): Promise<ScanLineRow[]> => sql<ScanLineRow[]>`
  select s.scan_id as id, s.at, coalesce(r.state, s.state) as state, s.seconds, s.averages, s.detector,
    s.total_pressure_pa as "gaugePa", r.sum_pa as "sumPa"
  from (
    select chamber, analyser, at, scan_id, state, seconds, averages, detector, total_pressure_pa from scans
    where chamber = ${asked.chamber} and analyser = ${asked.analyser} and at between ${asked.from} and ${asked.to}
    order by at desc, scan_id desc limit ${asked.limit}
  ) s
  left join readings r on r.chamber = s.chamber and r.analyser = s.analyser and r.at = s.at and r.scan_id = s.scan_id
    and r.at between ${asked.from} and ${asked.to}
  order by s.at desc, s.scan_id desc`;
