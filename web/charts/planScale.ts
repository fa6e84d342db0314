/** The planner's curve: what can be seen against the number of sweeps, both on log axes. */
import { type LogAxis, logAxis } from './logAxis.ts';

export interface PlanPoint {
  readonly sweeps: number;
  readonly seconds: number;
  readonly detectable: number;
  readonly white: number;
}

export interface PlanAxes {
  readonly x: LogAxis;
  readonly y: LogAxis;
}

/** Axes that hold the curve, what noise alone would do, and the pressure that is wanted. */
export function planAxes(curve: readonly PlanPoint[], wanted: number): PlanAxes {
  return {
    x: logAxis(curve.map(({ sweeps }) => sweeps)),
    y: logAxis([...curve.flatMap(({ detectable, white }) => [detectable, white]), wanted]),
  };
}

/** Place of a value on a log axis, as a share of its length. */
export const shareOf = (value: number, axis: LogAxis): number =>
  Math.log10(value / axis.low) / Math.log10(axis.high / axis.low);
