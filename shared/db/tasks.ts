/** Work that people ask for and workers do. */
import type { Sql } from 'postgres';
import type { ChangeResult, NewTask, TASK_KINDS } from '../contract/calibration.ts';
import type { Transaction } from './connect.ts';

export interface TaskRow {
  readonly chamber: string;
  readonly analyser: string;
  readonly id: string;
  readonly kind: (typeof TASK_KINDS)[number];
  readonly request: NewTask;
  readonly state: 'waiting' | 'done' | 'failed';
  readonly askedAt: Date;
  readonly askedBy: string;
  readonly finishedAt: Date | null;
  /** Why it failed. */
  readonly problem: string | null;
  /** Id of the proposed calibration, for `pattern` and `background`. */
  readonly calibration: string | null;
  /** Scans that were worked through. */
  readonly scans: number | null;
  readonly change: ChangeResult | null;
  /** How far a recomputation has come: time of the last scan that is done. */
  readonly doneTo: Date | null;
}

/** More marked scans add nothing to a mean of fragments, and would hold up the chambers while they are worked on. */
export const MOST_MARKED_SCANS = 500;
/** Some ten minutes of work, and a month of a scan every 13 s: a longer period is recomputed in parts. */
export const MOST_RECOMPUTED_SCANS = 200_000;

const columns = (sql: Sql | Transaction) => sql`
  chamber, analyser, id, kind, request, state, asked_at as "askedAt", asked_by as "askedBy",
  finished_at as "finishedAt", problem, calibration, scans, change, done_to as "doneTo"`;

/** Tasks that a list holds: the newest. */
const MOST_LISTED = 200;

/** The chamber is to be nudged after the commit; a nudge that is lost is made good by the workers' sweep. */
export const insertTask = async (
  tx: Transaction,
  task: Pick<TaskRow, 'chamber' | 'analyser' | 'id' | 'request' | 'askedAt' | 'askedBy'>,
): Promise<TaskRow> => {
  const [row] = await tx<TaskRow[]>`
    insert into tasks (chamber, analyser, id, kind, request, state, asked_at, asked_by)
    values (${task.chamber}, ${task.analyser}, ${task.id}, ${task.request.kind}, ${tx.json(task.request)}, 'waiting',
      ${task.askedAt}, ${task.askedBy})
    returning ${columns(tx)}`;
  return row as TaskRow;
};

/** Of one analyser, newest first. */
export const listTasks = (sql: Sql, analyser: string): Promise<TaskRow[]> => sql<TaskRow[]>`
  select ${columns(sql)} from tasks where analyser = ${analyser} order by asked_at desc, id limit ${MOST_LISTED}`;

export const readTask = async (sql: Sql, id: string): Promise<TaskRow | null> => {
  const [row] = await sql<TaskRow[]>`select ${columns(sql)} from tasks where id = ${id}`;
  return row ?? null;
};
