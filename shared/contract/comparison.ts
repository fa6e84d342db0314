import { Note } from './readings.ts';
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { PRESSURE_UNITS } from './words.ts';

const number = (description: string) => nullable(Type.Number({ description }));

/** Two analysers on one chamber, each gas as a ratio to the chosen one. */
export const Comparison = object({
  chamber: Type.String(),
  analysers: Type.Tuple([Type.String(), Type.String()]),
  from: Instant,
  to: Instant,
  unit: words(PRESSURE_UNITS),
  relativeTo: Type.String(),
  scans: Type.Tuple([Type.Integer(), Type.Integer()]),
  gases: Type.Array(
    object({
      gas: Type.String(),
      first: object({ value: number('Mean'), low: number('95 %'), high: number('95 %'), detectedShare: Type.Number() }),
      second: object({
        value: number('Mean'),
        low: number('95 %'),
        high: number('95 %'),
        detectedShare: Type.Number(),
      }),
      ratio: number('Second over first, both relative to the chosen gas'),
      ratioLow: number('95 %'),
      ratioHigh: number('95 %'),
      differs: words(['no', 'yes', 'cannot tell'] as const),
      /** In words: which of the two has more, by how much. */
      verdict: Type.String(),
    }),
  ),
  /** Which of them adds gas of its own, in a sentence; null: neither can be said to. */
  addsGas: nullable(object({ analyser: Type.String(), gases: Type.Array(Type.String()) })),
  verdict: Type.String(),
  notes: Type.Array(Note),
});
export type Comparison = Static<typeof Comparison>;
