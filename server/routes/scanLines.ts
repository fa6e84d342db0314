/** Stored scans of one analyser, for a person who marks a stretch of them. */
import { ScanLine } from '../../shared/contract/measurement.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import { readScanLines } from '../../shared/db/measurement.ts';
import { AnalyserParams, findAnalyser } from '../analysers.ts';
import type { App, Deps } from '../deps.ts';
import { iso } from '../instant.ts';
import { plain, pressure } from '../present.ts';
import { readSpan, SpanQuery } from '../span.ts';
import { Unit } from './chambers.ts';

const DEFAULT_LINES = 200;
const MOST_LINES = 2000;

export const scanLineRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/analysers/:id/scans',
    {
      schema: {
        summary: 'Stored scans of a span, newest first; with more than `limit` the newest',
        tags: ['measurement'],
        params: AnalyserParams,
        querystring: object({
          ...SpanQuery,
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_LINES, default: DEFAULT_LINES })),
          unit: Type.Optional(Unit),
        }),
        response: { 200: object({ unit: Unit, scans: Type.Array(ScanLine) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { limit = DEFAULT_LINES, unit = 'Pa' } = request.query;
      const span = readSpan(request.query, deps.now());
      const { chamber, id: analyser } = await findAnalyser(deps, request.params.id);
      const rows = await readScanLines(deps.db.sql, { chamber, analyser, ...span, limit });
      const scans = rows.map(({ gaugePa, sumPa, ...row }) => ({
        ...row,
        at: iso(row.at),
        seconds: plain(row.seconds) ?? row.seconds,
        gauge: pressure(gaugePa, unit),
        sum: pressure(sumPa, unit),
      }));
      return { unit, scans };
    },
  );
};
