/** What takes hours to months: a pump-down that is going on, and the parts of an analyser that wear. */
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';

const number = (description: string) => nullable(Type.Number({ description }));

export const PumpDown = object({
  from: Instant,
  at: Instant,
  ageSeconds: Type.Number(),
  pressure: Type.Number(),
  usual: number('Of this chamber’s good pump-downs at this age; null with fewer than two'),
  lateAbove: number('Above it the pump-down is late'),
  usualDurationSeconds: number('Until a usual one is at its end'),
  examples: Type.Integer({ description: 'Good pump-downs that it is compared with' }),
  exponent: nullable(object({ value: Type.Number(), low: Type.Number(), high: Type.Number() })),
  target: number('Level at which it counts as done'),
  /** Age at which it is there at this rate, seconds; null within: never. */
  arrival: nullable(
    object({ at: nullable(Type.Number()), earliest: nullable(Type.Number()), latest: nullable(Type.Number()) }),
  ),
  say: Type.String(),
});
export type PumpDown = Static<typeof PumpDown>;

export const WEARING = ['gain', 'sensitivity', 'floor'] as const;

export const LifeForecast = object({
  of: words(WEARING),
  /** Share of the way from where it began to its end. */
  gone: Type.Number(),
  /** At this rate; null: never. */
  dueAt: nullable(Instant),
  earliest: nullable(Instant),
  latest: nullable(Instant),
  days: Type.Integer({ description: 'Days that it is worked out from' }),
  say: Type.String(),
});
export type LifeForecast = Static<typeof LifeForecast>;
