/** How well the alarms do, and how often the watch was right. */
import { Confusion, Performance } from '../../shared/contract/performance.ts';
import { RESPONDERS } from '../../shared/contract/rationalisation.ts';
import { Instant, object, Type, words } from '../../shared/contract/schema.ts';
import { groupOfAlerts } from '../../shared/watch/groups.ts';
import { readSharedCauses } from '../alertGroups.ts';
import type { App, Deps } from '../deps.ts';
import { impossible, notFound } from '../errors.ts';
import { queryInstant } from '../instant.ts';
import { localTime } from '../localTime.ts';
import { confusionOf } from '../performance/confusion.ts';
import { type Asked, readAlerts, readCalls, readWatched } from '../performance/facts.ts';
import { performanceOf } from '../performance/performance.ts';
import { SpanQuery } from '../span.ts';

/** As the standards ask for. */
const USUAL_DAYS = 30;
const MOST_DAYS = 400;
const DAY_MS = 86_400_000;

const spanOf = (query: { from?: string; to?: string }, now: Date): { from: Date; to: Date } => {
  const to = queryInstant('to', query.to) ?? now;
  const from = queryInstant('from', query.from) ?? new Date(to.getTime() - USUAL_DAYS * DAY_MS);
  if (from >= to) throw impossible('from', 'must lie before to');
  if (to.getTime() - from.getTime() > MOST_DAYS * DAY_MS)
    throw impossible('from', `must lie at most ${MOST_DAYS} days before to`);
  return { from, to };
};

/** @throws 404 for an area that is not there */
const zoneOf = async ({ db }: Deps, area: string | null): Promise<string> => {
  const rows = await db.sql<{ id: string; zone: string }[]>`
    select id, time_zone as zone from areas where ${area === null ? db.sql`retired_at is null` : db.sql`id = ${area}`}
    order by position, id limit 1`;
  if (area !== null && rows.length === 0) throw notFound(`There is no area ${area}.`);
  return rows[0]?.zone ?? 'UTC';
};

const Query = {
  area: Type.Optional(Type.String({ maxLength: 64 })),
  responder: Type.Optional(words(RESPONDERS, 'Only alerts that ask for this role')),
  from: Type.Optional({ ...Instant, description: `RFC 3339; default: ${USUAL_DAYS} days before \`to\`` }),
  to: SpanQuery.to,
};
const tags = ['performance'];

export const performanceRoutes = (app: App, deps: Deps): void => {
  const { sql } = deps.db;
  app.get(
    '/api/v1/performance',
    {
      schema: {
        summary: 'The alarms by the measures of ISA-18.2 / IEC 62682, with their targets',
        tags,
        querystring: object(Query),
        response: { 200: Performance },
      },
      config: { policy: 'viewer' },
    },
    async ({ query }) => {
      const now = deps.now();
      const asked: Asked = { ...spanOf(query, now), area: query.area ?? null, responder: query.responder ?? null };
      const zone = await zoneOf(deps, asked.area);
      const [alerts, calls, watched, shared] = await Promise.all([
        readAlerts(sql, asked),
        readCalls(sql, asked),
        readWatched(sql, asked),
        readSharedCauses(sql, asked),
      ]);
      const groupOf = groupOfAlerts(shared);
      const dayOf = (atMs: number) => localTime(new Date(atMs), zone).slice(0, 10);
      return performanceOf({ asked, now, alerts, calls, watched, groupOf, dayOf });
    },
  );

  app.get(
    '/api/v1/performance/confusion',
    {
      schema: {
        summary: 'What was claimed against what was found, over closed alerts with a verified cause',
        tags,
        querystring: object({ area: Query.area, from: Query.from, to: Query.to }),
        response: { 200: Confusion },
      },
      config: { policy: 'viewer' },
    },
    async ({ query }) => {
      const span = spanOf(query, deps.now());
      const area = query.area ?? null;
      await zoneOf(deps, area);
      return confusionOf(await readAlerts(sql, { ...span, area, responder: null }), span);
    },
  );
};
