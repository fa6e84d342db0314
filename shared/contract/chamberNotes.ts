/** What people note at a moment of a chamber's life: drawn on its trend, told in its log. */
import { Instant, nullable, object, type Static, Type } from './schema.ts';

export const ChamberNote = object({
  id: Type.String(),
  chamber: Type.String(),
  /** The moment that the note is about. */
  at: Instant,
  text: Type.String(),
  madeAt: Instant,
  madeBy: Type.String(),
  /** A note is never changed or deleted; one that was wrong is withdrawn, and stays readable. */
  withdrawnAt: nullable(Instant),
  withdrawnBy: nullable(Type.String()),
});
export type ChamberNote = Static<typeof ChamberNote>;

export const NewChamberNote = object({
  at: Instant,
  text: Type.String({ minLength: 1, maxLength: 2000 }),
});
export type NewChamberNote = Static<typeof NewChamberNote>;
