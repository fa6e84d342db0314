/** How long to average until a pressure of a gas can be seen on this analyser. */
import { resolveGas } from '../../shared/catalogue/select.ts';
import { Plan } from '../../shared/contract/plan.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { calibrationAt } from '../../shared/db/calibrationInForce.ts';
import { readInForce } from '../../shared/db/calibrations.ts';
import { readMeasurement, type WholeMeasurement } from '../../shared/db/measurement.ts';
import { plan } from '../../shared/measurement/planner.ts';
import { sayPressure } from '../../shared/measurement/say.ts';
import { fromPascal, toPascal } from '../../shared/units.ts';
import { AnalyserParams, noAnalyser } from '../analysers.ts';
import type { App, Deps } from '../deps.ts';
import { impossible, notFound } from '../errors.ts';
import { gasName } from '../gasNames.ts';
import { readMultiple } from '../measurement/detection.ts';
import { type MassRange, peakOf } from '../measurement/gasPeak.ts';
import { plain, pressure, rounded } from '../present.ts';
import { Unit } from './chambers.ts';

interface Asked {
  analyser: string;
  gas: string;
  pressure: number;
  unit: PressureUnit;
}

/** One molecule in a thousand cubic kilometres: nobody measures less. */
const LEAST_PASCAL = 1e-33;
/** Pressures in a vacuum chamber end at the atmosphere. */
const MOST_PASCAL = 110_000;

/** What was measured last; before that, what the document promises. */
const rangeOf = (whole: WholeMeasurement): MassRange => {
  const masses = (whole.spectrum?.peaks ?? []).map(({ mass }) => mass);
  if (masses.length > 0) return [Math.min(...masses), Math.max(...masses)];
  const [first, last] = whole.document.massRange ?? [];
  return first === undefined || last === undefined ? null : [first, last];
};

/** Other gases leave room for more than the noise does, from this ratio on. */
const CROWDED = 2;

/** Averaging lowers noise; it does not tell a gas from a stronger one on the same masses. */
const crowdedBy = (whole: WholeMeasurement, gas: string, asked: { noisePa: number; unit: PressureUnit }): string => {
  const found = whole.gases.find((one) => one.gas === gas);
  if (found === undefined || found.detected || found.highPa <= CROWDED * asked.noisePa) return '';
  return ` In the newest scan other gases on its masses leave room for up to ${sayPressure(found.highPa, asked.unit)} of it, which averaging does not narrow.`;
};

const answer = async (deps: Deps, asked: Asked): Promise<Plan> => {
  const { sql } = deps.db;
  const { unit } = asked;
  const gas = resolveGas(asked.gas);
  if (gas === null) throw impossible('gas', `${asked.gas} is not in the catalogue (see GET /api/v1/gases)`);
  const pressurePa = toPascal(asked.pressure, unit);
  if (!(pressurePa >= LEAST_PASCAL && pressurePa <= MOST_PASCAL))
    throw impossible('pressure', `must lie between ${LEAST_PASCAL} and ${MOST_PASCAL} Pa`);
  const now = deps.now();
  const whole = await readMeasurement(sql, { analyser: asked.analyser, at: now });
  if (whole === null) throw noAnalyser(asked.analyser);
  if (whole.spectrum === null) throw notFound(`The newest scan of ${asked.analyser} gave no peaks to plan from.`);
  const [detectionMultiple, rows] = await Promise.all([readMultiple(sql), readInForce(sql, [asked.analyser])]);
  const fleet = { id: whole.analyser, version: whole.documentVersion, document: whole.document };
  const { patterns = [] } = calibrationAt(fleet, rows, now.getTime());
  const peak = peakOf(gas, { range: rangeOf(whole), patterns });
  const shown = { analyser: whole.analyser, gas, unit, pressure: asked.pressure, detectionMultiple };
  if (peak === null) return { ...shown, mass: null, ...unseen(gasName(gas)) };
  const { seconds, averages } = whole.spectrum;
  const noisePa = whole.measurement?.noisePerGasPa[gas] ?? noiseAtPeak(whole, peak.response);
  const found = plan({
    gasName: gasName(gas),
    pressurePa,
    detectionMultiple,
    ...peak,
    secondsPerSweep: seconds,
    sweepsPerScan: averages,
    periodSeconds: whole.scanPeriodSeconds,
    noisePa,
    allan: whole.instrument?.allan ?? null,
    unit,
  });
  const crowded = found.nowPa === null ? '' : crowdedBy(whole, gas, { noisePa: found.nowPa, unit });
  return {
    ...shown,
    mass: peak.mass,
    sweeps: found.sweeps,
    responseSeconds: plain(found.responseSeconds),
    bestSweeps: found.bestSweeps,
    leastDetectable: pressure(found.leastDetectablePa, unit),
    now: pressure(found.nowPa, unit),
    because: found.because + crowded,
    curve: found.curve.map(({ sweeps, seconds: time, detectablePa, whitePa }) => ({
      sweeps,
      seconds: rounded(time),
      detectable: rounded(fromPascal(detectablePa, unit)),
      white: rounded(fromPascal(whitePa, unit)),
    })),
  };
};

/** A gas that this chamber is not analysed for has no noise of its own on record. */
const noiseAtPeak = ({ measurement }: WholeMeasurement, response: number): number | null =>
  measurement?.readNoisePa == null ? null : measurement.readNoisePa / response;

const unseen = (name: string) => ({
  sweeps: null,
  responseSeconds: null,
  bestSweeps: null,
  leastDetectable: null,
  now: null,
  because: `This analyser measures no mass at which ${name} has a peak.`,
  curve: [],
});

export const planRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/analysers/:id/plan',
    {
      schema: {
        summary: 'How many sweeps it takes to see a pressure of a gas, and the response time that they cost',
        tags: ['measurement'],
        params: AnalyserParams,
        querystring: object({
          gas: Type.String({ minLength: 1, maxLength: 60 }),
          pressure: Type.Number({ exclusiveMinimum: 0, description: 'In `unit`' }),
          unit: Type.Optional(Unit),
        }),
        response: { 200: Plan },
      },
      config: { policy: 'viewer' },
    },
    ({ params, query: { gas, pressure: wanted, unit = 'Pa' } }) =>
      answer(deps, { analyser: params.id, gas, pressure: wanted, unit }),
  );
};
