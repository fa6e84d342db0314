/** Rehearsals with their chambers: each chamber is a task, whose `result` holds as much as is worked out. */
import type { Sql } from 'postgres';
import type { NewRehearsal, RehearsedChamber } from '../contract/rehearsal.ts';
import type { Transaction } from './connect.ts';

export interface RehearsalRow {
  readonly id: string;
  readonly request: NewRehearsal;
  readonly askedAt: Date;
  readonly askedBy: string;
}

/** What a worker has made of one chamber so far. */
export type RehearsalResult = Omit<RehearsedChamber, 'chamber' | 'state' | 'problem' | 'scans'>;

export interface RehearsedTask {
  readonly rehearsal: string;
  readonly chamber: string;
  readonly state: 'waiting' | 'done' | 'failed';
  readonly problem: string | null;
  readonly scans: number | null;
  readonly result: RehearsalResult | null;
}

/** Rehearsals that a list holds: the newest. */
const MOST_LISTED = 50;

/** Scans of one chamber that are worked through at once: some minutes of work. */
export const MOST_REHEARSED_SCANS = 200_000;

const columns = (sql: Sql | Transaction) => sql`id, request, asked_at as "askedAt", asked_by as "askedBy"`;

export const insertRehearsal = (tx: Transaction, row: RehearsalRow) => tx`
  insert into rehearsals (id, request, asked_at, asked_by)
  values (${row.id}, ${tx.json(row.request as never)}, ${row.askedAt}, ${row.askedBy})`;

export const readRehearsal = async (sql: Sql, id: string): Promise<RehearsalRow | null> => {
  const [row] = await sql<RehearsalRow[]>`select ${columns(sql)} from rehearsals where id = ${id}`;
  return row ?? null;
};

/** Newest first; of one chamber: also those of its kind that it was part of. */
export const listRehearsals = (sql: Sql, chamber: string | undefined): Promise<RehearsalRow[]> => sql<RehearsalRow[]>`
  select ${columns(sql)} from rehearsals r
  where ${chamber === undefined ? sql`true` : sql`exists (select 1 from tasks t where t.rehearsal = r.id and t.chamber = ${chamber})`}
  order by asked_at desc, id limit ${MOST_LISTED}`;

/** The chambers of these rehearsals, as the fleet lists them. */
export const readRehearsedTasks = (sql: Sql, rehearsals: readonly string[]): Promise<RehearsedTask[]> => sql<
  RehearsedTask[]
>`
  select t.rehearsal, t.chamber, t.state, t.problem, t.scans, t.result
  from tasks t left join chambers c on c.id = t.chamber
  where t.rehearsal = any(${rehearsals as string[]}::text[]) order by c.position, t.chamber`;

/** Chambers of rehearsals that are not done. */
export const countWaitingRehearsals = async (sql: Sql): Promise<number> => {
  const [row] = await sql<{ n: number }[]>`
    select count(*)::int as n from tasks where rehearsal is not null and state = 'waiting'`;
  return row?.n ?? 0;
};
