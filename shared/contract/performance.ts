/** How well the alarms themselves do, by the measures of ISA-18.2 / IEC 62682: targets with their source. */
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { ALERT_STATES, PRIORITIES, SIGNATURES } from './words.ts';

/** One measure against its target. `value` null: too little to say, see `why`. Unit `share`: of one. */
export const Measure = object({
  id: Type.String(),
  name: Type.String(),
  value: nullable(Type.Number()),
  unit: Type.String(),
  /** The target in words, and as a bound for drawing. */
  target: Type.String(),
  targetHigh: nullable(Type.Number()),
  source: Type.String(),
  met: nullable(Type.Boolean()),
  why: nullable(Type.String()),
});
export type Measure = Static<typeof Measure>;

const AlertRef = object({
  id: Type.String(),
  chamber: Type.String(),
  signature: words(SIGNATURES),
  priority: words(PRIORITIES),
  state: words(ALERT_STATES),
  raisedAt: Instant,
  summary: Type.String(),
});
export type AlertRef = Static<typeof AlertRef>;

export const Performance = object({
  from: Instant,
  to: Instant,
  area: nullable(Type.String()),
  responder: nullable(Type.String()),
  days: Type.Number(),
  chambers: Type.Integer({ description: 'Chambers watched in the area now' }),
  /** Alerts that called a person: raised, raised again, asked again. Members of one group that began together count once. */
  annunciations: Type.Integer(),
  measures: Type.Array(Measure),
  perDay: Type.Array(object({ day: Type.String(), annunciations: Type.Integer() })),
  floods: Type.Array(object({ from: Instant, to: Instant, annunciations: Type.Integer(), chambers: Type.Integer() })),
  top: Type.Array(
    object({
      chamber: Type.String(),
      signature: words(SIGNATURES),
      annunciations: Type.Integer(),
      share: Type.Number(),
    }),
  ),
  chattering: Type.Array(object({ alert: AlertRef, times: Type.Integer(), withinSeconds: Type.Number() })),
  fleeting: Type.Array(object({ alert: AlertRef, stoodSeconds: Type.Number() })),
  stale: Type.Array(object({ alert: AlertRef, stoodHours: Type.Number() })),
  priorities: Type.Array(
    object({
      priority: words(PRIORITIES),
      annunciations: Type.Integer(),
      share: nullable(Type.Number()),
      target: Type.Number(),
    }),
  ),
  shelved: Type.Array(
    object({ alert: AlertRef, until: nullable(Instant), reason: Type.String(), times: Type.Integer() }),
  ),
  suppressed: Type.Array(object({ alert: AlertRef, since: nullable(Instant), reason: Type.String() })),
  outOfService: Type.Array(
    object({ alert: AlertRef, until: nullable(Instant), reason: Type.String(), by: Type.String() }),
  ),
  /** Of the closed alerts, those that led to an action: everything but a false alert and planned work. */
  closed: object({
    total: Type.Integer(),
    acted: Type.Integer(),
    planned: Type.Integer(),
    falseAlerts: Type.Integer(),
  }),
});
export type Performance = Static<typeof Performance>;

/** What was claimed against what was found, over closed alerts whose cause was verified. */
export const Confusion = object({
  from: Instant,
  to: Instant,
  closed: Type.Integer(),
  verified: Type.Integer(),
  cells: Type.Array(object({ claimed: words(SIGNATURES), verified: Type.String(), alerts: Type.Array(Type.String()) })),
  rightFirst: nullable(Type.Number({ description: 'Share of verified alerts whose first name was right' })),
  /** Per word of sureness: how often it was right. */
  sureness: Type.Array(object({ word: Type.String(), alerts: Type.Integer(), right: Type.Integer() })),
});
export type Confusion = Static<typeof Confusion>;
