import { Rationalisation } from './rationalisation.ts';
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
  /** It stays until a person resets it: the condition has returned, or will not end it when it does. */
  latched: Type.Boolean(),
  /** How often it has been shelved. */
  shelvings: Type.Integer(),
  suppressed: nullable(object({ since: Instant, reason: Type.String() })),
  outOfService: nullable(object({ until: Instant, reason: Type.String(), by: Type.String() })),
  /** What was found, for a closed alert; a word of VERIFIED_CAUSES. */
  verified: nullable(Type.String()),
  /** Alerts that began together in several chambers and share a cause; null: it stands alone. */
  group: nullable(Type.String()),
});
export type Alert = Static<typeof Alert>;

/** The change that the alert stands on: what was usual and what came on top, N2-equivalent Pa per mass. */
export const ChangeSpectrum = object({
  masses: Type.Array(Type.Number()),
  usualPa: Type.Array(Type.Number()),
  changePa: Type.Array(Type.Number()),
  sigmaPa: Type.Array(Type.Number()),
  gaugeChangePa: nullable(Type.Number()),
});
export type ChangeSpectrum = Static<typeof ChangeSpectrum>;

/** One alert in full: with what to do about it, from the rationalisation that was in force when it was last said. */
export const AlertDetail = {
  rationalisation: nullable(Rationalisation),
  /** Version in force now for the chamber's kind, where it is another one; null: still the one above. */
  newerRationalisation: nullable(Type.Integer()),
  change: nullable(ChangeSpectrum),
} as const;

/** Chambers that share a cause at the same time, or a flood: said once. */
export const AlertGroup = object({
  id: Type.String(),
  kind: words(['shared cause', 'flood'] as const),
  signature: nullable(words(SIGNATURES)),
  priority: words(PRIORITIES),
  from: Instant,
  to: Instant,
  /** Area or tag that all of them share; null: only the time. */
  shared: Type.Array(Type.String()),
  alerts: Type.Array(Type.String()),
  chambers: Type.Array(Type.String()),
  /** Members that still need a person. */
  open: Type.Integer(),
  summary: Type.String(),
  firstStep: Type.String(),
});
export type AlertGroup = Static<typeof AlertGroup>;

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
/**
 * What was found, for closing: a signature, or one of these. `cause` says it in the person's own words (seal, valve
 * seat …); without `verified` it is taken from `cause` where that is a word of this list.
 */
export const VERIFIED_CAUSES = [...SIGNATURES, 'trapped-volume', 'planned-work', 'false-alert', 'not-found'] as const;
export type VerifiedCause = (typeof VERIFIED_CAUSES)[number];
export const CloseBody = object({
  cause: Type.String({ minLength: 1, maxLength: 200 }),
  note: Type.Optional(text(2000)),
  verified: Type.Optional(words(VERIFIED_CAUSES)),
});
export const OutOfServiceBody = object({ until: Instant, reason: Type.String({ minLength: 1, maxLength: 2000 }) });
export const ResetBody = object({ note: Type.Optional(text(2000)) });
