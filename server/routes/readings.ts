/** The newest reading of a chamber, and what is usual there. */
import { LatestReading } from '../../shared/contract/readings.ts';
import { Instant, object, Type, words } from '../../shared/contract/schema.ts';
import { OPERATING_STATES, type OperatingState, type PressureUnit } from '../../shared/contract/words.ts';
import { readLatest } from '../../shared/db/chamberFacts.ts';
import { speaker } from '../chamberLine.ts';
import type { App, Deps } from '../deps.ts';
import { notFound } from '../errors.ts';
import { iso } from '../instant.ts';
import { latestReading, pressure } from '../present.ts';
import { ChamberParams, checkChamber, Unit } from './chambers.ts';

export const Which = object({
  unit: Type.Optional(Unit),
  analyser: Type.Optional(Type.String({ maxLength: 64, description: "Default: the chamber's first that still sends" })),
});

const nothingYet = (chamber: string, analyser: string | undefined) =>
  notFound(`Nothing of ${analyser ?? `chamber ${chamber}`} has been analysed yet.`);

export const latestOf = async (deps: Deps, chamber: string, analyser: string | undefined) => {
  const all = await readLatest(deps.db.sql, [chamber]);
  const latest =
    analyser === undefined ? (all.length > 0 ? speaker(all) : null) : all.find((one) => one.analyser === analyser);
  if (latest) return latest;
  await checkChamber(deps, chamber);
  throw nothingYet(chamber, analyser);
};

const Usual = object({
  median: Type.Number(),
  low: Type.Number(),
  high: Type.Number(),
  scans: Type.Integer(),
  frozen: Type.Boolean(),
});

interface BaselineRow {
  analyser: string;
  state: OperatingState;
  since: Date;
  until: Date;
  gases: Record<string, { medianLog10Pa: number; halfWidthDecades: number; scans: number; frozen: boolean }>;
}

const baselines = async (deps: Deps, chamber: string, unit: PressureUnit) => {
  const rows = await deps.db.sql<BaselineRow[]>`
    select b.analyser, b.state, b.since, b.until, b.gases
    from baselines b join analysers a on a.chamber = b.chamber and a.id = b.analyser
    where b.chamber = ${chamber} order by a.position, b.state`;
  return rows.map((row) => ({
    analyser: row.analyser,
    state: row.state,
    since: iso(row.since),
    until: iso(row.until),
    gases: Object.fromEntries(
      Object.entries(row.gases).flatMap(([gas, { medianLog10Pa, halfWidthDecades, scans, frozen }]) => {
        const at = (decades: number) => pressure(10 ** (medianLog10Pa + decades), unit);
        const [median, low, high] = [at(0), at(-halfWidthDecades), at(halfWidthDecades)];
        return median === null || low === null || high === null ? [] : [[gas, { median, low, high, scans, frozen }]];
      }),
    ),
  }));
};

export const readingRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/chambers/:id/readings/latest',
    {
      schema: {
        summary: 'Partial pressures of the newest scan, each with its 95 % interval',
        tags: ['readings'],
        params: ChamberParams,
        querystring: Which,
        response: { 200: LatestReading },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { unit = 'Pa', analyser } = request.query;
      return latestReading(await latestOf(deps, request.params.id, analyser), unit);
    },
  );

  app.get(
    '/api/v1/chambers/:id/baselines',
    {
      schema: {
        summary: 'What is usual here, per operating state and gas',
        tags: ['readings'],
        params: ChamberParams,
        querystring: object({ unit: Type.Optional(Unit) }),
        response: {
          200: object({
            unit: Unit,
            baselines: Type.Array(
              object({
                analyser: Type.String(),
                state: words(OPERATING_STATES),
                since: Instant,
                until: Instant,
                gases: Type.Record(Type.String(), Usual),
              }),
            ),
          }),
        },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { unit = 'Pa' } = request.query;
      await checkChamber(deps, request.params.id);
      return { unit, baselines: await baselines(deps, request.params.id, unit) };
    },
  );
};
