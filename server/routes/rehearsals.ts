/** Rehearsals: what a changed limit, baseline or rationalisation would have done, before it is saved. */
import { NewRehearsal, Rehearsal } from '../../shared/contract/rehearsal.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import {
  countWaitingRehearsals,
  insertRehearsal,
  listRehearsals,
  readRehearsal,
  readRehearsedTasks,
} from '../../shared/db/rehearsals.ts';
import { insertTask } from '../../shared/db/tasks.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { notFound, ProblemError } from '../errors.ts';
import { judgeRehearsal } from '../newRehearsal.ts';
import { nudgeWithin } from '../nudge.ts';
import { presentRehearsal } from '../presentRehearsal.ts';
import { newId } from '../secrets.ts';

const tags = ['rehearsals'];
/** Chambers that wait: an hour or two of work. */
const MOST_WAITING = 200;
const RETRY_S = 60;

const checkWaiting = async ({ db }: Deps): Promise<void> => {
  const waiting = await countWaitingRehearsals(db.sql);
  if (waiting >= MOST_WAITING)
    throw new ProblemError(429, `Rehearsals of ${waiting} chambers are waiting already.`, {
      retryAfterSeconds: RETRY_S,
    });
};

const askRoute = (app: App, deps: Deps): void => {
  app.post(
    '/api/v1/rehearsals',
    {
      schema: {
        summary: 'Try a change on the last days of a chamber or of a kind: alerts gained, lost and moved',
        description: 'Judged by the live code from what is stored. Nothing is changed by it.',
        tags,
        body: NewRehearsal,
        response: { 202: Rehearsal },
      },
      config: { policy: 'engineer' },
    },
    async (request, reply) => {
      await checkWaiting(deps);
      const { request: judged, places } = await judgeRehearsal(deps, request.body);
      const askedAt = deps.now();
      const { name: askedBy } = whoAsks(request);
      const row = { id: newId('rehearsal'), request: judged, askedAt, askedBy };
      await deps.db.transaction(async (tx) => {
        await insertRehearsal(tx, row);
        for (const { chamber, analyser } of places) {
          const inner = { kind: 'rehearsal', rehearsal: row.id } as const;
          await insertTask(tx, { chamber, analyser, id: newId('task'), request: inner, askedAt, askedBy });
        }
        const detail = { id: row.id, request: judged, chambers: places.map(({ chamber }) => chamber) };
        await audited(tx, { at: askedAt, by: askedBy, what: 'rehearsal asked for', detail });
      });
      await nudgeWithin(
        deps,
        places.map(({ chamber }) => chamber),
      );
      return reply.code(202).send(presentRehearsal(row, await readRehearsedTasks(deps.db.sql, [row.id])));
    },
  );
};

export const rehearsalRoutes = (app: App, deps: Deps): void => {
  const { sql } = deps.db;
  askRoute(app, deps);

  app.get(
    '/api/v1/rehearsals',
    {
      schema: {
        summary: 'Rehearsals, newest first; of one chamber also those of its kind',
        tags,
        querystring: object({ chamber: Type.Optional(Type.String({ maxLength: 64 })) }),
        response: { 200: object({ rehearsals: Type.Array(Rehearsal) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const rows = await listRehearsals(sql, request.query.chamber);
      const tasks = await readRehearsedTasks(
        sql,
        rows.map(({ id }) => id),
      );
      return { rehearsals: rows.map((row) => presentRehearsal(row, tasks)) };
    },
  );

  app.get(
    '/api/v1/rehearsals/:id',
    {
      schema: {
        summary: 'One rehearsal, as far as it has come',
        tags,
        params: object({ id: Type.String({ maxLength: 64 }) }),
        response: { 200: Rehearsal },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { id } = request.params;
      const row = await readRehearsal(sql, id);
      if (row === null) throw notFound(`There is no rehearsal ${id}.`);
      return presentRehearsal(row, await readRehearsedTasks(sql, [id]));
    },
  );
};
