/** Notes at moments of a chamber's life: what people did or saw, beside what the analyser saw. */
import { ChamberNote, NewChamberNote } from '../../shared/contract/chamberNotes.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import {
  type ChamberNoteRow,
  insertChamberNote,
  listChamberNotes,
  readChamberNote,
  withdrawChamberNote,
} from '../../shared/db/chamberNotes.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, impossible, malformed, notFound } from '../errors.ts';
import { iso, isoOrNull, parseInstant } from '../instant.ts';
import { newId } from '../secrets.ts';
import { readSpan, SpanQuery } from '../span.ts';
import { ChamberParams, checkChamber } from './chambers.ts';

const present = ({ at, madeAt, withdrawnAt, ...row }: ChamberNoteRow): ChamberNote => ({
  ...row,
  at: iso(at),
  madeAt: iso(madeAt),
  withdrawnAt: isoOrNull(withdrawnAt),
});

/** Clocks of browsers run ahead a little; what lies further on has not happened. */
const AHEAD_MS = 5 * 60_000;

const judged = (deps: Deps, body: NewChamberNote): { at: Date; text: string } => {
  const ms = parseInstant(body.at);
  if (ms === null) throw malformed('/at', 'must be a time as in RFC 3339, with Z or an offset');
  if (ms > deps.now().getTime() + AHEAD_MS) throw impossible('/at', 'lies in the future');
  const text = body.text.trim();
  if (text === '') throw impossible('/text', 'must not be empty');
  return { at: new Date(ms), text };
};

const tags = ['chambers'];

export const chamberNoteRoutes = (app: App, deps: Deps): void => {
  const { db } = deps;
  app.get(
    '/api/v1/chambers/:id/notes',
    {
      schema: {
        summary: 'Notes of people in a span of time, newest first, those that were withdrawn too',
        tags,
        params: ChamberParams,
        querystring: object({ ...SpanQuery }),
        response: { 200: object({ notes: Type.Array(ChamberNote) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { id: chamber } = request.params;
      await checkChamber(deps, chamber);
      const rows = await listChamberNotes(db.sql, { chamber, ...readSpan(request.query, deps.now()) });
      return { notes: rows.map(present) };
    },
  );

  app.post(
    '/api/v1/chambers/:id/notes',
    {
      schema: {
        summary: 'Note something at a moment of the chamber’s life',
        tags,
        params: ChamberParams,
        body: NewChamberNote,
        response: { 201: ChamberNote },
      },
      config: { policy: 'operator' },
    },
    async (request, reply) => {
      const { id: chamber } = request.params;
      await checkChamber(deps, chamber);
      const { by } = whoAsks(request);
      const { at, text } = judged(deps, request.body);
      const note = { id: newId('note'), chamber, at, text, madeAt: deps.now(), madeBy: by };
      const row = await db.transaction(async (tx) => {
        await audited(tx, {
          at: note.madeAt,
          by,
          what: 'note made',
          detail: { chamber, id: note.id, at: iso(at), text },
        });
        return insertChamberNote(tx, note);
      });
      return reply.code(201).send(present(row));
    },
  );

  app.post(
    '/api/v1/chambers/:id/notes/:note/withdraw',
    {
      schema: {
        summary: 'Withdraw a note that was wrong; it stays readable, with who withdrew it',
        tags,
        params: object({ ...ChamberParams.properties, note: Type.String({ maxLength: 64 }) }),
        response: { 200: ChamberNote },
      },
      config: { policy: 'operator' },
    },
    async (request) => {
      const { id: chamber, note: id } = request.params;
      const { by } = whoAsks(request);
      const at = deps.now();
      const row = await db.transaction(async (tx) => {
        const withdrawn = await withdrawChamberNote(tx, { id, chamber, at, by });
        if (withdrawn) await audited(tx, { at, by, what: 'note withdrawn', detail: { chamber, id } });
        return withdrawn;
      });
      if (row) return present(row);
      const known = await readChamberNote(db.sql, chamber, id);
      if (known === null) throw notFound(`Chamber ${chamber} has no note ${id}.`);
      throw conflict(`This note was withdrawn by ${known.withdrawnBy} already.`);
    },
  );
};
