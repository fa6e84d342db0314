import { nullable, object, type Static, Type, words } from './schema.ts';
import { PRESSURE_UNITS } from './words.ts';

const number = (description: string) => nullable(Type.Number({ description }));

/** How long to average until a pressure can be seen. */
export const Plan = object({
  analyser: Type.String(),
  gas: Type.String(),
  unit: words(PRESSURE_UNITS),
  pressure: Type.Number(),
  detectionMultiple: Type.Number(),
  mass: nullable(Type.Integer({ description: 'The peak that it is seen by' })),
  /** Null: not by averaging, or not known; `because` says which. */
  sweeps: nullable(Type.Integer()),
  responseSeconds: number('Sweeps times seconds per sweep'),
  /** Averaging beyond this does not help. */
  bestSweeps: nullable(Type.Integer()),
  leastDetectable: number('With the best averaging'),
  now: number('Detectable with one scan as it is taken now'),
  because: Type.String(),
  curve: Type.Array(
    object({
      sweeps: Type.Integer(),
      seconds: Type.Number(),
      detectable: Type.Number({ description: 'Measured: multiple of the Allan deviation over the response' }),
      white: Type.Number({ description: 'What it would be if noise fell as the square root' }),
    }),
  ),
});
export type Plan = Static<typeof Plan>;
