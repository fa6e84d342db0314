/**
 * What is known of chambers just now, for lists and rounds: a handful of questions for all of them together, however
 * many there are.
 */
import type { Sql } from 'postgres';
import type { Note } from '../contract/readings.ts';
import type { OperatingState, Priority, Signature } from '../contract/words.ts';
import type { StoredPumpDown } from '../watch/coursesView.ts';
import { unpackEstimates } from './codec.ts';
import type { StoredSpectrum, StoredStripMark } from './tables.ts';

export interface LatestFacts {
  readonly chamber: string;
  readonly analyser: string;
  readonly at: Date;
  readonly state: OperatingState;
  readonly stateSince: Date;
  readonly scanPeriodSeconds: number | null;
  /** Empty: the scan gave no answer, see `notes`. */
  readonly gases: ReturnType<typeof unpackEstimates>;
  readonly gaugePa: number | null;
  readonly sumPa: number | null;
  readonly floorPa: number | null;
  readonly decades: number | null;
  readonly unexplained: number | null;
  readonly kappa: number | null;
  readonly notes: readonly Note[];
  readonly strip: readonly StoredStripMark[];
  readonly learning: { readonly have: number; readonly need: number } | null;
  readonly pumpDown: StoredPumpDown | null;
  /** What is usual in this state has been learned since then, for less than two days so far; null: for longer. */
  readonly youngSince: Date | null;
}

export interface OpenAlertFacts {
  readonly chamber: string;
  readonly id: string;
  readonly signature: Signature;
  readonly gases: readonly string[];
  readonly priority: Priority;
  readonly state: string;
  readonly raisedAt: Date;
  readonly active: boolean;
  /** Analysers whose watch holds the condition as standing. */
  readonly heldBy: readonly string[];
  readonly shelvedUntil: Date | null;
  readonly outOfServiceUntil: Date | null;
  /** Why it is put away, by the hold that names its state. */
  readonly putAwayReason: string | null;
  readonly summary: string;
  readonly firstStep: string | null;
  readonly acknowledgedAt: Date | null;
  readonly acknowledgedBy: string | null;
}

export interface ChamberFacts {
  readonly id: string;
  readonly name: string;
  readonly area: string;
  readonly kind: string | null;
  readonly tags: readonly string[];
  readonly retired: boolean;
  /** Not retired, in the order of the document. */
  readonly analysers: readonly string[];
  readonly latest: readonly LatestFacts[];
  readonly openAlerts: readonly OpenAlertFacts[];
  /** When the condition of the newest alert that is over had gone; where nobody saw it go, when it was closed. */
  readonly lastEndedAt: Date | null;
}

interface ChamberRow {
  id: string;
  name: string;
  area: string;
  kind: string | null;
  tags: string[];
  retired: boolean;
}

/** One chamber (also a retired one), those of one area, or all that are watched. */
export type Which = { chamber: string } | { area: string } | { all: true };

const readChambers = (sql: Sql, which: Which) => sql<ChamberRow[]>`
  select c.id, c.name, c.area, c.kind, c.retired_at is not null as retired,
    array(select jsonb_array_elements_text(coalesce(c.document -> 'tags', '[]'))) as tags
  from chambers c left join areas a on a.id = c.area
  where ${'chamber' in which ? sql`c.id = ${which.chamber}` : sql`c.retired_at is null`}
    ${'area' in which ? sql`and c.area = ${which.area}` : sql``}
  order by a.position, c.position, c.id`;

type LatestRow = Omit<LatestFacts, 'gases'> & {
  gasNames: string[];
  estimates: Buffer | null;
  detected: Buffer | null;
};

