/** What two scans of one analyser say of how each gas has changed. */
import type { NewTask } from '../shared/contract/calibration.ts';
import type { Workshop } from './analyseChamber.ts';
import { readCalibrationHistory } from './calibrationHistory.ts';
import { readScanBeside } from './storedScans.ts';
import { readChamberGases } from './taskContext.ts';
import type { Ending, WaitingTask } from './taskRows.ts';

type Change = Extract<NewTask, { kind: 'change' }>;

const failed = (problem: string): Ending => ({ ok: false, problem });

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
  const answer = shop.science.marked.change({ before, after, calibration: history.at(after.atMs), gases });
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
