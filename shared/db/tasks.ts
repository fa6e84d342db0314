/** Work that people ask for and workers do. */
import type { Sql } from 'postgres';
import { type ChangeResult, type InnerTask, type NewTask, TASK_KINDS } from '../contract/calibration.ts';
import type { Transaction } from './connect.ts';

interface RowOf<Request extends NewTask | InnerTask> {
  readonly chamber: string;
  readonly analyser: string;
  readonly id: string;
  readonly kind: Request['kind'];
  readonly request: Request;
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
  /** How far a long one has come: time of the last scan that is done. */
  readonly doneTo: Date | null;
}

/** As people ask for it of one analyser. */
export type TaskRow = RowOf<NewTask>;
/** With those that other requests bring about: they are shown where they belong, not in the list of tasks. */
export type AnyTaskRow = RowOf<NewTask | InnerTask>;

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
export const insertTask = async <Request extends NewTask | InnerTask>(
  tx: Transaction,
  task: Pick<RowOf<Request>, 'chamber' | 'analyser' | 'id' | 'request' | 'askedAt' | 'askedBy'>,
): Promise<RowOf<Request>> => {
  const { request } = task;
  const rehearsal = request.kind === 'rehearsal' ? request.rehearsal : null;
  const [row] = await tx<RowOf<Request>[]>`
    insert into tasks (chamber, analyser, id, kind, request, state, asked_at, asked_by, rehearsal)
    values (${task.chamber}, ${task.analyser}, ${task.id}, ${request.kind}, ${tx.json(request as never)}, 'waiting',
      ${task.askedAt}, ${task.askedBy}, ${rehearsal})
    returning ${columns(tx)}`;
  return row as RowOf<Request>;
};

const asked = (sql: Sql) => sql`kind = any(${[...TASK_KINDS]}::text[])`;

/** Of one analyser, newest first. */
export const listTasks = (sql: Sql, analyser: string): Promise<TaskRow[]> => sql<TaskRow[]>`
  select ${columns(sql)} from tasks where analyser = ${analyser} and ${asked(sql)}
  order by asked_at desc, id limit ${MOST_LISTED}`;

export const readTask = async (sql: Sql, id: string): Promise<TaskRow | null> => {
  const [row] = await sql<TaskRow[]>`select ${columns(sql)} from tasks where id = ${id} and ${asked(sql)}`;
  return row ?? null;
};

/** Those of one analyser that wait. */
export const countWaiting = async (sql: Sql, analyser: string): Promise<number> => {
  const [row] = await sql<{ n: number }[]>`
    select count(*)::int as n from tasks where analyser = ${analyser} and state = 'waiting' and ${asked(sql)}`;
  return row?.n ?? 0;
};
