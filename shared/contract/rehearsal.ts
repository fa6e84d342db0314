/** What a changed limit, baseline or rationalisation would have done: worked out from stored scans by the code that is live. */
import { RationalisationRecord } from './rationalisation.ts';
import { Limit } from './round.ts';
import { Id, Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { OPERATING_STATES, PRIORITIES, SIGNATURES } from './words.ts';

const LimitsChange = object({ kind: Type.Literal('limits'), limits: Type.Array(Limit, { maxItems: 100 }) });
const PinChange = object({ kind: Type.Literal('baseline'), pin: Type.String({ maxLength: 64 }) });
const RationalisationChange = object({
  kind: Type.Literal('rationalisation'),
  signature: words(SIGNATURES),
  record: RationalisationRecord,
});
export const RehearsedChange = Type.Union([LimitsChange, PinChange, RationalisationChange]);
export type RehearsedChange = Static<typeof RehearsedChange>;

export const MOST_REHEARSED_DAYS = 90;

export const NewRehearsal = object({
  /** One chamber, or (for limits and a rationalisation) every chamber of a kind. */
  chamber: Type.Optional(Id),
  chamberKind: Type.Optional(Type.String({ minLength: 1, maxLength: 60 })),
  days: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_REHEARSED_DAYS, default: MOST_REHEARSED_DAYS })),
  change: Type.Unsafe<RehearsedChange>({
    type: 'object',
    required: ['kind'],
    discriminator: { propertyName: 'kind' },
    oneOf: [LimitsChange, PinChange, RationalisationChange],
  }),
});
export type NewRehearsal = Static<typeof NewRehearsal>;

/** An alert as the rehearsal raised it. */
export const RehearsedAlert = object({
  signature: words(SIGNATURES),
  gases: Type.Array(Type.String()),
  priority: words(PRIORITIES),
  raisedAt: Instant,
  returnedAt: nullable(Instant),
});
export type RehearsedAlert = Static<typeof RehearsedAlert>;

/** One chamber of a rehearsal: with the settings in force (`asIs`) and with the changed ones (`asChanged`). */
export const RehearsedChamber = object({
  chamber: Type.String(),
  state: words(['waiting', 'done', 'failed'] as const),
  problem: nullable(Type.String()),
  from: nullable(Instant),
  to: nullable(Instant),
  /** Worked through so far, and in all; absent: not counted yet. */
  scans: Type.Integer(),
  ofScans: Type.Optional(Type.Integer()),
  /** What to know of it: from where it was read so that what is usual is learned, what it leaves out. */
  notes: Type.Optional(Type.Array(Type.String())),
  asIs: Type.Array(RehearsedAlert),
  asChanged: Type.Array(RehearsedAlert),
  /** In `asChanged` and not in `asIs`; in `asIs` and not in `asChanged`; in both, with another time or priority. */
  gained: Type.Array(RehearsedAlert),
  lost: Type.Array(RehearsedAlert),
  moved: Type.Array(object({ asIs: RehearsedAlert, asChanged: RehearsedAlert })),
});
export type RehearsedChamber = Static<typeof RehearsedChamber>;

export const Rehearsal = object({
  id: Type.String(),
  askedAt: Instant,
  askedBy: Type.String(),
  request: NewRehearsal,
  state: words(['waiting', 'done', 'failed'] as const),
  chambers: Type.Array(RehearsedChamber),
  /** Annunciations per day over all chambers that are done; null until one is. */
  perDay: nullable(object({ asIs: Type.Number(), asChanged: Type.Number(), days: Type.Number() })),
});
export type Rehearsal = Static<typeof Rehearsal>;

/** A period of one operating state from which a baseline is to be learned anew. */
export const NewPin = object({
  state: words(OPERATING_STATES),
  from: Instant,
  to: Instant,
  note: Type.String({ minLength: 1, maxLength: 2000 }),
});
export type NewPin = Static<typeof NewPin>;

/** Per gas: median and the range that counts as usual, Pa. */
export const UsualGases = Type.Record(
  Type.String(),
  object({ median: Type.Number(), low: Type.Number(), high: Type.Number(), scans: Type.Integer() }),
);
export type UsualGases = Static<typeof UsualGases>;

/** A pinned baseline: proposed by a worker from the period, put in force by an engineer; versions are never deleted. */
export const Pin = object({
  id: Type.String(),
  chamber: Type.String(),
  analyser: Type.String(),
  version: Type.Integer(),
  operatingState: words(OPERATING_STATES),
  from: Instant,
  to: Instant,
  note: Type.String(),
  /** `waiting` for the workers, `proposed`, `in-force`, `replaced` by a later one, `withdrawn` before it came into force, `failed`. */
  state: words(['waiting', 'proposed', 'in-force', 'replaced', 'withdrawn', 'failed'] as const),
  problem: nullable(Type.String()),
  scans: nullable(Type.Integer()),
  setAt: Instant,
  setBy: Type.String(),
  validFrom: nullable(Instant),
  decidedAt: nullable(Instant),
  decidedBy: nullable(Type.String()),
  decisionNote: nullable(Type.String()),
  /** What the period says is usual, Pa; absent: not worked out. */
  usual: Type.Optional(UsualGases),
});
export type Pin = Static<typeof Pin>;
/** What is usual now in one operating state, for comparing with a pin. */
export const UsualNow = object({
  operatingState: words(OPERATING_STATES),
  since: Instant,
  until: Instant,
  gases: UsualGases,
});
export type UsualNow = Static<typeof UsualNow>;
/** Comes into force with the first scan after it was decided; never in the past: what was judged stays judged. */
export const DecidePin = object({ note: Type.String({ minLength: 1, maxLength: 2000 }) });

/** A closed case kept as an example of its verified cause. */
export const SignatureExample = object({
  id: Type.String(),
  alert: Type.String(),
  chamber: Type.String(),
  chamberKind: nullable(Type.String()),
  claimed: words(SIGNATURES),
  verified: words(SIGNATURES),
  gases: Type.Array(Type.String()),
  note: Type.String(),
  setAt: Instant,
  setBy: Type.String(),
  withdrawnAt: nullable(Instant),
  withdrawnBy: nullable(Type.String()),
  /** What the watch names it without itself; null: not worked out yet. */
  check: nullable(
    object({ named: nullable(words(SIGNATURES)), right: Type.Boolean(), sureness: Type.String(), at: Instant }),
  ),
});
export type SignatureExample = Static<typeof SignatureExample>;
export const KeepExample = object({ note: Type.Optional(Type.String({ maxLength: 2000 })) });
