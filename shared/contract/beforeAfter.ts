import { Note } from './readings.ts';
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { OPERATING_STATES, PRESSURE_UNITS, SIGNATURES } from './words.ts';

const number = (description: string) => nullable(Type.Number({ description }));

/** Five things that change a residual gas without anything being repaired. */
export const LIKENESSES = ['state', 'time since vent', 'temperature', 'analyser and calibration', 'scans'] as const;
/** `still stands`: the alert does and nothing was opened since; the sides are the time before it and now. */
export const REPAIR_WORDS = ['worked', 'in part', 'did not work', 'still stands', 'cannot tell', 'no alert'] as const;
/** What is missing for a yes or a no. */
export const MISSING = [
  'no scans before',
  'no scans after',
  'few scans before',
  'few scans after',
  'other state',
  'other time since vent',
  'time since vent not known',
  'other analyser',
  'alert without gases',
  'gas not looked for',
  'no usual range',
  'usual range is younger',
  'was usual before',
  'at the edge',
] as const;
/** What is said of a gas from its place against its usual range before and after. */
export const JUDGEMENTS = [
  'as usual',
  'back',
  'below detection again',
  'still above',
  'above now',
  'below usual',
  'at the edge',
  'not seen',
  'no usual range',
  'not looked for',
] as const;

/**
 * How the value of a gas on a side was found. `line`: while an alert stands, on a robust line through the side, at the
 * moment `at`; every other word: the middle of the whole side, which a moving gas leaves with a wide interval.
 */
export const COURSES = ['level', 'line', 'curved', 'few scans', 'seldom seen'] as const;

/** One side: scans of one analyser in one state. */
export const ComparedSide = object({
  from: nullable(Instant),
  to: nullable(Instant),
  analyser: Type.String(),
  state: nullable(words(OPERATING_STATES)),
  sinceVent: nullable(
    object({
      seconds: Type.Number(),
      atLeast: Type.Boolean({ description: 'No vent is on record: so long at least' }),
    }),
  ),
  temperatureC: number('Middle of the reported temperatures, degrees Celsius'),
  calibrations: Type.Array(Type.String()),
  scans: Type.Integer(),
  scanAt: nullable({
    ...Instant,
    description:
      'Scan whose spectrum stands for the side: the middle one, or the newest where gases may move; null: none',
  }),
});
export type ComparedSide = Static<typeof ComparedSide>;

export const ComparedGasSide = object({
  value: number('Robust mean of ln P, or a robust line at `at`; null: below detection, see `high`'),
  course: words(COURSES, 'level: settled values were asked for; line; or why there is no line'),
  at: nullable({ ...Instant, description: 'The moment that the value is of; null: the whole side' }),
  growth: nullable(
    object(
      { perHour: Type.Number(), low: Type.Number({ description: '95 %' }), high: Type.Number({ description: '95 %' }) },
      'Factor an hour along the line; null: there is no line',
    ),
  ),
  low: number('95 %, absolute'),
  high: number('95 %, absolute; the upper limit where `value` is null'),
  /** 95 % of what does not cancel between the two sides: scatter and patterns. */
  comparedLow: number('95 %'),
  comparedHigh: number('95 %'),
  detectedShare: Type.Number(),
  /** Scans that count: fewer than there are where they resemble their neighbours. */
  effectiveScans: number('Effective number of scans'),
});

const Inflow = object({ value: number('Pa*m3/s; null: below `high`'), low: Type.Number(), high: Type.Number() });

/** One chamber before and after a repair, gas by gas. Times and units are as asked; words are the contract's. */
export const BeforeAfter = object({
  chamber: Type.String(),
  unit: words(PRESSURE_UNITS),
  alert: nullable(
    object({
      id: Type.String(),
      signature: words(SIGNATURES),
      summary: Type.String(),
      gases: Type.Array(Type.String()),
      raisedAt: Instant,
      endedAt: nullable(Instant),
    }),
  ),
  /** Alerts of the chamber that can be meant, newest first. */
  alerts: Type.Array(object({ id: Type.String(), summary: Type.String(), raisedAt: Instant })),
  /** The vent that lies between the two. */
  between: nullable(object({ from: Instant, to: Instant })),
  before: ComparedSide,
  after: ComparedSide,
  likeness: Type.Array(object({ name: words(LIKENESSES), is: words(['alike', 'differs', 'unknown'] as const) })),
  gases: Type.Array(
    object({
      gas: Type.String(),
      inAlert: Type.Boolean(),
      before: nullable(ComparedGasSide),
      after: nullable(ComparedGasSide),
      usual: nullable(object({ low: Type.Number(), high: Type.Number() })),
      ratio: number('After over before'),
      ratioLow: number('95 %'),
      ratioHigh: number('95 %'),
      changed: words(['fell', 'rose', 'no', 'cannot tell'] as const),
      judgement: words(JUDGEMENTS),
    }),
  ),
  leak: nullable(
    object({
      gas: Type.String(),
      unit: Type.Literal('Pa*m3/s'),
      before: Inflow,
      after: Inflow,
      timesLessAtLeast: Type.Number(),
    }),
  ),
  verdict: object({
    word: words(REPAIR_WORDS),
    back: Type.Array(Type.String()),
    notBack: Type.Array(Type.String()),
    missing: Type.Array(object({ what: words(MISSING), gases: Type.Array(Type.String()) })),
    /** When both will be equally long after their vents; null: they are, or cannot be told. */
    equalAt: nullable(Instant),
  }),
  notes: Type.Array(Note),
});
export type BeforeAfter = Static<typeof BeforeAfter>;
