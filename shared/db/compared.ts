/** What comparisons of a chamber with its past and with its sisters are made from. */
import type { Sql } from 'postgres';
import type { OperatingState, Signature } from '../contract/words.ts';
import type { BaselineView } from '../watch/types.ts';
import { unpackEstimates } from './codec.ts';

export interface StateRow {
  readonly at: Date;
  readonly state: OperatingState;
}

/** More changes than this are years of a chamber, or months of one that moves wafers. */
const MOST_CHANGES = 20_000;

/** The newest reported changes of a chamber's operating state up to `to`, oldest first. */
export const readStates = async (sql: Sql, chamber: string, to: Date): Promise<StateRow[]> => {
  const rows = await sql<StateRow[]>`
    select at, state from chamber_states where chamber = ${chamber} and at <= ${to}
    order by at desc, analyser desc limit ${MOST_CHANGES}`;
  return rows.reverse();
};

export interface ComparedScanRow {
  readonly at: Date;
  readonly state: OperatingState;
  readonly gases: ReturnType<typeof unpackEstimates>;
  readonly calibrationVersion: string;
  readonly catalogueVersion: string;
  readonly detector: string | null;
  readonly temperatureC: number | null;
}

type PackedRow = Omit<ComparedScanRow, 'gases'> & {
  gasNames: string[];
  estimates: Buffer;
  detected: Buffer | null;
};

export interface SideAsked {
  readonly chamber: string;
  readonly analyser: string;
  readonly from: Date;
  readonly to: Date;
  /** Absent: whatever it was. */
  readonly state?: string | undefined;
  readonly most: number;
}

/** Scans with an answer, the newest of the span, oldest first. */
export const readSideScans = async (sql: Sql, asked: SideAsked): Promise<ComparedScanRow[]> => {
  const { chamber, analyser, from, to, state, most } = asked;
  const rows = await sql<PackedRow[]>`
    select r.at, r.state, g.gases as "gasNames", r.estimates, r.detected, r.detector,
      r.calibration_version as "calibrationVersion", r.catalogue_version as "catalogueVersion",
      s.temperature_c as "temperatureC"
    from (
      select * from readings where chamber = ${chamber} and analyser = ${analyser} and at between ${from} and ${to}
        and estimates is not null ${state === undefined ? sql`` : sql`and state = ${state}`}
      order by at desc, scan_id desc limit ${most}
    ) r
    join gas_lists g on g.id = r.gas_list
    left join scans s on s.chamber = r.chamber and s.analyser = r.analyser and s.at = r.at and s.scan_id = r.scan_id
      and s.at between ${from} and ${to}
    order by r.at, r.scan_id`;
  return rows.map(({ gasNames, estimates, detected, ...row }) => ({
    ...row,
    gases: unpackEstimates(gasNames, estimates, detected),
  }));
};

export interface UsualFacts {
  readonly since: Date;
  readonly gases: BaselineView['gases'];
}

/** What is usual for an analyser in a state; null: not learned. */
export const readUsual = async (
  sql: Sql,
  asked: { chamber: string; analyser: string; state: string },
): Promise<UsualFacts | null> => {
  const [row] = await sql<UsualFacts[]>`
    select since, gases from baselines
    where chamber = ${asked.chamber} and analyser = ${asked.analyser} and state = ${asked.state}`;
  return row ?? null;
};

export interface RepairAlert {
  readonly id: string;
  readonly analyser: string | null;
  readonly signature: Signature;
  readonly summary: string;
  readonly gases: readonly string[];
  readonly raisedAt: Date;
  /** When its condition had gone; null: it stands. */
  readonly endedAt: Date | null;
}

/** Alerts of a chamber that are about gases, newest first. */
export const readGasAlerts = (sql: Sql, chamber: string, most: number): Promise<RepairAlert[]> => sql<RepairAlert[]>`
  select id, analyser, signature, finding ->> 'summary' as summary, gases, raised_at as "raisedAt",
    case when active and state <> 'normal' then null else coalesce(returned_at, closed_at) end as "endedAt"
  from alerts where chamber = ${chamber} and gases <> '{}' order by raised_at desc, id limit ${most}`;

export interface SisterRow {
  readonly chamber: string;
  readonly name: string;
  readonly analyser: string;
}

/** Chambers of a kind that are watched, each with the first of its analysers that has sent anything. */
export const readOfKind = (sql: Sql, kind: string): Promise<SisterRow[]> => sql<SisterRow[]>`
  select distinct on (c.position, c.id) c.id as chamber, c.name, a.id as analyser
  from chambers c join analysers a on a.chamber = c.id and a.retired_at is null
  left join latest l on l.chamber = a.chamber and l.analyser = a.id
  where c.kind = ${kind} and c.retired_at is null
  order by c.position, c.id, l.at is null, a.position, a.id`;
