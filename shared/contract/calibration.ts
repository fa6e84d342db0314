/** Calibration as history: what was set, from what, by whom, and from when to when it holds. */
import { Note } from './readings.ts';
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';

/**
 * `sensitivity` A/Pa for N2 on the Faraday detector · `gain` multiplier over Faraday · `transmission` exponent t ·
 * `gauge-factor` pressure at the analyser over what the gauge reads · `pattern` fragments of one gas on this analyser ·
 * `background` the analyser's own gas.
 */
export const CALIBRATION_KINDS = [
  'sensitivity',
  'gain',
  'transmission',
  'gauge-factor',
  'pattern',
  'background',
] as const;
export type CalibrationKind = (typeof CALIBRATION_KINDS)[number];

export const CALIBRATION_SOURCES = [
  'certificate',
  'gauge',
  'detector pair',
  'pure gas',
  'closed valve',
  'second analyser',
  'other',
] as const;
export type CalibrationSource = (typeof CALIBRATION_SOURCES)[number];

/**
 * One number with its relative standard uncertainty, for the first four kinds. No bounds here or below: what was worked
 * out and stored is shown as it is; bounds are for what comes in.
 */
export const NumberValue = object({
  value: Type.Number(),
  relativeUncertainty: nullable(Type.Number({ description: 'One standard deviation' })),
});
export type NumberValue = Static<typeof NumberValue>;

export const PatternValue = object({
  gas: Type.String({ maxLength: 40 }),
  peaks: Type.Record(Type.String(), Type.Number(), { description: 'Integer mass: height, largest = 100' }),
  fragmentUncertainty: Type.Number(),
  responseAtLargest: nullable(Type.Number({ description: 'N2-equivalent pressure at the largest peak per pressure' })),
  responseUncertainty: nullable(Type.Number()),
});
export type PatternValue = Static<typeof PatternValue>;

export const BackgroundValue = object({
  peaks: Type.Record(Type.String(), object({ heightPa: Type.Number(), sigmaPa: Type.Number() })),
  unsteadiness: Type.Number(),
});
export type BackgroundValue = Static<typeof BackgroundValue>;

export const CalibrationValue = Type.Union([NumberValue, PatternValue, BackgroundValue]);
export type CalibrationValue = NumberValue | PatternValue | BackgroundValue;

export const CALIBRATION_STATES = ['proposed', 'in-force', 'withdrawn'] as const;

export const CalibrationEntry = object({
  id: Type.String(),
  analyser: Type.String(),
  kind: words(CALIBRATION_KINDS),
  /** For a pattern. */
  gas: nullable(Type.String()),
  value: CalibrationValue,
  source: words(CALIBRATION_SOURCES),
  note: Type.String(),
  state: words(CALIBRATION_STATES),
  /** Scans from this time on use it. Null while it is proposed. */
  validFrom: nullable(Instant),
  /** Null: until another of its kind (and gas) takes over. */
  validTo: nullable(Instant),
  setAt: Instant,
  setBy: Type.String(),
  decidedAt: nullable(Instant),
  decidedBy: nullable(Type.String()),
  decisionNote: nullable(Type.String()),
  /** The marked scans that it was worked out from. */
  scans: nullable(object({ from: Instant, to: Instant, count: Type.Integer() })),
});
export type CalibrationEntry = Static<typeof CalibrationEntry>;

/** A number that a person enters; patterns and backgrounds are worked out from marked scans (see tasks). */
export const NewCalibration = object({
  kind: words(['sensitivity', 'gain', 'transmission', 'gauge-factor'] as const),
  value: Type.Number(),
  relativeUncertainty: Type.Optional(Type.Number({ minimum: 0, maximum: 1 })),
  source: words(CALIBRATION_SOURCES),
  validFrom: Instant,
  validTo: Type.Optional(Instant),
  note: Type.String({ minLength: 1, maxLength: 2000 }),
});
export type NewCalibration = Static<typeof NewCalibration>;

export const Enforce = object({
  validFrom: Instant,
  validTo: Type.Optional(Instant),
  note: Type.String({ minLength: 1, maxLength: 2000 }),
});
export const Withdraw = object({ note: Type.String({ minLength: 1, maxLength: 2000 }) });

/** Work that a person asks for and a worker does: its result is never put in force by itself. */
const PatternTask = object({
  kind: Type.Literal('pattern'),
  gas: Type.String({ maxLength: 40, description: 'The pure gas that these scans show' }),
  from: Instant,
  to: Instant,
  /** The gas's pressure is taken from the gauge with its factor for the gas; false: amount unknown. */
  amountFromGauge: Type.Boolean(),
  note: Type.String({ minLength: 1, maxLength: 2000 }),
});
const BackgroundTask = object({
  kind: Type.Literal('background'),
  from: Instant,
  to: Instant,
  source: words(['closed valve', 'second analyser'] as const),
  /** For `second analyser`: the one that is trusted. */
  other: Type.Optional(Type.String({ maxLength: 64 })),
  note: Type.String({ minLength: 1, maxLength: 2000 }),
});
const RecomputationTask = object({
  kind: Type.Literal('recomputation'),
  from: Instant,
  to: Instant,
  /** With the calibration that is in force at this time; absent: each scan with that of its own time. */
  calibrationOf: Type.Optional(Instant),
  note: Type.String({ minLength: 1, maxLength: 2000 }),
});
const ChangeTask = object({ kind: Type.Literal('change'), before: Instant, after: Instant });
/** Asked for by other routes than the others: a baseline from a chosen period, one chamber of a rehearsal, an example, the peaks of an earlier scan. */
export type InnerTask =
  | { readonly kind: 'baseline'; readonly pin: string }
  | { readonly kind: 'rehearsal'; readonly rehearsal: string }
  | { readonly kind: 'example'; readonly example: string }
  | { readonly kind: 'spectrum'; readonly at: string };

export const NewTask = Type.Union([PatternTask, BackgroundTask, RecomputationTask, ChangeTask]);
export type NewTask = Static<typeof NewTask>;
/** The same as a request: `kind` says which of them is meant, so that what is wrong is told of that one alone. */
export const NewTaskBody = Type.Unsafe<NewTask>({
  type: 'object',
  required: ['kind'],
  discriminator: { propertyName: 'kind' },
  oneOf: [PatternTask, BackgroundTask, RecomputationTask, ChangeTask],
});

export const TASK_KINDS = ['pattern', 'background', 'recomputation', 'change'] as const;

/** What two scans of one analyser say of the change of each gas: sensitivity, which both share, is left out. */
export const ChangeResult = object({
  before: Instant,
  after: Instant,
  gases: Type.Array(
    object({
      gas: Type.String(),
      changePa: Type.Number(),
      sigmaPa: Type.Number({ description: 'One standard deviation of the change' }),
      significant: Type.Boolean(),
    }),
  ),
});
export type ChangeResult = Static<typeof ChangeResult>;

export const Task = object({
  id: Type.String(),
  analyser: Type.String(),
  kind: words(TASK_KINDS),
  request: NewTask,
  state: words(['waiting', 'done', 'failed'] as const),
  askedAt: Instant,
  askedBy: Type.String(),
  finishedAt: nullable(Instant),
  /** Why it failed. */
  problem: nullable(Type.String()),
  /** The proposed calibration, for `pattern` and `background`. */
  calibration: nullable(Type.String()),
  /** Scans that were worked through. */
  scans: nullable(Type.Integer()),
  change: nullable(ChangeResult),
  /** Cautions for whoever lets gas in or closes valves for it. */
  notes: Type.Optional(Type.Array(Note)),
});
export type Task = Static<typeof Task>;
