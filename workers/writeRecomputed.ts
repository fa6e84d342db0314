/** Writes a piece of a recomputation together with the place that it has come to. */
import { packEstimates } from '../shared/db/codec.ts';
import type { Workshop } from './analyseChamber.ts';
import type { Recomputed } from './recomputation.ts';
import { TaskOvertakenError, type WaitingTask } from './taskRows.ts';

interface Piece {
  /** In time order, at least one. */
  readonly recomputed: readonly Recomputed[];
  readonly basis: string;
  readonly instrument: Buffer | null;
}

interface Row {
  readonly at: string;
  readonly scanId: string;
  readonly gasList: number;
  readonly estimates: string | null;
  readonly detected: string | null;
  readonly sumPa: number | null;
  readonly floorPa: number | null;
  readonly notes: string;
  readonly calibrationVersion: string;
}

const finite = (value: number | null | undefined): number | null =>
  value == null || !Number.isFinite(value) ? null : value;
// Lists of Buffers travel as text: the driver takes a list for one value of its first member's type.
const hex = (bytes: Buffer | undefined): string | null => (bytes ? `\\x${bytes.toString('hex')}` : null);

const rowOf = ({ scan, analysis, notes, calibrationVersion }: Recomputed, gasList: number): Row => {
  const packed = analysis && analysis.gases.length > 0 ? packEstimates(analysis.gases) : null;
  return {
    at: new Date(scan.atMs).toISOString(),
    scanId: scan.id,
    gasList,
    estimates: hex(packed?.estimates),
    detected: hex(packed?.detected),
    sumPa: finite(analysis?.sumPa),
    floorPa: finite(analysis?.floorPa),
    notes: JSON.stringify(notes),
    calibrationVersion,
  };
};

/** @throws {TaskOvertakenError} when another worker was faster; nothing is written then */
export const writeRecomputed = async (
  { database, gasLists, science }: Workshop,
  task: WaitingTask,
  { recomputed, basis, instrument }: Piece,
): Promise<void> => {
  const rows: Row[] = [];
  for (const one of recomputed)
    rows.push(rowOf(one, await gasLists((one.analysis?.gases ?? []).map(({ gas }) => gas))));
  const last = rows.at(-1);
  if (last === undefined) return;
  await database.transaction(async (tx) => {
    const moved = await tx`
      update tasks set done_to = ${last.at}, done_scan = ${last.scanId}, basis = ${basis}, instrument = ${instrument},
        scans = coalesce(scans, 0) + ${rows.length}
      where chamber = ${task.chamber} and id = ${task.id} and state = 'waiting'
        and done_to is not distinct from ${task.doneTo} and done_scan is not distinct from ${task.doneScan}`;
    if (moved.count !== 1) throw new TaskOvertakenError(task.id);
    await tx`
      insert into recomputed_readings (chamber, task, at, scan_id, gas_list, estimates, detected, sum_pa, floor_pa,
        notes, calibration_version, catalogue_version)
      select ${task.chamber}, ${task.id}, t.*, ${science.catalogueVersion} from unnest(
        ${rows.map((r) => r.at)}::timestamptz[], ${rows.map((r) => r.scanId)}::text[],
        ${rows.map((r) => r.gasList)}::int[], ${rows.map((r) => r.estimates)}::text[]::bytea[],
        ${rows.map((r) => r.detected)}::text[]::bytea[], ${rows.map((r) => r.sumPa)}::float8[],
        ${rows.map((r) => r.floorPa)}::float8[], ${rows.map((r) => r.notes)}::text[]::jsonb[],
        ${rows.map((r) => r.calibrationVersion)}::text[]) as t`;
  });
};
