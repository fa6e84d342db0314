/** The draft of a handover, and what people write into it. An entry stays open until somebody closes it. */
import { CloseEntry, HandoverEntry, Handovers, NewEntry } from '../../shared/contract/handover.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import type { Transaction } from '../../shared/db/connect.ts';
import { closeEntry, type EntryRow, insertEntry, listEntries, readEntry } from '../../shared/db/handover.ts';
import { whoAsks } from '../access.ts';
import { readAreaRounds, readHandovers } from '../areaRounds.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, impossible, malformed, notFound } from '../errors.ts';
import { presentEntry } from '../handover.ts';
import { iso, parseInstant } from '../instant.ts';
import { newId } from '../secrets.ts';

const tags = ['round'];
const MOST_LISTED = 500;

/** @throws 400 or 422 for a time at which nothing can be due */
const dueOf = (text: string | null | undefined, now: Date): Date | null => {
  if (text == null) return null;
  const ms = parseInstant(text);
  if (ms === null) throw malformed('/dueAt', 'must be a time as in RFC 3339, with Z or an offset');
  if (ms <= now.getTime()) throw impossible('/dueAt', 'lies in the past');
  return new Date(ms);
};

/** @throws 404 for what is not there, 422 where nothing says whose it is */
const areaOf = async (tx: Transaction, { area, chamber }: NewEntry): Promise<string> => {
  if (chamber != null) {
    const [found] = await tx<{ area: string }[]>`
      select area from chambers where id = ${chamber} and retired_at is null`;
    if (!found) throw notFound(`There is no chamber ${chamber}.`);
    if (area !== undefined && area !== found.area)
      throw impossible('/area', `${chamber} stands in ${found.area}; leave the area out`);
    return found.area;
  }
  if (area === undefined) throw impossible('/area', 'name an area or a chamber');
  const found = await tx`select 1 from areas where id = ${area} and retired_at is null`;
  if (found.length === 0) throw notFound(`There is no area ${area}.`);
  return area;
};

const write = async (deps: Deps, { body, by }: { body: NewEntry; by: string }): Promise<HandoverEntry> => {
  const { kind, chamber = null } = body;
  const at = deps.now();
  const text = body.text.trim();
  if (text === '') throw impossible('/text', 'must not be empty');
  const dueAt = dueOf(body.dueAt, at);
  const id = newId('entry');
  const entry = await deps.db.transaction(async (tx) => {
    const area = await areaOf(tx, body);
    await insertEntry(tx, { id, area, kind, chamber, text, dueAt, at, by });
    await audited(tx, { at, by, what: 'handover entry written', detail: { area, id, kind, chamber, text, dueAt } });
    return (await readEntry(tx, id)) as EntryRow;
  });
  return presentEntry(entry);
};

const close = async (deps: Deps, asked: { id: string; note: string | null; by: string }): Promise<HandoverEntry> => {
  const { id, note, by } = asked;
  const at = deps.now();
  const entry = await deps.db.transaction(async (tx) => {
    const free = await closeEntry(tx, { id, at, by, note });
    const row = await readEntry(tx, id);
    if (row === null) throw notFound(`There is no entry ${id}.`);
    if (!free)
      throw conflict(
        `This is closed already: ${row.doneBy ?? 'somebody'} was first, ${row.doneAt ? iso(row.doneAt) : ''}.`,
      );
    await audited(tx, { at, by, what: 'handover entry closed', detail: { area: row.area, id, kind: row.kind, note } });
    return row;
  });
  return presentEntry(entry);
};

export const handoverRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/round/handover',
    {
      schema: {
        summary: 'What would be handed over now, per area: signing the round keeps it as it stands',
        tags,
        querystring: object({ area: Type.Optional(Type.String({ maxLength: 64 })) }),
        response: { 200: Handovers },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { area } = request.query;
      const now = deps.now();
      const areas = await deps.db.atOneInstant(async (tx) => {
        const rounds = await readAreaRounds(tx, { area, unit: 'Pa', now, database: deps.db.sql });
        if (area !== undefined && rounds.length === 0) throw notFound(`There is no area ${area}.`);
        return await readHandovers(tx, rounds, { area, now });
      });
      return { at: iso(now), areas };
    },
  );

  app.get(
    '/api/v1/handover/entries',
    {
      schema: {
        summary: 'Work in progress, promises and watch items: open ones first, then those that are closed',
        tags,
        querystring: object({
          area: Type.Optional(Type.String({ maxLength: 64 })),
          chamber: Type.Optional(Type.String({ maxLength: 64 })),
          open: Type.Optional(Type.Boolean({ description: 'True: open ones only' })),
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_LISTED })),
        }),
        response: { 200: object({ entries: Type.Array(HandoverEntry) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { area, chamber, open = false, limit = MOST_LISTED } = request.query;
      return { entries: (await listEntries(deps.db.sql, { area, chamber, open, limit })).map(presentEntry) };
    },
  );

  app.post(
    '/api/v1/handover/entries',
    {
      schema: {
        summary: 'Write what goes on, was promised or is to be watched; of an area or of a chamber',
        tags,
        body: NewEntry,
        response: { 201: HandoverEntry },
      },
      config: { policy: 'operator' },
    },
    async (request, reply) =>
      reply.code(201).send(await write(deps, { body: request.body, by: whoAsks(request).name })),
  );

  app.post(
    '/api/v1/handover/entries/:id/close',
    {
      schema: {
        summary: 'It is done, or nobody waits for it any more',
        tags,
        params: object({ id: Type.String({ maxLength: 64 }) }),
        body: CloseEntry,
        response: { 200: HandoverEntry },
      },
      config: { policy: 'operator' },
    },
    (request) => {
      const { note } = request.body;
      return close(deps, { id: request.params.id, note: note?.trim() || null, by: whoAsks(request).name });
    },
  );
};
