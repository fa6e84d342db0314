import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import { logAxis } from '../charts/logAxis.ts';
import { shareOf } from '../charts/planScale.ts';

export type FloorLine = AnalyserMeasurement['floors'][number];

export interface FloorPlaces {
  /** Place of a pressure as a share of the picture's width, 0 to 1. */
  readonly place: (pressurePa: number) => number;
  readonly decades: readonly number[];
}

/** One log axis for all gases, so that floors can be compared down the column. */
export function floorPlaces(floors: readonly FloorLine[]): FloorPlaces {
  const axis = logAxis(floors.flatMap(({ floor, limit, detected }) => [floor, detected ? null : limit]));
  return {
    place: (pressurePa) => Math.max(0, Math.min(1, shareOf(pressurePa, axis))),
    decades: axis.ticks.filter((tick) => tick > axis.low && tick < axis.high),
  };
}
