import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { withSubscripts } from './gas.ts';
import { scientific, superscript } from './number.ts';
import { NBSP } from './pressure.ts';

const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const readPower = (text: string): number =>
  Number([...text].map((sign) => (sign === '⁻' ? '-' : SUPERSCRIPTS.indexOf(sign))).join(''));

/** `2.3×10⁻⁹ Pa (1.6–3.2)`; a leak rate in `Pa·m³/s` is another quantity and stays as it is. */
const PRESSURE_IN_TEXT =
  /(\d+(?:\.\d+)?)×10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)[ \u00a0\u202f]Pa(?![·*\w])(?: \((\d+(?:\.\d+)?)–(\d+(?:\.\d+)?)\))?/g;

interface FoundPressure {
  readonly mantissa: string;
  readonly power: number;
  readonly low: string | undefined;
  readonly high: string | undefined;
}

function rewritten(found: FoundPressure, unit: PressureUnit): string {
  const digits = Math.max(1, found.mantissa.replace('.', '').length);
  const value = fromPascal(Number(found.mantissa) * 10 ** found.power, unit);
  const number = `${scientific(value, digits)}${NBSP}${unit}`;
  if (found.low === undefined || found.high === undefined) return number;
  const power = Number(value.toExponential(digits - 1).split('e')[1]);
  const part = (text: string) => fromPascal(Number(text) * 10 ** (found.power - power), unit).toFixed(digits - 1);
  return `${number} (${part(found.low)}–${part(found.high)})`;
}

/** `1.4e-7` is for files and programs; a reader gets `1.4×10⁻⁷`. */
const withRealPowers = (text: string): string =>
  text.replace(/(?<![\w.])(\d+(?:\.\d+)?)e([+-]?\d{1,3})(?!\w)/g, (_all, mantissa: string, power: string) => {
    const value = Number(power);
    return value === 0 ? mantissa : `${mantissa}×10${superscript(value)}`;
  });

/**
 * A sentence of the server, in the reader's unit: sentences are written in pascal, and a unit changes all
 * numbers of a page at once.
 */
export function sentenceIn(text: string, unit: PressureUnit): string {
  const spaced = withRealPowers(withSubscripts(text)).replace(
    /([\d⁰¹²³⁴⁵⁶⁷⁸⁹)]) (?=(?:Pa|mbar|Torr|u|h|min|s|d|l|°C|%)(?![\p{L}\d]))/gu,
    `$1${NBSP}`,
  );
  if (unit === 'Pa') return spaced;
  return spaced.replace(PRESSURE_IN_TEXT, (_all, mantissa: string, power: string, low?: string, high?: string) =>
    rewritten({ mantissa, power: readPower(power), low, high }, unit),
  );
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** `1 chamber`, `3 chambers`. */
export const several = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

export { listed } from '../strings/plural.ts';
