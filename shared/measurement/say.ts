/** Numbers in sentences about the measurement: two digits for what is estimated. */
import { fromPascal, type PressureUnit } from '../units.ts';

/** `2.3e-7 Pa`, in the unit that was asked for. */
export const sayPressure = (pressurePa: number, unit: PressureUnit): string =>
  `${fromPascal(pressurePa, unit).toExponential(1)} ${unit}`;

const STEPS = [
  { unit: 'd', seconds: 86_400 },
  { unit: 'h', seconds: 3600 },
  { unit: 'min', seconds: 60 },
] as const;
/** A larger unit takes over where it has two of its own. */
const TAKES_OVER = 2;

const twoDigits = (value: number): string => {
  const rounded = Number(value.toPrecision(2));
  return value >= 100 ? String(Math.round(value)) : String(rounded);
};

/** `0.26 s`, `45 s`, `4.5 min`, `3 h`, `12 d`. */
export function sayDuration(seconds: number): string {
  const step = STEPS.find((one) => seconds >= TAKES_OVER * one.seconds);
  return step === undefined ? `${twoDigits(seconds)} s` : `${twoDigits(seconds / step.seconds)} ${step.unit}`;
}

const GROUPED = new Intl.NumberFormat('en-US');

/** `1 sweep`, `3,200 sweeps`. */
export const sayTimes = (count: number, word: string): string =>
  `${GROUPED.format(count)} ${word}${count === 1 ? '' : 's'}`;

/** A ratio as people say it: `2.6 times`, `12 times`. */
export const sayRatio = (ratio: number): string => `${twoDigits(ratio)} times`;
