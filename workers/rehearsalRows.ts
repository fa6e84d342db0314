/** Where a rehearsed chamber has come to, and its one end. */
import type { Transaction } from '../shared/db/connect.ts';
import { packMemory, unpackMemory } from '../shared/db/memory.ts';
import type { RehearsalResult } from '../shared/db/rehearsals.ts';
import type { Workshop } from './analyseChamber.ts';
import { endTask, TaskOvertakenError, type WaitingTask } from './taskRows.ts';

/** What goes on from piece to piece, beside the result: plain JSON. */
export type Carried = Readonly<Record<string, unknown>>;

/** A place after the last row that is done. */
export interface Place {
  readonly at: Date;
  readonly scanId: string;
}

export interface Progress {
  readonly carried: Carried;
  readonly place: Place;
  /** Rows that this piece has worked through. */
  readonly scans: number;
  readonly result: RehearsalResult;
  readonly basis: string;
}

export const carriedOf = <C extends Carried>(task: WaitingTask): C | null =>
  task.instrument === null ? null : (unpackMemory(task.instrument) as C);

export const readResult = async ({ database }: Workshop, task: WaitingTask): Promise<RehearsalResult | null> => {
  const [row] = await database.sql<{ result: RehearsalResult | null }[]>`
    select result from tasks where chamber = ${task.chamber} and id = ${task.id}`;
  return row?.result ?? null;
};

/** @throws {TaskOvertakenError} when another worker was faster; nothing is written then */
export const writeProgress = async (shop: Workshop, task: WaitingTask, progress: Progress): Promise<void> => {
  const { place, basis, carried } = progress;
  const { sql } = shop.database;
  const moved = await sql`
    update tasks set done_to = ${place.at}, done_scan = ${place.scanId}, basis = ${basis},
      instrument = ${packMemory(carried)}, result = ${sql.json(progress.result as never)},
      scans = coalesce(scans, 0) + ${progress.scans}
    where chamber = ${task.chamber} and id = ${task.id} and state = 'waiting'
      and done_to is not distinct from ${task.doneTo} and done_scan is not distinct from ${task.doneScan}`;
  if (moved.count !== 1) throw new TaskOvertakenError(task.id);
};

/** Ends it with what it has come to. @param result null: that which is stored already */
export const endRehearsed = (
  shop: Workshop,
  task: WaitingTask,
  ended: { readonly scans: number; readonly result: RehearsalResult | null },
): Promise<void> =>
  shop.database.transaction(async (tx: Transaction) => {
    await endTask(tx, task, { ok: true, scans: ended.scans });
    if (ended.result)
      await tx`
        update tasks set result = ${tx.json(ended.result as never)} where chamber = ${task.chamber} and id = ${task.id}`;
  });
