/** Notes of people at moments of a chamber's life. */
import type { Sql } from 'postgres';
import type { Transaction } from './connect.ts';

export interface ChamberNoteRow {
  readonly id: string;
  readonly chamber: string;
  readonly at: Date;
  readonly text: string;
  readonly madeAt: Date;
  readonly madeBy: string;
  readonly withdrawnAt: Date | null;
  readonly withdrawnBy: string | null;
}

const columns = (sql: Sql | Transaction) => sql`
  id, chamber, at, text, made_at as "madeAt", made_by as "madeBy", withdrawn_at as "withdrawnAt",
  withdrawn_by as "withdrawnBy"`;

/** A page shows no more: of more, the newest. */
const MOST_LISTED = 500;

/** Of a span, newest first. */
export const listChamberNotes = (
  sql: Sql,
  { chamber, from, to }: { chamber: string; from: Date; to: Date },
): Promise<ChamberNoteRow[]> => sql<ChamberNoteRow[]>`
  select ${columns(sql)} from chamber_notes where chamber = ${chamber} and at between ${from} and ${to}
  order by at desc, id limit ${MOST_LISTED}`;

export const insertChamberNote = async (
  tx: Transaction,
  note: Omit<ChamberNoteRow, 'withdrawnAt' | 'withdrawnBy'>,
): Promise<ChamberNoteRow> => {
  const [row] = await tx<ChamberNoteRow[]>`
    insert into chamber_notes (id, chamber, at, text, made_at, made_by)
    values (${note.id}, ${note.chamber}, ${note.at}, ${note.text}, ${note.madeAt}, ${note.madeBy})
    returning ${columns(tx)}`;
  return row as ChamberNoteRow;
};

/** @returns null where there is none that still stands */
export const withdrawChamberNote = async (
  tx: Transaction,
  { id, chamber, at, by }: { id: string; chamber: string; at: Date; by: string },
): Promise<ChamberNoteRow | null> => {
  const [row] = await tx<ChamberNoteRow[]>`
    update chamber_notes set withdrawn_at = ${at}, withdrawn_by = ${by}
    where id = ${id} and chamber = ${chamber} and withdrawn_at is null returning ${columns(tx)}`;
  return row ?? null;
};

export const readChamberNote = async (sql: Sql, chamber: string, id: string): Promise<ChamberNoteRow | null> => {
  const [row] = await sql<ChamberNoteRow[]>`
    select ${columns(sql)} from chamber_notes where id = ${id} and chamber = ${chamber}`;
  return row ?? null;
};
