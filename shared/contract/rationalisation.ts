/**
 * Why an alert is worth a person: one record per signature and kind of chamber, as ISA-18.2 / IEC 62682 ask for it.
 * What the product brings is version 0; engineers write the later ones, and every version is kept.
 */
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { OPERATING_STATES, PRIORITIES, SIGNATURES } from './words.ts';

/** What happens if nobody responds: to people or equipment, to product or availability, to neither soon. */
export const CONSEQUENCES = ['severe', 'major', 'minor'] as const;
export type Consequence = (typeof CONSEQUENCES)[number];

/** Whose response the alert asks for. */
export const RESPONDERS = ['operator', 'engineer'] as const;
export type Responder = (typeof RESPONDERS)[number];

const text = (maxLength: number, minLength = 1) => Type.String({ minLength, maxLength });
const lines = (maxItems: number, minItems = 0) => Type.Array(text(500), { maxItems, minItems });

export const RationalisationRecord = object({
  causes: lines(20, 1),
  consequence: text(1000),
  severity: words(CONSEQUENCES),
  /** In order; the first is said in the alert. */
  responseSteps: lines(20, 1),
  /** After which the response comes too late, minutes. */
  timeToRespondMinutes: Type.Number({ exclusiveMinimum: 0, maximum: 525_600 }),
  /** Follows from severity and time; a priority that differs needs its reason in `basis`. */
  priority: words(PRIORITIES),
  /** What the limits are and where they come from; why the priority is what it is. */
  basis: text(2000),
  cautions: lines(20),
  responder: words(RESPONDERS),
  /** States in which it is raised; elsewhere it is suppressed by design. */
  armedStates: Type.Array(words(OPERATING_STATES), { minItems: 1, uniqueItems: true }),
  /** Dead band, decades of what is usual; null: as built in. Only wider than built in. */
  leastDecades: nullable(Type.Number({ exclusiveMinimum: 0, maximum: 3 })),
  /** On-delay, scans; null: as built in. Only longer than built in. */
  onDelayScans: nullable(Type.Integer({ minimum: 1, maximum: 1000 })),
  /** It stays after the condition has returned, until a person resets it. */
  latching: Type.Boolean(),
  /** Acknowledged and still standing after so long, it asks again; null: it does not. Hours. */
  reAlarmHours: nullable(Type.Number({ minimum: 0.25, maximum: 720 })),
  owner: text(120),
});
export type RationalisationRecord = Static<typeof RationalisationRecord>;

export const Rationalisation = object({
  signature: words(SIGNATURES),
  /** Kind of chamber; null: every kind that has no record of its own. */
  kind: nullable(Type.String({ maxLength: 60 })),
  /** 0: as the product brings it. */
  version: Type.Integer(),
  record: RationalisationRecord,
  setAt: nullable(Instant),
  setBy: nullable(Type.String()),
  /** What was changed and why. */
  note: nullable(Type.String()),
});
export type Rationalisation = Static<typeof Rationalisation>;

export const SetRationalisation = object({
  kind: Type.Optional(nullable(Type.String({ minLength: 1, maxLength: 60 }))),
  /** The version that was looked at: a newer one in force is 409. */
  basedOn: Type.Integer({ minimum: 0 }),
  record: RationalisationRecord,
  note: Type.String({ minLength: 1, maxLength: 2000 }),
});
export type SetRationalisation = Static<typeof SetRationalisation>;
