import { Id, object, type Static, Type, words } from './schema.ts';

export const Area = object({
  id: Id,
  name: Type.Optional(Type.String({ minLength: 1, maxLength: 120 })),
  timeZone: Type.Optional(Type.String({ description: 'IANA time zone, default UTC', maxLength: 64 })),
  shifts: Type.Optional(
    Type.Array(Type.String({ pattern: '^([01][0-9]|2[0-3]):[0-5][0-9]$' }), {
      maxItems: 12,
      description: 'Starts of the shifts, local time',
    }),
  ),
});
export type Area = Static<typeof Area>;

const positive = (description: string) => Type.Number({ exclusiveMinimum: 0, description });

export const Chamber = object({
  id: Id,
  name: Type.Optional(Type.String({ minLength: 1, maxLength: 120 })),
  area: Id,
  kind: Type.Optional(Type.String({ minLength: 1, maxLength: 60 })),
  volumeLitres: Type.Optional(positive('litres')),
  pumpingSpeedLitresPerSecond: Type.Optional(
    Type.Record(Type.String({ maxLength: 40 }), positive('litres per second at the chamber'), {
      description: 'Per gas; a gas that is not named gets the N2 value',
    }),
  ),
  gases: Type.Optional(Type.Array(Type.String({ maxLength: 40 }), { maxItems: 40 })),
  tags: Type.Optional(Type.Array(Type.String({ minLength: 1, maxLength: 40 }), { maxItems: 40 })),
});
export type Chamber = Static<typeof Chamber>;

export const PRINCIPLES = ['quadrupole', 'ion trap'] as const;

export const Analyser = object({
  id: Id,
  chamber: Id,
  principle: Type.Optional(words(PRINCIPLES)),
  massRange: Type.Optional(Type.Array(Type.Number({ minimum: 0, maximum: 1000 }), { minItems: 2, maxItems: 2 })),
  sensitivityAmperesPerPascal: Type.Optional(positive('A/Pa for N2 on the Faraday detector')),
  multiplierGain: Type.Optional(positive('multiplier signal over Faraday signal')),
  transmissionExponent: Type.Optional(
    Type.Number({ minimum: -5, maximum: 5, description: 't: the ion current at mass m is multiplied by (28/m)^t' }),
  ),
});
export type Analyser = Static<typeof Analyser>;

export const FleetDocument = object({
  areas: Type.Array(Area, { maxItems: 500 }),
  chambers: Type.Array(Chamber, { maxItems: 20_000 }),
  analysers: Type.Array(Analyser, { maxItems: 40_000 }),
});
export type FleetDocument = Static<typeof FleetDocument>;

const Counts = object({
  areas: Type.Array(Type.String()),
  chambers: Type.Array(Type.String()),
  analysers: Type.Array(Type.String()),
});
export const FleetChange = object({
  applied: Type.Boolean({ description: 'false for a dry run and when nothing changed' }),
  added: Counts,
  changed: Counts,
  retired: Counts,
});
export type FleetChange = Static<typeof FleetChange>;
