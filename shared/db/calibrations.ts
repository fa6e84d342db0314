/** Calibrations as people set and decide them: rows that lie over the fleet document. A row is never deleted. */
import type { Sql } from 'postgres';
import type {
  CALIBRATION_STATES,
  CalibrationKind,
  CalibrationSource,
  CalibrationValue,
} from '../contract/calibration.ts';
import type { Transaction } from './connect.ts';

export type CalibrationState = (typeof CALIBRATION_STATES)[number];

export interface CalibrationRow {
  readonly chamber: string;
  readonly analyser: string;
  readonly id: string;
  readonly kind: CalibrationKind;
  /** For a pattern. */
  readonly gas: string | null;
  readonly value: CalibrationValue;
  readonly source: CalibrationSource;
  readonly note: string;
  readonly state: CalibrationState;
  /** Scans from this time on use it; null while it is proposed. */
  readonly validFrom: Date | null;
  /** First instant that no longer uses it; null: it has no end of its own. */
  readonly validTo: Date | null;
  readonly setAt: Date;
  readonly setBy: string;
  readonly decidedAt: Date | null;
  readonly decidedBy: string | null;
  readonly decisionNote: string | null;
  /** The marked scans that it was worked out from. */
  readonly scansFrom: Date | null;
  readonly scansTo: Date | null;
  readonly scanCount: number | null;
}

const columns = (sql: Sql | Transaction) => sql`
  chamber, analyser, id, kind, gas, value, source, note, state, valid_from as "validFrom", valid_to as "validTo",
  set_at as "setAt", set_by as "setBy", decided_at as "decidedAt", decided_by as "decidedBy",
  decision_note as "decisionNote", scans_from as "scansFrom", scans_to as "scansTo", scan_count as "scanCount"`;

/** All of one analyser, newest first. */
export const listCalibrations = (sql: Sql, analyser: string): Promise<CalibrationRow[]> => sql<CalibrationRow[]>`
  select ${columns(sql)} from calibrations where analyser = ${analyser} order by set_at desc, id`;

export const readCalibration = async (sql: Sql, id: string): Promise<CalibrationRow | null> => {
  const [row] = await sql<CalibrationRow[]>`select ${columns(sql)} from calibrations where id = ${id}`;
  return row ?? null;
};

/** Those in force of these analysers, whenever they hold: what `calibrationFor` chooses from. */
export const readInForce = (sql: Sql, analysers: readonly string[]): Promise<CalibrationRow[]> => sql<CalibrationRow[]>`
  select ${columns(sql)} from calibrations
  where analyser = any(${analysers as string[]}::text[]) and state = 'in-force' order by analyser, valid_from, id`;

export const insertCalibration = async (tx: Transaction, row: CalibrationRow): Promise<void> => {
  await tx`
    insert into calibrations (chamber, analyser, id, kind, gas, value, source, note, state, valid_from, valid_to, set_at,
      set_by, decided_at, decided_by, decision_note, scans_from, scans_to, scan_count)
    values (${row.chamber}, ${row.analyser}, ${row.id}, ${row.kind}, ${row.gas}, ${tx.json(row.value as never)},
      ${row.source}, ${row.note}, ${row.state}, ${row.validFrom}, ${row.validTo}, ${row.setAt}, ${row.setBy},
      ${row.decidedAt}, ${row.decidedBy}, ${row.decisionNote}, ${row.scansFrom}, ${row.scansTo}, ${row.scanCount})`;
};

export type Decision = { readonly id: string; readonly analyser: string; readonly at: Date; readonly by: string } & (
  | { readonly state: 'in-force'; readonly validFrom: Date; readonly validTo: Date | null; readonly note: string }
  | { readonly state: 'withdrawn'; readonly note: string }
);

/** From which states a decision may be taken: what was withdrawn stays so, and a new row says more. */
const BEFORE = { 'in-force': ['proposed'], withdrawn: ['proposed', 'in-force'] };

/**
 * Takes a decision where the state still allows it. A withdrawn row keeps its span: readings of that time name it.
 * @returns the row as decided; `refused`, the row as it stands, where somebody was first; null: the analyser has none
 */
export const decideCalibration = async (
  tx: Transaction,
  asked: Decision,
): Promise<CalibrationRow | { readonly refused: CalibrationRow } | null> => {
  const span = asked.state === 'in-force' ? tx`, valid_from = ${asked.validFrom}, valid_to = ${asked.validTo}` : tx``;
  const [decided] = await tx<CalibrationRow[]>`
    update calibrations set state = ${asked.state}, decided_at = ${asked.at}, decided_by = ${asked.by},
      decision_note = ${asked.note} ${span}
    where id = ${asked.id} and analyser = ${asked.analyser} and state = any(${BEFORE[asked.state]}::text[])
    returning ${columns(tx)}`;
  if (decided) return decided;
  const [stands] = await tx<CalibrationRow[]>`
    select ${columns(tx)} from calibrations where id = ${asked.id} and analyser = ${asked.analyser}`;
  return stands ? { refused: stands } : null;
};
