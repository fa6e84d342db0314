import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { OPERATING_STATES, PRESSURE_UNITS } from './words.ts';

export const SISTER_WORDS = [
  'alike',
  'level and drift',
  'level only',
  'drift only',
  'shared',
  'seen only here',
  'not seen',
  'too few',
  'not looked for',
] as const;

/** `own` among its sisters, and the range in which a robust z stays within ±3.5. */
const Among = (what: string) =>
  nullable(object({ own: Type.Number(), low: Type.Number(), high: Type.Number(), z: Type.Number() }, what));

/** One chamber among chambers of its kind in the same state. */
export const Sisters = object({
  chamber: Type.String(),
  kind: nullable(Type.String()),
  state: nullable(words(OPERATING_STATES)),
  unit: words(PRESSURE_UNITS),
  /** Newest scans in that state within this time count. */
  hours: Type.Number(),
  least: Type.Integer({ description: 'Sisters that are needed before anything is told' }),
  at: nullable(Instant),
  scans: Type.Integer(),
  sisters: Type.Array(object({ id: Type.String(), name: Type.String(), at: Instant, scans: Type.Integer() })),
  /** Of its kind, but without scans in that state lately. */
  absent: Type.Array(object({ id: Type.String(), name: Type.String() })),
  gases: Type.Array(
    object({
      gas: Type.String(),
      level: Among('Pressures'),
      drift: Among('Factors on each chamber’s own usual'),
      /** Upper limit where the chamber does not see it. */
      limit: nullable(Type.Number()),
      shared: nullable(object({ moved: Type.Integer(), of: Type.Integer() })),
      seenBy: Type.Integer(),
      unseenBy: Type.Integer(),
      so: words(SISTER_WORDS),
      own: nullable(Type.Number({ description: 'Pressure of this chamber' })),
      /** Of the sisters that see it, without the chamber itself; null: fewer than `least` do. */
      middle: nullable(Type.Number()),
      middleDrift: nullable(Type.Number()),
      ownDrift: nullable(Type.Number({ description: 'Factor on its own usual' })),
      marks: Type.Array(
        object({ chamber: Type.String(), value: nullable(Type.Number()), drift: nullable(Type.Number()) }),
      ),
    }),
  ),
  verdict: object({
    word: words(['stands out', 'shared', 'alike', 'too few', 'no kind', 'no scans'] as const),
    gases: Type.Array(Type.String()),
  }),
});
export type Sisters = Static<typeof Sisters>;
