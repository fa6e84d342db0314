/** The task that a chamber's turn goes on with, and its one end. */
import type { Sql } from 'postgres';
import type { ChangeResult } from '../shared/contract/calibration.ts';
import { type CalibrationRow, insertCalibration } from '../shared/db/calibrations.ts';
import type { Database, Transaction } from '../shared/db/connect.ts';
import { failPin } from '../shared/db/pins.ts';
import type { AnyTaskRow } from '../shared/db/tasks.ts';

export interface WaitingTask
  extends Pick<AnyTaskRow, 'chamber' | 'analyser' | 'id' | 'kind' | 'request' | 'askedBy' | 'doneTo' | 'scans'> {
  /** As far as a recomputation or a rehearsal has come. */
  readonly doneScan: string | null;
  readonly basis: string | null;
  readonly instrument: Buffer | null;
}

/** Short ones first: they take a moment, a rehearsal a minute, and a recomputation may take hours. */
export const nextTask = async (sql: Sql, chamber: string): Promise<WaitingTask | null> => {
  const [row] = await sql<WaitingTask[]>`
    select chamber, analyser, id, kind, request, asked_by as "askedBy", done_to as "doneTo", done_scan as "doneScan",
      basis, instrument, scans
    from tasks where chamber = ${chamber} and state = 'waiting'
    order by kind = 'recomputation', kind = 'rehearsal', asked_at, id limit 1`;
  return row ?? null;
};

/** Proposed to an engineer: nothing that a worker finds puts itself in force. */
export type Proposal = Pick<CalibrationRow, 'id' | 'kind' | 'gas' | 'value' | 'source' | 'note'> &
  Pick<CalibrationRow, 'scansFrom' | 'scansTo' | 'scanCount'>;

export type Ending =
  | {
      readonly ok: true;
      readonly scans: number;
      readonly proposal?: Proposal | undefined;
      readonly change?: ChangeResult | undefined;
    }
  | { readonly ok: false; readonly problem: string };

/** Somebody else has ended the task, or come further with it; nothing was written. */
export class TaskOvertakenError extends Error {
  constructor(task: string) {
    super(`Task ${task} has moved on meanwhile`);
    this.name = 'TaskOvertakenError';
  }
}

const propose = async (tx: Transaction, { chamber, analyser, askedBy }: WaitingTask, proposal: Proposal) => {
  const [clock] = await tx<{ now: Date }[]>`select now() as now`;
  await insertCalibration(tx, {
    ...proposal,
    chamber,
    analyser,
    state: 'proposed',
    validFrom: null,
    validTo: null,
    setAt: clock?.now as Date,
    setBy: askedBy,
    decidedAt: null,
    decidedBy: null,
    decisionNote: null,
  });
};

/**
 * Ends a task inside the transaction that writes its result: whoever comes second finds it ended, and writes nothing.
 * A failed recomputation leaves no readings: half a series would be taken for a whole one.
 * @throws {TaskOvertakenError} when it has been ended, or carried further than was read
 */
export const endTask = async (tx: Transaction, task: WaitingTask, ending: Ending): Promise<void> => {
  const [problem, scans, change] = ending.ok
    ? [null, ending.scans, ending.change ?? null]
    : [ending.problem, null, null];
  const proposal = ending.ok ? ending.proposal : undefined;
  const ended = await tx`
    update tasks set state = ${ending.ok ? 'done' : 'failed'}, finished_at = now(), problem = ${problem},
      scans = coalesce(${scans}, scans), change = ${change === null ? null : tx.json(change)},
      calibration = ${proposal?.id ?? null}, instrument = null
    where chamber = ${task.chamber} and id = ${task.id} and state = 'waiting'
      and done_to is not distinct from ${task.doneTo} and done_scan is not distinct from ${task.doneScan}`;
  if (ended.count !== 1) throw new TaskOvertakenError(task.id);
  if (proposal) await propose(tx, task, proposal);
  if (ending.ok) return;
  if (task.request.kind === 'baseline') await failPin(tx, task.request.pin, ending.problem);
  if (task.kind === 'recomputation')
    await tx`delete from recomputed_readings where chamber = ${task.chamber} and task = ${task.id}`;
};

export const finishTask = (database: Pick<Database, 'transaction'>, task: WaitingTask, ending: Ending): Promise<void> =>
  database.transaction((tx) => endTask(tx, task, ending));