export const readLatest = async (sql: Sql, chambers: readonly string[]): Promise<LatestFacts[]> => {
  const rows = await sql<LatestRow[]>`
    select l.chamber, l.analyser, l.at, l.state, l.state_since as "stateSince",
      l.scan_period_seconds as "scanPeriodSeconds", g.gases as "gasNames", l.estimates, l.detected,
      l.gauge_pa as "gaugePa", l.sum_pa as "sumPa", l.floor_pa as "floorPa", l.decades, l.unexplained, l.kappa,
      l.notes, l.strip, l.learning, l.courses -> 'pumpDown' as "pumpDown",
      case when b.until - b.since < interval '2 days' then b.since end as "youngSince"
    from latest l
    join analysers a on a.chamber = l.chamber and a.id = l.analyser
    left join gas_lists g on g.id = l.gas_list
    left join baselines b on b.chamber = l.chamber and b.analyser = l.analyser and b.state = l.state
    where l.chamber = any(${chambers as string[]}::text[])
    order by l.chamber, a.retired_at is not null, a.position`;
  return rows.map(({ gasNames, estimates, detected, ...row }) => ({
    ...row,
    gases: unpackEstimates(gasNames ?? [], estimates, detected),
  }));
};

const readOpenAlerts = (sql: Sql, chambers: readonly string[]) => sql<OpenAlertFacts[]>`
  select chamber, id, signature, gases, priority, state, raised_at as "raisedAt", active, held_by as "heldBy",
    shelved_until as "shelvedUntil", out_of_service_until as "outOfServiceUntil",
    case state when 'out-of-service' then out_of_service_reason when 'suppressed' then suppressed_reason
      when 'shelved' then shelved_reason end as "putAwayReason",
    finding ->> 'summary' as summary, finding ->> 'firstStep' as "firstStep", acknowledged_at as "acknowledgedAt",
    acknowledged_by as "acknowledgedBy"
  from alerts where state <> 'normal' and chamber = any(${chambers as string[]}::text[])
  order by chamber, raised_at desc, id`;

const readAnalysers = (sql: Sql, chambers: readonly string[]) => sql<{ chamber: string; id: string }[]>`
  select chamber, id from analysers where retired_at is null and chamber = any(${chambers as string[]}::text[])
  order by position, id`;

const readEnds = (sql: Sql, chambers: readonly string[]) => sql<{ chamber: string; at: Date | null }[]>`
  select chamber, max(coalesce(returned_at, closed_at)) as at from alerts
  where state = 'normal' and chamber = any(${chambers as string[]}::text[]) group by chamber`;

const grouped = <T extends { chamber: string }>(rows: readonly T[]): ((chamber: string) => T[]) => {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(row.chamber);
    if (group) group.push(row);
    else groups.set(row.chamber, [row]);
  }
  return (chamber) => groups.get(chamber) ?? [];
};

export const readChamberFacts = async (sql: Sql, which: Which): Promise<ChamberFacts[]> => {
  const chambers = await readChambers(sql, which);
  const ids = chambers.map(({ id }) => id);
  const [analysers, latest, openAlerts, ends] = await Promise.all([
    readAnalysers(sql, ids),
    readLatest(sql, ids),
    readOpenAlerts(sql, ids),
    readEnds(sql, ids),
  ]);
  const [analysersOf, latestOf, alertsOf, endsOf] = [
    grouped(analysers),
    grouped(latest),
    grouped(openAlerts),
    grouped(ends),
  ];
  return chambers.map((chamber) => ({
    ...chamber,
    analysers: analysersOf(chamber.id).map(({ id }) => id),
    latest: latestOf(chamber.id),
    openAlerts: alertsOf(chamber.id),
    lastEndedAt: endsOf(chamber.id)[0]?.at ?? null,
  }));
};

export interface SpectrumFacts {
  readonly analyser: string;
  readonly at: Date;
  readonly floorPa: number | null;
  readonly spectrum: StoredSpectrum | null;
}

/** Newest spectrum of each analyser of a chamber, those of the fleet first. */
export const readSpectra = (sql: Sql, chamber: string) => sql<SpectrumFacts[]>`
  select l.analyser, l.at, l.floor_pa as "floorPa", l.spectrum
  from latest l join analysers a on a.chamber = l.chamber and a.id = l.analyser
  where l.chamber = ${chamber} order by a.retired_at is not null, a.position`;
