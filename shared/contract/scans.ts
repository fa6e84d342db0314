import { object, type Static, Type, words } from './schema.ts';
import { OPERATING_STATES, PRESSURE_UNITS, SCAN_UNITS } from './words.ts';

/** `{first, last, perUnit}` for an evenly spaced scan (1 = bars, 4 to 64 = profile), or a list of selected masses. */
export const Masses = Type.Union([
  object({
    first: Type.Number({ minimum: 0, maximum: 1000 }),
    last: Type.Number({ minimum: 0, maximum: 1000 }),
    perUnit: Type.Integer({ minimum: 1, maximum: 64 }),
  }),
  Type.Array(Type.Number({ minimum: 0, maximum: 1000 }), { minItems: 1, maxItems: 4096 }),
]);
export type Masses = Static<typeof Masses>;

export const Scan = object({
  analyser: Type.String({ minLength: 1, maxLength: 64 }),
  id: Type.String({ minLength: 1, maxLength: 128 }),
  at: Type.String({ maxLength: 40 }),
  seconds: Type.Number({ exclusiveMinimum: 0, maximum: 604_800, description: 'Time for one sweep, s' }),
  averages: Type.Optional(Type.Integer({ minimum: 1, maximum: 1_000_000 })),
  masses: Masses,
  values: Type.Array(Type.Union([Type.Number(), Type.Null()]), { maxItems: 65_536 }),
  unit: words(SCAN_UNITS),
  detector: Type.Optional(words(['faraday', 'multiplier'] as const)),
  totalPressure: Type.Optional(object({ value: Type.Number(), unit: words(PRESSURE_UNITS) })),
  state: Type.Optional(words(OPERATING_STATES)),
  temperatureC: Type.Optional(Type.Number({ minimum: -273.15, maximum: 3000 })),
});
export type Scan = Static<typeof Scan>;

export const ScanAnswer = object({
  accepted: Type.Integer(),
  duplicates: Type.Integer(),
  rejected: Type.Array(
    object({
      index: Type.Integer(),
      id: Type.Unsafe<string | null>({ type: ['string', 'null'] }),
      problem: Type.String(),
    }),
  ),
});
export type ScanAnswer = Static<typeof ScanAnswer>;
