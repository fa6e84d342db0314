/** What two scans of one analyser say of how each gas has changed. */
import type { Sql } from 'postgres';
import type { Calibration } from '../shared/analysis/types.ts';
import type { NewTask } from '../shared/contract/calibration.ts';
import type { Workshop } from './analyseChamber.ts';
import { readCalibrationHistory } from './calibrationHistory.ts';
import { readScanBeside } from './storedScans.ts';
import { readChamberGases } from './taskContext.ts';
import type { Ending, WaitingTask } from './taskRows.ts';

type Change = Extract<NewTask, { kind: 'change' }>;

const failed = (problem: string): Ending => ({ ok: false, problem });

interface Read {
  readonly chamber: string;
  readonly analyser: string;
  readonly at: Date;
  readonly scanId: string;
  readonly record: Pick<Calibration, 'multiplierGain'>;
}

/** Nearer to the record than float32 can tell: it is the record. */
const SAME_GAIN = 1e-5;

/** The gain that the reading of a scan was worked out with, if it was another than the one on record. */
const readMeasuredGain = async (sql: Sql, { chamber, analyser, at, scanId, record }: Read): Promise<number | null> => {
  const [row] = await sql<{ gain: number | null }[]>`
    select gain from readings
    where chamber = ${chamber} and analyser = ${analyser} and at = ${at} and scan_id = ${scanId}`;
  const gain = row?.gain ?? null;
  const known = record.multiplierGain;
  return gain !== null && known !== null && Math.abs(gain / known - 1) < SAME_GAIN ? null : gain;
};

/**
 * The last scan at or before `before` and the first at or after `after`. Both are read with the calibration of the
 * later one: a change of calibration between them is no change of the gas.
 */
export const workOutChange = async (shop: Workshop, task: WaitingTask, request: Change): Promise<Ending> => {
  const { sql } = shop.database;
  const { chamber, analyser } = task;
  const [before, after, history, gases] = await Promise.all([
    readScanBeside(sql, { chamber, analyser, instant: new Date(request.before), side: 'before' }),
    readScanBeside(sql, { chamber, analyser, instant: new Date(request.after), side: 'after' }),
    readCalibrationHistory(shop, analyser),
    readChamberGases(sql, chamber),
  ]);
  if (history === null) return failed('The fleet does not know this analyser any more.');
  if (before === null) return failed(`There is no scan of ${analyser} at or before ${request.before}.`);
  if (after === null) return failed(`There is no scan of ${analyser} at or after ${request.after}.`);
  if (before.atMs >= after.atMs) return failed('The two instants name one scan, or the later one first.');
  const calibration = history.at(after.atMs);
  const gainOf = (scan: { id: string; atMs: number }) =>
    readMeasuredGain(sql, { chamber, analyser, at: new Date(scan.atMs), scanId: scan.id, record: calibration });
  const gains = { before: await gainOf(before), after: await gainOf(after) };
  const answer = shop.science.marked.change({ before, after, calibration, gains, gases });
  if (!answer.ok) return failed(answer.problem);
  return {
    ok: true,
    scans: 2,
    change: {
      before: new Date(before.atMs).toISOString(),
      after: new Date(after.atMs).toISOString(),
      gases: [...answer.gases],
    },
  };
};
