import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { words } from '../strings/notation.ts';
import { digitsFor, type Interval, intervalAround, scientific } from './number.ts';

/** No-break space, so that a number never parts from its unit. */
export const NBSP = '\u00a0';

/** A gas as the server reports it; everything in pascal. */
export interface ReportedGas {
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly detected: boolean;
}

/** `3.1×10⁻⁸ Pa`; the number is given in pascal. */
export function pressure(pressurePa: number | null, unit: PressureUnit, digits = 2): string {
  if (pressurePa === null) return words.notMeasured;
  if (pressurePa <= 0) return words.belowDetection;
  return `${scientific(fromPascal(pressurePa, unit), digits)}${NBSP}${unit}`;
}

/** `3.1×10⁻⁸ Pa (2.4–3.9)`, `below 3.0×10⁻¹¹ Pa` or `not measured`. */
export function reportedPressure(gas: ReportedGas | undefined, unit: PressureUnit): string {
  if (!gas || (gas.value === null && gas.high === null)) return words.notMeasured;
  if (!gas.detected)
    return gas.high !== null && gas.high > 0 ? words.below(pressure(gas.high, unit)) : words.belowDetection;
  if (gas.value === null || gas.value <= 0) return words.cannotTell;
  const interval = positiveInterval(gas, unit);
  const value = fromPascal(gas.value, unit);
  const digits = digitsFor(value, interval);
  const number = `${scientific(value, digits)}${NBSP}${unit}`;
  return interval ? `${number} ${intervalAround(value, interval, digits)}` : number;
}

function positiveInterval(gas: ReportedGas, unit: PressureUnit): Interval | null {
  if (gas.low === null || gas.high === null || gas.low <= 0 || gas.high <= 0) return null;
  return { low: fromPascal(gas.low, unit), high: fromPascal(gas.high, unit) };
}
