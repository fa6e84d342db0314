/** One chamber before and after a repair, and one among its sisters. */
import { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import type { Chamber } from '../../shared/contract/fleet.ts';
import { Instant, object, Type, words } from '../../shared/contract/schema.ts';
import { Sisters } from '../../shared/contract/sisters.ts';
import { OPERATING_STATES } from '../../shared/contract/words.ts';
import { beforeAfter } from '../compare/beforeAfter.ts';
import { sisters } from '../compare/sisters.ts';
import type { App, Deps } from '../deps.ts';
import { impossible, notFound } from '../errors.ts';
import { queryInstant } from '../instant.ts';
import type { Span } from '../span.ts';
import { ChamberParams, Unit } from './chambers.ts';

const at = (what: string) => Type.Optional({ ...Instant, description: what });
const id = Type.String({ maxLength: 64 });
const tags = ['measurement'];

interface Known {
  name: string;
  kind: string | null;
  document: Chamber;
}

const chamberOf = async ({ db }: Deps, chamber: string): Promise<Known> => {
  const [row] = await db.sql<Known[]>`select name, kind, document from chambers where id = ${chamber}`;
  if (!row) throw notFound(`There is no chamber ${chamber}.`);
  return row;
};

/** Both ends or neither. @throws 422 */
const spanIn = (side: 'before' | 'after', query: Readonly<Record<string, string | undefined>>): Span | null => {
  const [from, to] = [queryInstant(`${side}From`, query[`${side}From`]), queryInstant(`${side}To`, query[`${side}To`])];
  if (from === null && to === null) return null;
  if (from === null || to === null)
    throw impossible(from === null ? `${side}From` : `${side}To`, 'is missing: a side needs both of its ends');
  if (from >= to) throw impossible(`${side}From`, `must lie before ${side}To`);
  return { from, to };
};

export const beforeAfterRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/chambers/:id/before-after',
    {
      schema: {
        summary: 'One chamber before and after a repair or the start of an alert, gas by gas, and what follows',
        tags,
        params: ChamberParams,
        querystring: object({
          alert: Type.Optional({ ...id, description: 'Default: the newest that can be looked at; empty: none' }),
          analyser: Type.Optional(id),
          afterAnalyser: Type.Optional({ ...id, description: 'Default: the same as before' }),
          beforeFrom: at(
            'Default: the last time of the alert before the chamber was opened; while it stands and nothing was opened since, the last quiet time before it',
          ),
          beforeTo: at('With beforeFrom'),
          afterFrom: at('Default: the newest time in the same state, as long after the vent'),
          afterTo: at('With afterFrom'),
          unit: Type.Optional(Unit),
        }),
        response: { 200: BeforeAfter },
      },
      config: { policy: 'viewer' },
    },
    async ({ params, query }) => {
      const { document } = await chamberOf(deps, params.id);
      const { alert, analyser, afterAnalyser, unit = 'Pa' } = query;
      const [before, after] = [spanIn('before', query), spanIn('after', query)];
      return beforeAfter(deps, { chamber: params.id, alert, analyser, afterAnalyser, before, after, unit }, document);
    },
  );

  app.get(
    '/api/v1/chambers/:id/sisters',
    {
      schema: {
        summary: 'One chamber among those of its kind in the same state: robust z by level and by own drift',
        tags,
        params: ChamberParams,
        querystring: object({
          state: Type.Optional(words(OPERATING_STATES, 'Default: the present one')),
          unit: Type.Optional(Unit),
        }),
        response: { 200: Sisters },
      },
      config: { policy: 'viewer' },
    },
    async ({ params, query: { state, unit = 'Pa' } }) => {
      const { kind } = await chamberOf(deps, params.id);
      return sisters(deps, { chamber: params.id, kind, state, unit });
    },
  );
};
