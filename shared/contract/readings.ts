import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { HEALTH_WORDS, OPERATING_STATES, PRESSURE_UNITS, PRIORITIES, SCAN_UNITS, SIGNATURES } from './words.ts';

/**
 * One gas of one reading. `low`–`high` is the 95 % interval; an undetected gas has its upper limit in `high`
 * and `low` 0. `value` and `high` are null only when the scan gives no answer at all (see `notes`).
 */
export const GasReading = object({
  value: nullable(Type.Number()),
  low: nullable(Type.Number()),
  high: nullable(Type.Number()),
  detected: Type.Boolean(),
});
export type GasReading = Static<typeof GasReading>;

export const Note = object({ code: Type.String(), text: Type.String() });
export type Note = Static<typeof Note>;

export const LatestReading = object({
  at: Instant,
  analyser: Type.String(),
  state: words(OPERATING_STATES),
  unit: words(PRESSURE_UNITS),
  total: object({ gauge: nullable(Type.Number()), sum: nullable(Type.Number()) }),
  gases: Type.Record(Type.String(), GasReading),
  floor: nullable(Type.Number({ description: 'Minimum detectable partial pressure, N2-equivalent, 3 sigma' })),
  decades: nullable(Type.Number({ description: 'Dynamic range' })),
  unexplained: nullable(Type.Number({ description: 'Share of the signal that no gas explains, 0 to 1' })),
  notes: Type.Array(Note),
});
export type LatestReading = Static<typeof LatestReading>;

export const TrendPoint = object({
  at: Instant,
  value: nullable(Type.Number({ description: 'Median of the bucket; null where nothing was detected' })),
  min: nullable(Type.Number()),
  max: nullable(Type.Number()),
  limit: Type.Optional(nullable(Type.Number({ description: 'Upper limit of the undetected scans of the bucket' }))),
});
export type TrendPoint = Static<typeof TrendPoint>;

export const Trend = object({
  unit: words(PRESSURE_UNITS),
  step: Type.Number({ description: 'Width of a bucket, seconds' }),
  from: Instant,
  to: Instant,
  analyser: Type.String(),
  series: Type.Record(Type.String(), Type.Array(TrendPoint)),
  floor: nullable(Type.Number()),
  gaps: Type.Array(object({ from: Instant, to: Instant })),
  /** These readings were worked out again, on demand, beside the ones that were judged. */
  recomputation: Type.Optional(
    object({
      task: Type.String(),
      calibrationVersions: Type.Array(Type.String()),
      catalogueVersions: Type.Array(Type.String()),
    }),
  ),
});
export type Trend = Static<typeof Trend>;

/** A peak of the latest spectrum with what explains it. Shares sum to at most 1; the rest is `unexplained`. */
export const Peak = object({
  mass: Type.Number(),
  value: nullable(Type.Number({ description: 'N2-equivalent pressure' })),
  sigma: nullable(Type.Number()),
  baseline: nullable(Type.Number()),
  parts: Type.Array(object({ gas: Type.String(), share: Type.Number() })),
  unexplained: Type.Number(),
});
export type Peak = Static<typeof Peak>;

export const Spectrum = object({
  at: Instant,
  analyser: Type.String(),
  unit: words(PRESSURE_UNITS),
  scanId: Type.String(),
  seconds: Type.Number(),
  averages: Type.Integer(),
  detector: nullable(Type.String()),
  floor: nullable(Type.Number()),
  peaks: Type.Array(Peak),
  /** An earlier scan, worked out again for whoever asked; absent: the newest one, as it was judged. */
  again: Type.Optional(object({ calibrationVersion: Type.String(), catalogueVersion: Type.String() })),
});
export type Spectrum = Static<typeof Spectrum>;

/** A worker has it: ask again in a moment. */
export const SpectrumWaiting = object({ state: Type.Literal('waiting'), at: Instant });
export type SpectrumWaiting = Static<typeof SpectrumWaiting>;

/** A scan as it was sent, with its neighbours. */
export const StoredScan = object({
  at: Instant,
  analyser: Type.String(),
  scanId: Type.String(),
  seconds: Type.Number(),
  averages: Type.Integer(),
  detector: nullable(Type.String()),
  state: nullable(words(OPERATING_STATES)),
  unit: words(SCAN_UNITS),
  gaugePa: nullable(Type.Number()),
  masses: Type.Array(Type.Number()),
  values: Type.Array(nullable(Type.Number())),
  previousAt: nullable(Instant),
  nextAt: nullable(Instant),
});
export type StoredScan = Static<typeof StoredScan>;

/** A gas in the drift strip: where it stands against the chamber's own baseline, in decades. */
export const StripMark = object({
  gas: Type.String(),
  status: words(['measured', 'below-detection', 'not-measured'] as const),
  decades: nullable(Type.Number({ description: 'log10 of now over the baseline median' })),
  halfWidth: nullable(Type.Number({ description: 'Half width of the usual range, decades' })),
  atLastRound: nullable(Type.Number({ description: 'decades at the last signed round' })),
  alert: nullable(words(PRIORITIES)),
});
export type StripMark = Static<typeof StripMark>;

export const ChamberLine = object({
  id: Type.String(),
  name: Type.String(),
  area: Type.String(),
  kind: nullable(Type.String()),
  tags: Type.Array(Type.String()),
  analysers: Type.Array(Type.String()),
  health: words(HEALTH_WORDS),
  state: nullable(words(OPERATING_STATES)),
  stateSince: nullable(Instant),
  lastScanAt: nullable(Instant),
  scanPeriodSeconds: nullable(Type.Number()),
  silent: Type.Boolean(),
  learning: nullable(object({ have: Type.Integer(), need: Type.Integer() })),
  openAlerts: Type.Integer(),
  worst: nullable(
    object({
      id: Type.String(),
      signature: words(SIGNATURES),
      priority: words(PRIORITIES),
      state: Type.String(),
      summary: Type.String(),
      firstStep: nullable(Type.String()),
      raisedAt: Instant,
    }),
  ),
  say: Type.String({ description: 'One sentence about the chamber, as a colleague would say it' }),
  unit: words(PRESSURE_UNITS),
  gases: Type.Record(Type.String(), GasReading),
  strip: Type.Array(StripMark),
});
export type ChamberLine = Static<typeof ChamberLine>;
