/** How well each analyser measures, in the words of ISO 14291 and ISO/TS 20175 where they have one. */

import { CalibrationEntry } from './calibration.ts';
import { LifeForecast } from './courses.ts';
import { Note } from './readings.ts';
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { OPERATING_STATES, PRESSURE_UNITS } from './words.ts';

const number = (description: string) => nullable(Type.Number({ description }));

export const Kappa = object({
  now: number('Gauge over the sum of partial pressures, each with its gauge factor'),
  usual: number('Where it has stood'),
  low: number('95 % of scans lie above'),
  high: number('95 % of scans lie below'),
  scans: Type.Integer(),
  since: nullable(Instant),
  steady: Type.Boolean(),
});

/** One analyser in the list. Pressures are in the unit that was asked for. */
export const MeasurementLine = object({
  analyser: Type.String(),
  chamber: Type.String(),
  chamberName: Type.String(),
  area: Type.String(),
  principle: words(['quadrupole', 'ion trap'] as const),
  at: nullable(Instant),
  state: nullable(words(OPERATING_STATES)),
  detector: nullable(words(['faraday', 'multiplier'] as const)),
  responseSeconds: number('Seconds per sweep times averages'),
  floor: number('Minimum detectable partial pressure, N2-equivalent, at the detection multiple'),
  decades: number('Largest peak over the floor, log10'),
  kappa: nullable(Kappa),
  massOffset: number('Peaks stand this far above their masses, u'),
  width: number('Full width at half height, u'),
  gain: nullable(object({ value: Type.Number(), at: nullable(Instant), onRecord: nullable(Type.Number()) })),
  calibrationAgeDays: number('Since the newest entry in force; null: only the fleet document'),
  unexplained: number('Share of the signal that no gas explains'),
  chiSquarePerDof: number('Fit of the gases to the spectrum'),
  /** What a person should look at first, in a sentence; null: nothing. */
  remark: nullable(Type.String()),
});
export type MeasurementLine = Static<typeof MeasurementLine>;

export const MeasurementList = object({
  unit: words(PRESSURE_UNITS),
  detectionMultiple: Type.Number({ description: 'Floors are this many standard deviations of the noise' }),
  analysers: Type.Array(MeasurementLine),
});
export type MeasurementList = Static<typeof MeasurementList>;

export const AnalyserMeasurement = object({
  ...MeasurementLine.properties,
  unit: words(PRESSURE_UNITS),
  detectionMultiple: Type.Number(),
  scanId: nullable(Type.String()),
  seconds: number('Per sweep'),
  averages: nullable(Type.Integer()),
  scanPeriodSeconds: number('Between scans'),
  massRange: nullable(Type.Array(Type.Number())),
  massScale: nullable(
    object({
      offset: Type.Number({ description: 'u, at the pivot' }),
      slopePer100: Type.Number({ description: 'u per 100 u' }),
      usualOffset: number('u'),
      at: Instant,
    }),
  ),
  widths: nullable(object({ half: Type.Number(), tenth: Type.Number(), twentieth: Type.Number() })),
  noise: nullable(
    object({
      sigma: Type.Number({ description: 'One standard deviation of a height at m/z 28, N2-equivalent' }),
      from: Type.String(),
      scans: nullable(Type.Integer()),
    }),
  ),
  gainDetail: nullable(
    object({
      value: Type.Number(),
      low: Type.Number(),
      high: Type.Number(),
      onRecord: nullable(Type.Number()),
      from: words(['pair', 'record'] as const),
      at: nullable(Instant),
      pairs: Type.Integer(),
    }),
  ),
  floors: Type.Array(
    object({
      gas: Type.String(),
      floor: number('Noise alone: its reference peak at the detection multiple'),
      limit: number('What this scan allows at most, among the gases that are there; null: it was detected'),
      detected: Type.Boolean(),
      value: number('Best estimate; null: it was not detected'),
      changeSigma: number('One standard deviation of a change of the gas from scan to scan: sensitivity left out'),
    }),
  ),
  foot: nullable(object({ removed: Type.Number(), share: Type.Number() })),
  desorbed: Type.Array(
    object({ ion: Type.String(), mass: Type.Integer(), height: number('N2-equivalent'), share: Type.Number() }),
  ),
  ownGas: Type.Array(object({ gas: Type.String(), share: Type.Number(), analyserLimited: Type.Boolean() })),
  leftOut: Type.Array(object({ mass: Type.Integer(), why: Type.String() })),
  groups: Type.Array(
    object({
      gases: Type.Array(Type.String()),
      sum: number('Together'),
      low: number('95 %'),
      high: number('95 %'),
      correlation: Type.Number(),
    }),
  ),
  candidates: Type.Array(object({ mass: Type.Integer(), share: Type.Number(), gases: Type.Array(Type.String()) })),
  lookAlikes: Type.Array(
    object({ gas: Type.String(), parent: Type.String(), ratio: Type.Number(), scans: Type.Integer() }),
  ),
  calibration: object({
    version: Type.String(),
    sensitivityAmperesPerPascal: number('N2, Faraday'),
    inForce: Type.Array(CalibrationEntry),
  }),
  /** Offered when kappa has stood still away from one: never applied by itself. */
  /** What wears, and when it will be at its end; empty while there is too little of it. */
  life: Type.Array(LifeForecast),
  suggestion: nullable(
    object({
      factor: Type.Number({ description: 'Pressures would be multiplied by this' }),
      low: Type.Number(),
      high: Type.Number(),
      sensitivityAmperesPerPascal: nullable(Type.Number()),
      because: Type.String(),
    }),
  ),
  notes: Type.Array(Note),
});
export type AnalyserMeasurement = Static<typeof AnalyserMeasurement>;

export const MEASURED_QUANTITIES = [
  'floor',
  'decades',
  'kappa',
  'massOffset',
  'width',
  'noise',
  'gain',
  'chiSquarePerDof',
] as const;
export type MeasuredQuantity = (typeof MEASURED_QUANTITIES)[number];

export const MeasurementTrend = object({
  unit: words(PRESSURE_UNITS),
  analyser: Type.String(),
  from: Instant,
  to: Instant,
  step: Type.Number({ description: 'Width of a bucket, seconds' }),
  series: Type.Record(
    Type.String(),
    Type.Array(object({ at: Instant, value: Type.Number(), min: Type.Number(), max: Type.Number() })),
  ),
});
export type MeasurementTrend = Static<typeof MeasurementTrend>;

export const Residuals = object({
  at: Instant,
  analyser: Type.String(),
  scanId: Type.String(),
  unit: words(PRESSURE_UNITS),
  chiSquarePerDof: nullable(Type.Number()),
  unexplained: nullable(Type.Number()),
  peaks: Type.Array(
    object({
      mass: Type.Integer(),
      height: number('N2-equivalent'),
      explained: number('By all gases and artefacts together'),
      residual: number('Height minus explained'),
      sigma: number('One standard deviation of the residual: noise and patterns'),
      parts: Type.Array(object({ gas: Type.String(), share: Type.Number() })),
      leftOut: nullable(Type.String()),
    }),
  ),
  candidates: AnalyserMeasurement.properties.candidates,
});
export type Residuals = Static<typeof Residuals>;

export const ScanLine = object({
  id: Type.String(),
  at: Instant,
  state: nullable(words(OPERATING_STATES)),
  seconds: Type.Number(),
  averages: Type.Integer(),
  detector: nullable(Type.String()),
  gauge: nullable(Type.Number()),
  sum: nullable(Type.Number()),
});
export type ScanLine = Static<typeof ScanLine>;
