import { ChamberLine } from './readings.ts';
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';

/** A chamber's line with what changed since the area's last signed round. */
export const RoundLine = object({
  ...ChamberLine.properties,
  change: words(['new', 'worse', 'better', 'as expected', 'none'] as const),
  changeText: nullable(Type.String()),
});
export type RoundLine = Static<typeof RoundLine>;

export const RoundArea = object({
  id: Type.String(),
  name: Type.String(),
  timeZone: Type.String(),
  shift: nullable(object({ from: Type.String(), to: Type.String() })),
  lastSigned: nullable(object({ id: Type.String(), at: Instant, by: Type.String(), note: Type.String() })),
  /** Worst first: needs a person, blind and stale, changed, at rest. */
  chambers: Type.Array(RoundLine),
});
export type RoundArea = Static<typeof RoundArea>;

export const Round = object({
  at: Instant,
  headline: Type.String(),
  shelved: object({ count: Type.Integer(), nextReturnsAt: nullable(Instant) }),
  areas: Type.Array(RoundArea),
});
export type Round = Static<typeof Round>;

export const SignRound = object({
  area: Type.String({ maxLength: 64 }),
  note: Type.Optional(Type.String({ maxLength: 4000 })),
});
export const SignedRound = object({
  id: Type.String(),
  area: Type.String(),
  at: Instant,
  by: Type.String(),
  note: Type.String(),
});

export const Limit = object({
  gas: Type.String({ maxLength: 40 }),
  limitPa: Type.Number({ exclusiveMinimum: 0 }),
  priority: words(['high', 'medium', 'low'] as const),
  note: Type.Optional(Type.String({ maxLength: 500 })),
});
export type Limit = Static<typeof Limit>;
export const LimitsBody = object({ limits: Type.Array(Limit, { maxItems: 100 }) });
