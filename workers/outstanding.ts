/** What is accepted and not yet analysed for one chamber, oldest first, with all that analysis needs of each scan. */
import type { Sql } from 'postgres';
import type { AnalysisScan } from '../shared/analysis/types.ts';
import { type ScanColumns, scanOf } from './storedScans.ts';

/** Values of one batch, bytes: keeps a batch of wide profiles within a worker's memory. */
const BATCH_BYTES = 16 * 1024 * 1024;

/** A scan that waits for its reading. */
export interface OutstandingScan {
  readonly analyser: string;
  readonly at: Date;
  readonly scanId: string;
  readonly receivedAt: Date;
  /** As reported with this very scan. */
  readonly reportedState: string | null;
  /** The operating state in force just before it, by what is stored; read where the scan itself cannot tell. */
  readonly before: { readonly state: string; readonly since: Date } | null;
  /** The scan, its state still to be settled; null: there is work for it but no scan, which is said in its reading. */
  readonly scan: Omit<AnalysisScan, 'state'> | null;
}

interface Row extends ScanColumns {
  receivedAt: Date;
  found: boolean;
  state: string | null;
  stateBefore: string | null;
  stateBeforeSince: Date | null;
}

const present = (row: Row): OutstandingScan => ({
  analyser: row.analyser,
  at: row.at,
  scanId: row.scanId,
  receivedAt: row.receivedAt,
  reportedState: row.state,
  before: row.stateBefore && row.stateBeforeSince ? { state: row.stateBefore, since: row.stateBeforeSince } : null,
  scan: row.found ? scanOf(row) : null,
});

/** At most `limit` scans of one chamber in time order, fewer where their values would fill the memory. */
export const readOutstanding = async (sql: Sql, chamber: string, limit: number): Promise<OutstandingScan[]> => {
  const rows = await sql<Row[]>`
    with head as (
      select o.analyser, o.at, o.scan_id, o.received_at,
        row_number() over (order by o.at, o.analyser, o.scan_id) as position,
        row_number() over (partition by o.analyser order by o.at, o.scan_id) as position_of_analyser
      from (
        select analyser, at, scan_id, received_at from outstanding_scans where chamber = ${chamber}
        order by chamber, at, analyser, scan_id limit ${limit}
      ) o
    ), sized as (
      select h.*, s.seconds, s.averages, s.masses, s."values", s.unit, s.detector, s.total_pressure_pa, s.state,
        s.temperature_c, s.chamber is not null as found,
        sum(coalesce(octet_length(s."values"), 0)) over (order by h.position) as bytes
      from head h left join scans s
        on s.chamber = ${chamber} and s.analyser = h.analyser and s.at = h.at and s.scan_id = h.scan_id
    )
    select t.analyser, t.at, t.scan_id as "scanId", t.received_at as "receivedAt", t.found, t.seconds, t.averages,
      t.masses, t."values", t.unit, t.detector, t.total_pressure_pa as "totalPressurePa", t.state,
      t.temperature_c as "temperatureC", b.state as "stateBefore", b.at as "stateBeforeSince"
    from sized t left join lateral (
      select c.state, c.at from chamber_states c
      where c.chamber = ${chamber} and c.analyser = t.analyser and c.at <= t.at
      order by c.at desc limit 1
    ) b on t.state is null or t.position_of_analyser = 1
    where t.bytes <= ${BATCH_BYTES} or t.position = 1
    order by t.position`;
  return rows.map(present);
};
