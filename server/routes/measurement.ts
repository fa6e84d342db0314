/** How well analysers measure: the list, one of them in detail, over time, and where its newest spectrum is not explained. */
import {
  AnalyserMeasurement,
  MeasurementList,
  MeasurementTrend,
  Residuals,
} from '../../shared/contract/measurement.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { calibrationAt, rowsInForce } from '../../shared/db/calibrationInForce.ts';
import { type CalibrationRow, readInForce } from '../../shared/db/calibrations.ts';
import { type MeasurementFacts, readMeasurement, readMeasurements } from '../../shared/db/measurement.ts';
import { whoAsks } from '../access.ts';
import { AnalyserParams, noAnalyser } from '../analysers.ts';
import type { App, Deps } from '../deps.ts';
import { readBeside } from '../measurement/beside.ts';
import { analyserMeasurement } from '../measurement/detail.ts';
import {
  DEFAULT_MULTIPLE,
  GREATEST_MULTIPLE,
  LEAST_MULTIPLE,
  readMultiple,
  writeMultiple,
} from '../measurement/detection.ts';
import { measurementLine } from '../measurement/line.ts';
import { readOverTime } from '../measurement/overTime.ts';
import { residualsOf } from '../measurement/residuals.ts';
import { readSpan, SpanQuery } from '../span.ts';
import { DEFAULT_POINTS, MOST_POINTS } from '../trend.ts';
import { Unit } from './chambers.ts';

const Settings = object({
  detectionMultiple: Type.Number({
    minimum: LEAST_MULTIPLE,
    maximum: GREATEST_MULTIPLE,
    default: DEFAULT_MULTIPLE,
    description: 'Standard deviations of the noise that count as detected, on the answers about the measurement',
  }),
});

const tags = ['measurement'];

const fleetOf = ({
  analyser: id,
  documentVersion: version,
  document,
}: Pick<MeasurementFacts, 'analyser' | 'documentVersion' | 'document'>) => ({ id, version, document });

const list = async (deps: Deps, asked: { area?: string; unit: PressureUnit }) => {
  const { sql } = deps.db;
  const now = deps.now();
  const facts = await readMeasurements(sql, { area: asked.area, at: now });
  const ids = facts.map(({ analyser }) => analyser);
  const [multiple, rows, beside] = await Promise.all([readMultiple(sql), readInForce(sql, ids), readBeside(sql, ids)]);
  const rowsOf = new Map<string, CalibrationRow[]>();
  for (const row of rows) rowsOf.set(row.analyser, [...(rowsOf.get(row.analyser) ?? []), row]);
  const analysers = facts.map((one) =>
    measurementLine({
      facts: one,
      beside: beside.get(one.analyser) ?? null,
      calibration: calibrationAt(fleetOf(one), rowsOf.get(one.analyser) ?? [], now.getTime()),
      multiple,
      unit: asked.unit,
      now,
    }),
  );
  return { unit: asked.unit, detectionMultiple: multiple, analysers };
};

const wholeOf = async (deps: Deps, analyser: string) => {
  const whole = await readMeasurement(deps.db.sql, { analyser, at: deps.now() });
  if (whole === null) throw noAnalyser(analyser);
  return whole;
};

const one = async (deps: Deps, analyser: string, unit: PressureUnit) => {
  const { sql } = deps.db;
  const now = deps.now();
  const whole = await wholeOf(deps, analyser);
  const [multiple, rows, beside] = await Promise.all([
    readMultiple(sql),
    readInForce(sql, [analyser]),
    readBeside(sql, [analyser]),
  ]);
  const calibration = calibrationAt(fleetOf(whole), rows, now.getTime());
  const line = measurementLine({
    facts: whole,
    beside: beside.get(analyser) ?? null,
    calibration,
    multiple,
    unit,
    now,
  });
  const inForce = rowsInForce(rows, now.getTime());
  return analyserMeasurement({ whole, line, calibration, inForce, multiple, unit });
};

const settingsRoutes = (app: App, { db, now }: Deps): void => {
  const route = { tags, response: { 200: Settings } };
  app.get(
    '/api/v1/measurement/settings',
    { schema: { ...route, summary: 'What counts as detected' }, config: { policy: 'viewer' } },
    async () => ({ detectionMultiple: await readMultiple(db.sql) }),
  );
  app.put(
    '/api/v1/measurement/settings',
    { schema: { ...route, summary: 'Change what counts as detected', body: Settings }, config: { policy: 'engineer' } },
    async (request) => {
      const { detectionMultiple } = request.body;
      await writeMultiple(db.sql, { multiple: detectionMultiple, at: now(), by: whoAsks(request).by });
      return { detectionMultiple };
    },
  );
};

export const measurementRoutes = (app: App, deps: Deps): void => {
  const config = { policy: 'viewer' } as const;
  const inUnit = object({ unit: Type.Optional(Unit) });
  settingsRoutes(app, deps);

  app.get(
    '/api/v1/measurement',
    {
      schema: {
        summary: 'How well each analyser measures, with what to look at first',
        tags,
        querystring: object({ ...inUnit.properties, area: Type.Optional(Type.String({ maxLength: 64 })) }),
        response: { 200: MeasurementList },
      },
      config,
    },
    ({ query: { unit = 'Pa', ...asked } }) => list(deps, { ...asked, unit }),
  );

  app.get(
    '/api/v1/analysers/:id/measurement',
    {
      schema: {
        summary: 'Everything about one analyser’s measurement',
        tags,
        params: AnalyserParams,
        querystring: inUnit,
        response: { 200: AnalyserMeasurement },
      },
      config,
    },
    (request) => one(deps, request.params.id, request.query.unit ?? 'Pa'),
  );

  app.get(
    '/api/v1/analysers/:id/measurement/trend',
    {
      schema: {
        summary: 'Floor, noise, kappa, mass scale, width, gain and fit over time; a bucket keeps its extremes',
        tags,
        params: AnalyserParams,
        querystring: object({
          ...inUnit.properties,
          ...SpanQuery,
          points: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_POINTS, default: DEFAULT_POINTS })),
        }),
        response: { 200: MeasurementTrend },
      },
      config,
    },
    (request) => {
      const { unit = 'Pa', points = DEFAULT_POINTS } = request.query;
      const span = readSpan(request.query, deps.now());
      return readOverTime(deps, { analyser: request.params.id, span, points, unit });
    },
  );

  app.get(
    '/api/v1/analysers/:id/residuals',
    {
      schema: {
        summary: 'Peaks of the newest scan, what explains them and what is left',
        tags,
        params: AnalyserParams,
        querystring: inUnit,
        response: { 200: Residuals },
      },
      config,
    },
    async (request) => residualsOf(await wholeOf(deps, request.params.id), request.query.unit ?? 'Pa'),
  );
};
