/** Closed cases kept as examples of their verified cause. A row is never deleted. */
import type { Sql } from 'postgres';
import type { SignatureExample } from '../contract/rehearsal.ts';
import type { Signature } from '../contract/words.ts';
import type { SiteExample } from '../watch/types.ts';
import type { Transaction } from './connect.ts';

/** With what was usual on its masses, N2-equivalent Pa: causes that move everything compete by it. */
export type KeptExample = SiteExample & { readonly usualPa?: readonly number[] };

export interface ExampleRow {
  readonly id: string;
  readonly chamber: string;
  readonly alert: string;
  readonly chamberKind: string | null;
  readonly claimed: Signature;
  readonly verified: Signature;
  readonly example: KeptExample;
  readonly note: string;
  readonly setAt: Date;
  readonly setBy: string;
  readonly withdrawnAt: Date | null;
  readonly withdrawnBy: string | null;
  readonly check: SignatureExample['check'];
}

const columns = (sql: Sql | Transaction) => sql`
  e.id, e.chamber, e.alert, e.chamber_kind as "chamberKind", e.claimed, e.verified, e.example, e.note,
  e.set_at as "setAt", e.set_by as "setBy", e.withdrawn_at as "withdrawnAt", e.withdrawn_by as "withdrawnBy",
  e."check"`;

/** Newest first, withdrawn ones too. */
export const listExamples = (sql: Sql): Promise<ExampleRow[]> => sql<ExampleRow[]>`
  select ${columns(sql)} from signature_examples e order by e.set_at desc, e.id`;

export const readExample = async (sql: Sql | Transaction, id: string): Promise<ExampleRow | null> => {
  const [row] = await sql<ExampleRow[]>`select ${columns(sql)} from signature_examples e where e.id = ${id}`;
  return row ?? null;
};

/**
 * Those that speak together: of chambers of one kind; where a chamber has no kind, its own.
 * As a condition on `signature_examples e`.
 */
const together = (sql: Sql | Transaction, of: { chamber: string; chamberKind: string | null }) =>
  of.chamberKind === null
    ? sql`e.chamber_kind is null and e.chamber = ${of.chamber}`
    : sql`e.chamber_kind = ${of.chamberKind}`;

/** Not withdrawn, in the order in which they were kept. */
export const readExamplesTogether = (
  sql: Sql | Transaction,
  of: { chamber: string; chamberKind: string | null },
): Promise<ExampleRow[]> => sql<ExampleRow[]>`
  select ${columns(sql)} from signature_examples e where ${together(sql, of)} and e.withdrawn_at is null
  order by e.set_at, e.id`;

/** What the watch gets of these. */
export const readExampleContents = (
  sql: Sql,
  ids: readonly string[],
): Promise<{ id: string; example: SiteExample }[]> =>
  sql<{ id: string; example: SiteExample }[]>`
    select id, example from signature_examples where id = any(${ids as string[]}::text[])`;

/**
 * A case that was withdrawn may be kept again; its audit lines tell both.
 * @returns null where it is kept already
 */
export const insertExample = async (
  tx: Transaction,
  row: Omit<ExampleRow, 'withdrawnAt' | 'withdrawnBy' | 'check'>,
): Promise<ExampleRow | null> => {
  const [kept] = await tx<ExampleRow[]>`
    insert into signature_examples as e (id, chamber, alert, chamber_kind, claimed, verified, example, note, set_at,
      set_by)
    values (${row.id}, ${row.chamber}, ${row.alert}, ${row.chamberKind}, ${row.claimed}, ${row.verified},
      ${tx.json(row.example as never)}, ${row.note}, ${row.setAt}, ${row.setBy})
    on conflict (alert) do update set note = excluded.note, set_at = excluded.set_at, set_by = excluded.set_by,
      withdrawn_at = null, withdrawn_by = null, "check" = null
    where e.withdrawn_at is not null
    returning ${columns(tx)}`;
  return kept ?? null;
};

/** @returns false where it is withdrawn already, or not there */
export const withdrawExample = async (
  tx: Transaction,
  asked: { id: string; at: Date; by: string },
): Promise<boolean> => {
  const done = await tx`
    update signature_examples set withdrawn_at = ${asked.at}, withdrawn_by = ${asked.by}
    where id = ${asked.id} and withdrawn_at is null`;
  return done.count === 1;
};

export const writeCheck = (tx: Transaction, id: string, check: NonNullable<ExampleRow['check']>) => tx`
  update signature_examples set "check" = ${tx.json(check)} where id = ${id}`;
