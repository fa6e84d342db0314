/** What people noted at moments of the span of a ticket. */
import type { ChamberNote } from '../../shared/contract/chamberNotes.ts';
import type { Deps } from '../deps.ts';
import { iso, isoOrNull } from '../instant.ts';
import { localTime } from '../localTime.ts';
import type { Span } from '../span.ts';

interface Row extends Omit<ChamberNote, 'at' | 'madeAt' | 'withdrawnAt'> {
  at: Date;
  madeAt: Date;
  withdrawnAt: Date | null;
}

/** All of them, oldest first; one that was withdrawn too, because somebody may have acted on it. */
export const notesOf = async ({ db }: Deps, chamber: string, { from, to }: Span): Promise<ChamberNote[]> => {
  const rows = await db.sql<Row[]>`
    select id, chamber, at, text, made_at as "madeAt", made_by as "madeBy", withdrawn_at as "withdrawnAt",
      withdrawn_by as "withdrawnBy"
    from chamber_notes where chamber = ${chamber} and at between ${from} and ${to} order by at, id`;
  return rows.map(({ id, text, madeBy, withdrawnBy, ...note }) => ({
    id,
    chamber,
    at: iso(note.at),
    text,
    madeAt: iso(note.madeAt),
    madeBy,
    withdrawnAt: isoOrNull(note.withdrawnAt),
    withdrawnBy,
  }));
};

/** Who made it, and who took it back: with times as on site. */
export const noteLife = ({ madeBy, madeAt, withdrawnBy, withdrawnAt }: ChamberNote, zone: string): string => {
  const made = `${madeBy}, ${localTime(new Date(madeAt), zone)}`;
  return withdrawnAt === null
    ? made
    : `${made}; withdrawn by ${withdrawnBy}, ${localTime(new Date(withdrawnAt), zone)}`;
};
