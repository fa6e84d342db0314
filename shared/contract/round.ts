import { Handover } from './handover.ts';
import { ChamberLine } from './readings.ts';
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';

/** A chamber's line with what changed since the area's last signed round. */
export const RoundLine = object({
  ...ChamberLine.properties,
  change: words(['new', 'worse', 'better', 'as expected', 'none'] as const),
  changeText: nullable(Type.String()),
  inHand: nullable(
    object(
      { by: Type.String(), at: Instant },
      'Every open alert is acknowledged: who acknowledged the worst, and when',
    ),
  ),
});
export type RoundLine = Static<typeof RoundLine>;

const round = { id: Type.String(), at: Instant, by: Type.String(), note: Type.String() };

export const Countersigned = object({ by: Type.String(), at: Instant, note: Type.String() });
export type Countersigned = Static<typeof Countersigned>;
const countersigned = nullable(Countersigned);

export const RoundArea = object({
  id: Type.String(),
  name: Type.String(),
  timeZone: Type.String(),
  shift: nullable(object({ from: Type.String(), to: Type.String() })),
  lastSigned: nullable(object({ ...round, countersigned })),
  /** Needs a person by priority, in hand by priority, blind and stale, changed, at rest. */
  chambers: Type.Array(RoundLine),
});
export type RoundArea = Static<typeof RoundArea>;

export const Round = object({
  at: Instant,
  headline: Type.String(),
  shelved: object({ count: Type.Integer(), nextReturnsAt: nullable(Instant) }),
  /** The area with the worst alert first; where it is equal, in the order of the fleet document. */
  areas: Type.Array(RoundArea),
  catalogue: Type.String({ description: 'Version of the catalogue with which it is judged' }),
});
export type Round = Static<typeof Round>;

export const SignRound = object({
  area: Type.String({ maxLength: 64 }),
  note: Type.Optional(Type.String({ maxLength: 4000 })),
});
export const SignedRound = object({ ...round, area: Type.String() });
export type SignedRound = Static<typeof SignedRound>;

export const SignedRoundLine = object({ ...SignedRound.properties, areaName: Type.String(), countersigned });
export type SignedRoundLine = Static<typeof SignedRoundLine>;

export const SignedRoundDetail = object({
  ...SignedRoundLine.properties,
  chambers: Type.Array(RoundLine),
  handover: nullable(Handover),
});
export type SignedRoundDetail = Static<typeof SignedRoundDetail>;

export const Countersign = object({ note: Type.Optional(Type.String({ maxLength: 4000 })) });

export const Limit = object({
  gas: Type.String({ maxLength: 40 }),
  limitPa: Type.Number({ exclusiveMinimum: 0 }),
  priority: words(['high', 'medium', 'low'] as const),
  note: Type.Optional(Type.String({ maxLength: 500 })),
});
export type Limit = Static<typeof Limit>;
export const LimitsBody = object({ limits: Type.Array(Limit, { maxItems: 100 }) });
