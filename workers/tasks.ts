/**
 * What people have asked to be worked out, one task at a time per chamber, in pieces short enough that fresh scans
 * never wait for long: each turn of the chamber does a piece, and the next nudge goes on.
 *
 * A worker that is killed leaves its task waiting, as far as it had come; of two that do the same one writes.
 */
import { isLasting, type Workshop } from './analyseChamber.ts';
import { workOutChange } from './changeTask.ts';
import { checkExamples } from './exampleTask.ts';
import { workOutBackground, workOutPattern } from './markedTasks.ts';
import { workOutPin } from './pinTask.ts';
import { recomputePiece } from './recomputation.ts';
import { rehearsePiece } from './rehearsal.ts';
import { workOutSpectrum } from './spectrumTask.ts';
import { finishTask, nextTask, TaskOvertakenError, type WaitingTask } from './taskRows.ts';

/** A chamber's task makes way after this long. */
const LONGEST_TURN_MS = 250;

const workOn = async (shop: Workshop, task: WaitingTask): Promise<void> => {
  const { request } = task;
  switch (request.kind) {
    case 'pattern':
      return await finishTask(shop.database, task, await workOutPattern(shop, task, request));
    case 'background':
      return await finishTask(shop.database, task, await workOutBackground(shop, task, request));
    case 'change':
      return await finishTask(shop.database, task, await workOutChange(shop, task, request));
    case 'recomputation':
      return await recomputePiece(shop, task, request);
    case 'baseline':
      return await workOutPin(shop, task, request);
    case 'example':
      return await checkExamples(shop, task, request);
    case 'spectrum':
      return await workOutSpectrum(shop, task, request);
    case 'rehearsal':
      return await rehearsePiece(shop, task, request);
  }
};

/** @throws what the database throws when it is away: the task stays as far as it had come */
const workOrFail = async (shop: Workshop, task: WaitingTask): Promise<void> => {
  try {
    await workOn(shop, task);
  } catch (error) {
    if (error instanceof TaskOvertakenError || !isLasting(error)) throw error;
    shop.log.error({ chamber: task.chamber, task: task.id, error }, 'A task has failed');
    const reason = error instanceof Error ? error.message : String(error);
    await finishTask(shop.database, task, { ok: false, problem: `This could not be worked out: ${reason}` });
  }
};

/** @returns true when there may be more to do */
export const workTask = async (shop: Workshop, chamber: string): Promise<boolean> => {
  const turnEnds = performance.now() + LONGEST_TURN_MS;
  while (!shop.stopping()) {
    const task = await nextTask(shop.database.sql, chamber);
    if (task === null) return false;
    try {
      await workOrFail(shop, task);
    } catch (error) {
      // Another worker has it: its nudges go on.
      if (error instanceof TaskOvertakenError) return true;
      throw error;
    }
    if (performance.now() > turnEnds) return true;
  }
  return true;
};
