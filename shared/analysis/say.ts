import { fromPascal } from '../units.ts';

/** Numbers in sentences: two digits for what is estimated, Pa throughout. */

/** `2.3e-7 Pa`. */
export const sayPressure = (pressurePa: number): string => `${pressurePa.toExponential(1)} Pa`;

/** The same beside the unit that older equipment shows: `2.3e-7 Pa (2.3e-9 mbar)`. */
export const sayPressureTwice = (pressurePa: number): string =>
  `${sayPressure(pressurePa)} (${fromPascal(pressurePa, 'mbar').toExponential(1)} mbar)`;

/** `0.04 %`, `12 %`: two digits, no exponent. */
export function sayShare(share: number): string {
  const percent = 100 * share;
  if (percent >= 9.95) return `${percent.toFixed(0)} %`;
  if (percent >= 0.995) return `${percent.toFixed(1)} %`;
  return percent < 0.005 ? 'less than 0.01 %' : `${percent.toFixed(2)} %`;
}
