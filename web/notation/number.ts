import { LOCALE } from '../strings/locale.ts';
import { words } from '../strings/notation.ts';

/**
 * How a number is written: two significant digits, three where the interval is narrower than 5 %;
 * `3.1×10⁻⁸` with the real signs. Zero is never written: there is no such measurement.
 */
const SUPERSCRIPT: Readonly<Record<string, string>> = {
  '-': '⁻',
  0: '⁰',
  1: '¹',
  2: '²',
  3: '³',
  4: '⁴',
  5: '⁵',
  6: '⁶',
  7: '⁷',
  8: '⁸',
  9: '⁹',
};

const formats = new Map<number, Intl.NumberFormat>();

/** So many digits behind the decimal sign of the language; groups are ours (see `thousands`). */
export function fixed(value: number, digits: number): string {
  let format = formats.get(digits);
  if (!format) {
    format = new Intl.NumberFormat(LOCALE, {
      minimumFractionDigits: digits,
      maximumFractionDigits: digits,
      useGrouping: false,
    });
    formats.set(digits, format);
  }
  return format.format(value);
}

const DECIMAL = new Intl.NumberFormat(LOCALE).formatToParts(0.5).find(({ type }) => type === 'decimal')?.value ?? '.';
const AT_END = new RegExp(`(\\${DECIMAL}\\d*?)0+(?=×|$)`);
/** Without zeros behind the last digit that says something, and without a decimal sign that stands alone. */
const withoutZeros = (text: string): string =>
  text.replace(AT_END, '$1').replace(new RegExp(`\\${DECIMAL}(?=×|$)`), '');

export const superscript = (n: number): string => [...String(n)].map((sign) => SUPERSCRIPT[sign] ?? sign).join('');

/** `10⁻⁸`, the label of a decade on an axis. */
export const decadeLabel = (power: number): string => (power === 0 ? '1' : `10${superscript(power)}`);

/** Narrower than this share of the value, an interval earns a third digit. */
const NARROW_INTERVAL = 0.05;
/** Powers of ten that are still written out: 0.0124 and 1 700 are easier to read than 1.2×10⁻² and 1.7×10³. */
const PLAIN_FROM = -3;
const PLAIN_TO = 4;

export interface Interval {
  readonly low: number;
  readonly high: number;
}

export const digitsFor = (value: number, interval?: Interval | null): number =>
  interval && interval.high - interval.low < NARROW_INTERVAL * Math.abs(value) ? 3 : 2;

/** Mantissa and power of ten after rounding to `digits`, so that 9.96 becomes 1.0×10¹ and not 10.0. */
export function mantissaAndPower(value: number, digits: number): { mantissa: string; power: number } {
  const [mantissa = '', power = '0'] = value.toExponential(digits - 1).split('e');
  return { mantissa: fixed(Number(mantissa), digits - 1), power: Number(power) };
}

const signed = (text: string): string => text.replace('-', '−');

/** `3.1×10⁻⁸`, for pressures and rates. */
export function scientific(value: number, digits = 2): string {
  const { mantissa, power } = mantissaAndPower(value, digits);
  if (power === 0) return signed(mantissa);
  return `${signed(mantissa)}×10${superscript(power)}`;
}

/** `0.0124`, `17`, `1 700`, and scientific beyond: for ratios and other plain numbers. */
export function plain(value: number, digits = 2): string {
  if (value === 0) return '0';
  const { power } = mantissaAndPower(value, digits);
  if (power < PLAIN_FROM || power > PLAIN_TO) return scientific(value, digits);
  const text = fixed(value, Math.max(0, digits - 1 - power));
  return signed(power >= 3 ? thousands(Number(value.toPrecision(digits)).toFixed(0)) : text);
}

/** The same without zeros at its end: for what was set or counted, not measured: `3`, `0.85`, `± 5`. */
export const brief = (value: number, digits = 3): string => withoutZeros(plain(value, digits));

/** Groups of three with a thin no-break space. */
export const thousands = (digits: string): string => digits.replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f');

/** `0.8–1.5×10⁻⁷`: a range in the power of its upper end, or both written out when they lie apart. */
export function scientificRange(low: number, high: number, digits = 2): string {
  const { mantissa, power } = mantissaAndPower(high, digits);
  const scaled = low / 10 ** power;
  if (power === 0 || scaled < 0.1) return words.range(scientific(low, digits), scientific(high, digits));
  return `${fixed(scaled, digits - 1)}–${mantissa}×10${superscript(power)}`;
}

/** A count of things, in full. */
export const count = (n: number): string => thousands(String(Math.round(n)));

/** `×39`, `÷2.5`: one decimal below 1.95, then two digits. `decades` is log10 of the factor. */
export function factor(decades: number): string {
  const times = 10 ** Math.abs(decades);
  const sign = decades < 0 ? '÷' : '×';
  if (times < 1.95) return sign + fixed(times, 1);
  if (times >= 9.5) return sign + thousands(Number(times.toPrecision(2)).toFixed(0));
  return sign + withoutZeros(fixed(times, 1));
}

/** The same in prose: `39 times`. */
export const timesInWords = (decades: number): string => words.times(factor(decades).slice(1));

/** An interval in brackets with the value's power: `(2.4–3.9)`, or `(8×10⁻¹⁰ to 1.2×10⁻⁸)` across a power. */
export function intervalAround(value: number, interval: Interval, digits: number, asPlain = false): string {
  if (asPlain) return `(${plain(interval.low, digits)}–${plain(interval.high, digits)})`;
  const { power } = mantissaAndPower(value, digits);
  const low = interval.low / 10 ** power;
  const high = interval.high / 10 ** power;
  if (low >= 0.1 && high < 9.95) return `(${fixed(low, digits - 1)}–${fixed(high, digits - 1)})`;
  return words.interval(scientific(interval.low, digits), scientific(interval.high, digits));
}
