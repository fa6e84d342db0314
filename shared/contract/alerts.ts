import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { ALERT_STATES, PRIORITIES, SIGNATURES } from './words.ts';

/** One line of evidence: what was found, what was expected, and what follows. `value` null: cannot tell, see `verdict`. */
export const Evidence = object({
  name: Type.String(),
  value: nullable(Type.Number()),
  low: Type.Optional(nullable(Type.Number())),
  high: Type.Optional(nullable(Type.Number())),
  unit: Type.String(),
  expected: nullable(Type.String()),
  expectedLow: Type.Optional(nullable(Type.Number())),
  expectedHigh: Type.Optional(nullable(Type.Number())),
  verdict: Type.String(),
});
export type Evidence = Static<typeof Evidence>;

export const LeakRate = object({
  value: Type.Number(),
  low: Type.Number(),
  high: Type.Number(),
  unit: Type.Literal('Pa*m3/s'),
});
export type LeakRate = Static<typeof LeakRate>;

export const Alternative = object({ signature: words(SIGNATURES), why: Type.String() });
export type Alternative = Static<typeof Alternative>;

/** Five words for how sure: see the margin text of the alert. */
export const SURENESS = ['nearly certain', 'likely', 'more likely than not', 'open', 'cannot tell'] as const;

export const Alert = object({
  id: Type.String(),
  chamber: Type.String(),
  analyser: Type.Optional(Type.String()),
  signature: words(SIGNATURES),
  gases: Type.Array(Type.String()),
  priority: words(PRIORITIES),
  state: words(ALERT_STATES),
  raisedAt: Instant,
  returnedAt: nullable(Instant),
  acknowledged: nullable(object({ by: Type.String(), at: Instant, note: Type.String() })),
  shelvedUntil: nullable(Instant),
  closed: nullable(object({ by: Type.String(), at: Instant, cause: Type.String(), note: Type.String() })),
  summary: Type.String(),
  sureness: words(SURENESS),
  firstStep: nullable(Type.String()),
  settle: nullable(Type.String({ description: 'What would settle it' })),
  evidence: Type.Array(Evidence),
  leakRate: Type.Optional(LeakRate),
  alternatives: Type.Array(Alternative),
});
export type Alert = Static<typeof Alert>;

/** One move in the life of an alert, as the audit keeps it. */
export const AlertMove = object({
  at: Instant,
  by: nullable(Type.String({ description: 'null: the watch itself' })),
  move: Type.String(),
  from: nullable(words(ALERT_STATES)),
  to: words(ALERT_STATES),
  note: nullable(Type.String()),
});
export type AlertMove = Static<typeof AlertMove>;

const text = (maxLength: number) => Type.String({ maxLength });
export const AcknowledgeBody = object({ note: Type.Optional(text(2000)) });
export const ShelveBody = object({ until: Instant, reason: Type.String({ minLength: 1, maxLength: 2000 }) });
export const CloseBody = object({
  cause: Type.String({ minLength: 1, maxLength: 200 }),
  note: Type.Optional(text(2000)),
});
