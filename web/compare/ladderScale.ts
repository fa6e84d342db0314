import { type LogAxis, logAxis } from '../charts/logAxis.ts';
import { shareOf } from '../charts/planScale.ts';
import type { ComparedGas } from './beforeWords.ts';

export interface Ladder {
  readonly ticks: readonly number[];
  /** Place of a pressure as a share of the width; null: it cannot stand on a log axis. */
  readonly place: (pressure: number | null | undefined) => number | null;
}

/** One log axis for all gases: everything that a row draws lies on it. */
export function ladderOf(gases: readonly ComparedGas[]): Ladder {
  const drawn = gases.flatMap(({ before, after, usual }) => [
    ...[before, after].flatMap((side) => (side === null ? [] : [side.value, side.comparedHigh, side.comparedLow])),
    usual?.low,
    usual?.high,
  ]);
  const axis: LogAxis = logAxis(drawn);
  return {
    ticks: axis.ticks,
    place: (pressure) =>
      pressure == null || !(pressure > 0) ? null : Math.max(0, Math.min(1, shareOf(pressure, axis))),
  };
}
