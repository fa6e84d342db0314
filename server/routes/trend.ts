/** Trends: at most so many buckets per gas, none of which hides its extremes. */
import { Trend } from '../../shared/contract/readings.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import type { App, Deps } from '../deps.ts';
import { readSpan, SpanQuery } from '../span.ts';
import { DEFAULT_POINTS, MOST_POINTS, readTrend, trendTable } from '../trend.ts';
import { ChamberParams, Unit } from './chambers.ts';

const wantsTable = (accept: string | undefined): boolean => {
  const kinds = (accept ?? '').split(',').map((kind) => kind.split(';')[0]?.trim().toLowerCase());
  const table = kinds.indexOf('text/csv');
  const json = kinds.indexOf('application/json');
  return table !== -1 && (json === -1 || table < json);
};

const fileName = ({ recomputation }: Trend): string =>
  recomputation === undefined ? 'trend.csv' : `trend-${recomputation.task}.csv`;

export const trendRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/chambers/:id/trend',
    {
      schema: {
        summary: 'Partial pressures over time; with Accept: text/csv as a table',
        tags: ['readings'],
        params: ChamberParams,
        querystring: object({
          gases: Type.Optional(Type.String({ maxLength: 1000, description: 'Comma-separated' })),
          ...SpanQuery,
          points: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_POINTS, default: DEFAULT_POINTS })),
          unit: Type.Optional(Unit),
          analyser: Type.Optional(
            Type.String({ maxLength: 64, description: "Default: the chamber's first with data" }),
          ),
          recomputation: Type.Optional(
            Type.String({ maxLength: 64, description: 'Id of a task: its series instead of the one that was judged' }),
          ),
        }),
        response: { 200: Trend },
      },
      config: { policy: 'viewer' },
    },
    async (request, reply) => {
      const { gases, points = DEFAULT_POINTS, unit = 'Pa', analyser, recomputation } = request.query;
      const trend = await readTrend(deps, {
        chamber: request.params.id,
        analyser,
        gases,
        span: readSpan(request.query, deps.now()),
        points,
        unit,
        recomputation,
      });
      reply.header('vary', 'Accept');
      if (!wantsTable(request.headers.accept)) return trend;
      reply.type('text/csv; charset=utf-8').header('content-disposition', `inline; filename="${fileName(trend)}"`);
      return trendTable(trend) as never;
    },
  );
};
