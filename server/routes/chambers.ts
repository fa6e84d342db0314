/** Chambers: the list, one of them in detail, and what it was doing when. */
import { PumpDown } from '../../shared/contract/courses.ts';
import { Chamber } from '../../shared/contract/fleet.ts';
import { ChamberLine, Note } from '../../shared/contract/readings.ts';
import { Instant, nullable, object, Type, words } from '../../shared/contract/schema.ts';
import {
  OPERATING_STATES,
  type OperatingState,
  PRESSURE_UNITS,
  type PressureUnit,
} from '../../shared/contract/words.ts';
import { type ChamberFacts, readChamberFacts } from '../../shared/db/chamberFacts.ts';
import { readLastRounds } from '../../shared/db/rounds.ts';
import { byAttention, chamberLine, speaker } from '../chamberLine.ts';
import { presentPumpDown } from '../courses.ts';
import type { App, Deps } from '../deps.ts';
import { notFound } from '../errors.ts';
import { iso, isoOrNull } from '../instant.ts';
import { plain, pressure } from '../present.ts';
import { readSpan, SpanQuery } from '../span.ts';

export const ChamberParams = object({ id: Type.String({ maxLength: 64 }) });
export const Unit = words(PRESSURE_UNITS, 'Default Pa');

const AnalyserDetail = object({
  id: Type.String(),
  principle: words(['quadrupole', 'ion trap'] as const),
  massRange: nullable(Type.Array(Type.Number())),
  version: Type.Integer(),
  retired: Type.Boolean(),
  lastScanAt: nullable(Instant),
  kappa: nullable(Type.Number({ description: 'Gauge over the sum of partial pressures in gauge terms' })),
  floor: nullable(Type.Number()),
  decades: nullable(Type.Number()),
  notes: Type.Array(Note),
});
export const ChamberDetail = object({
  ...ChamberLine.properties,
  retired: Type.Boolean(),
  volumeLitres: nullable(Type.Number()),
  pumpingSpeedLitresPerSecond: Type.Record(Type.String(), Type.Number()),
  analysersDetail: Type.Array(AnalyserDetail),
  document: Chamber,
  /** Null: none is going on. */
  pumpDown: nullable(PumpDown),
});

export const checkChamber = async ({ db }: Deps, id: string): Promise<void> => {
  const [row] = await db.sql`select 1 from chambers where id = ${id}`;
  if (!row) throw notFound(`There is no chamber ${id}.`);
};

interface AnalyserRow {
  id: string;
  version: number;
  retired: boolean;
  document: { principle?: 'quadrupole' | 'ion trap'; massRange?: number[] };
}

/** As the analyser that speaks for the chamber sees it. */
const pumpDownOf = ({ latest, analysers }: ChamberFacts, unit: PressureUnit): PumpDown | null => {
  const run = speaker(latest.filter(({ analyser }) => analysers.includes(analyser)))?.pumpDown ?? null;
  return run && presentPumpDown(run, unit);
};

const detail = async (deps: Deps, id: string, unit: PressureUnit) => {
  const { sql } = deps.db;
  const [facts, rounds, analysers, documents] = await Promise.all([
    readChamberFacts(sql, { chamber: id }),
    readLastRounds(sql),
    sql<AnalyserRow[]>`
      select id, version, retired_at is not null as retired, document from analysers
      where chamber = ${id} order by retired_at is not null, position, id`,
    sql<{ document: Chamber }[]>`select document from chambers where id = ${id}`,
  ]);
  const [one] = facts;
  const document = documents[0]?.document;
  if (!one || !document) throw notFound(`There is no chamber ${id}.`);
  const line = chamberLine(one, { unit, now: deps.now(), seen: rounds.get(one.area)?.seen.get(id) ?? null });
  return {
    ...line,
    retired: one.retired,
    volumeLitres: document.volumeLitres ?? null,
    pumpingSpeedLitresPerSecond: document.pumpingSpeedLitresPerSecond ?? {},
    analysersDetail: analysers.map((analyser) => {
      const latest = one.latest.find((each) => each.analyser === analyser.id);
      return {
        id: analyser.id,
        principle: analyser.document.principle ?? ('quadrupole' as const),
        massRange: analyser.document.massRange ?? null,
        version: analyser.version,
        retired: analyser.retired,
        lastScanAt: isoOrNull(latest?.at ?? null),
        kappa: plain(latest?.kappa),
        floor: pressure(latest?.floorPa, unit),
        decades: plain(latest?.decades),
        notes: [...(latest?.notes ?? [])],
      };
    }),
    document,
    pumpDown: pumpDownOf(one, unit),
  };
};

interface StateRow {
  at: Date;
  state: OperatingState;
}

/** The states of the analyser that reports them, from the one that held when the span began. */
const states = async (deps: Deps, chamber: string, span: { from: Date; to: Date }) => {
  const rows = await deps.db.sql<StateRow[]>`
    select at, state from chamber_states
    where chamber = ${chamber} and at <= ${span.to} and at >= coalesce(
      (select max(at) from chamber_states where chamber = ${chamber} and at <= ${span.from}), ${span.from})
    order by at, analyser`;
  // Two analysers of one chamber report the same change twice.
  const changes = rows.filter((row, i) => row.state !== rows[i - 1]?.state);
  return changes.map((row, i) => ({
    from: iso(row.at),
    to: isoOrNull(changes[i + 1]?.at ?? null),
    state: row.state,
  }));
};

export const chamberRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/chambers',
    {
      schema: {
        summary: 'Every chamber in a line; sort=attention puts what needs a person first',
        tags: ['chambers'],
        querystring: object({
          sort: Type.Optional(words(['attention', 'fleet'] as const)),
          area: Type.Optional(Type.String({ maxLength: 64 })),
          unit: Type.Optional(Unit),
        }),
        response: { 200: object({ chambers: Type.Array(ChamberLine) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { sort, area, unit = 'Pa' } = request.query;
      const [facts, rounds] = await Promise.all([
        readChamberFacts(deps.db.sql, area === undefined ? { all: true } : { area }),
        readLastRounds(deps.db.sql),
      ]);
      const now = deps.now();
      const lines = facts.map((one) =>
        chamberLine(one, { unit, now, seen: rounds.get(one.area)?.seen.get(one.id) ?? null }),
      );
      return { chambers: sort === 'attention' ? lines.sort(byAttention) : lines };
    },
  );

  app.get(
    '/api/v1/chambers/:id',
    {
      schema: {
        summary: 'One chamber in detail; a retired one too',
        tags: ['chambers'],
        params: ChamberParams,
        querystring: object({ unit: Type.Optional(Unit) }),
        response: { 200: ChamberDetail },
      },
      config: { policy: 'viewer' },
    },
    (request) => detail(deps, request.params.id, request.query.unit ?? 'Pa'),
  );

  app.get(
    '/api/v1/chambers/:id/states',
    {
      schema: {
        summary: 'Operating states in a span of time',
        tags: ['chambers'],
        params: ChamberParams,
        querystring: object({ ...SpanQuery }),
        response: {
          200: object({
            spans: Type.Array(object({ from: Instant, to: nullable(Instant), state: words(OPERATING_STATES) })),
          }),
        },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      await checkChamber(deps, request.params.id);
      return { spans: await states(deps, request.params.id, readSpan(request.query, deps.now())) };
    },
  );
};
