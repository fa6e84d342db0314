/** Signatures of chambers that an engineer has taken out of service until a date. One that is over counts for nothing. */
import type { Sql } from 'postgres';
import type { Signature } from '../contract/words.ts';
import type { Transaction } from './connect.ts';

export interface ServiceBreak {
  readonly chamber: string;
  readonly signature: Signature;
  readonly until: Date;
  readonly reason: string;
  readonly setAt: Date;
  readonly setBy: string;
}

const columns = (sql: Sql | Transaction) =>
  sql`chamber, signature, until, reason, set_at as "setAt", set_by as "setBy"`;

/** Whether one is over is judged by whoever asks, by the time that he asks for. */
export const readBreaksOf = (sql: Sql | Transaction, chamber: string) => sql<ServiceBreak[]>`
  select ${columns(sql)} from service_breaks where chamber = ${chamber} order by signature`;

/** Those that go on, the next to end first. */
export const listBreaks = (sql: Sql, now: Date) => sql<ServiceBreak[]>`
  select ${columns(sql)} from service_breaks where until > ${now} order by until, chamber, signature`;

/** In place of one that is over. */
export const writeBreak = (tx: Transaction, { chamber, signature, until, reason, setAt, setBy }: ServiceBreak) => tx`
  insert into service_breaks (chamber, signature, until, reason, set_at, set_by)
  values (${chamber}, ${signature}, ${until}, ${reason}, ${setAt}, ${setBy})
  on conflict (chamber, signature) do update set until = excluded.until, reason = excluded.reason,
    set_at = excluded.set_at, set_by = excluded.set_by`;

/** @returns whether there was one that went on */
export const endBreak = async (
  tx: Transaction,
  asked: { chamber: string; signature: Signature; now: Date },
): Promise<boolean> => {
  const ended = await tx<{ until: Date }[]>`
    delete from service_breaks where chamber = ${asked.chamber} and signature = ${asked.signature} returning until`;
  return ended.some(({ until }) => until > asked.now);
};
