/**
 * How the watch writes numbers and times in a sentence. Two significant digits, real signs (× and superscripts),
 * a no-break space before the unit. The same value always gives the same text: sentences are compared in tests.
 */
const NBSP = '\u00a0';
const SUPERSCRIPT: Record<string, string> = {
  '-': '⁻',
  '0': '⁰',
  '1': '¹',
  '2': '²',
  '3': '³',
  '4': '⁴',
  '5': '⁵',
  '6': '⁶',
  '7': '⁷',
  '8': '⁸',
  '9': '⁹',
};

const power = (exponent: number): string => [...String(exponent)].map((c) => SUPERSCRIPT[c] ?? c).join('');

/** Mantissa and exponent of `value` at two significant digits: 9.96e-8 → 1.0 and −7. */
function twoDigits(value: number): { mantissa: number; exponent: number } {
  const [mantissa = '0', exponent = '0'] = value.toExponential(1).split('e');
  return { mantissa: Number(mantissa), exponent: Number(exponent) };
}

/** 1.1e-7 → `1.1×10⁻⁷`; between 0.01 and 999 without a power. Zero is for bounds alone: no measurement is zero. */
export function number(value: number): string {
  if (!Number.isFinite(value)) return 'unknown';
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size >= 0.01 && size < 999.5) return String(Number(value.toPrecision(2))).replace('-', '−');
  const { mantissa, exponent } = twoDigits(value);
  return `${mantissa.toFixed(1).replace('-', '−')}×10${power(exponent)}`;
}

/** `3.1×10⁻⁸ Pa (2.4–3.9)`; across a power of ten `3×10⁻⁹ Pa (8×10⁻¹⁰ to 1.2×10⁻⁸)`. */
export function withInterval(value: number, low: number, high: number, unit: string): string {
  const head = `${number(value)}${NBSP}${unit}`;
  if (!(low > 0) || !Number.isFinite(high)) return `${head} (at most ${number(high)})`;
  const { exponent } = twoDigits(value);
  const usesPower = number(value).includes('×');
  const scale = usesPower ? 10 ** exponent : 1;
  const [a, b] = [low / scale, high / scale];
  if (a >= 0.095 && b < 99.5) return `${head} (${Number(a.toPrecision(2))}–${Number(b.toPrecision(2))})`;
  return `${head} (${number(low)} to ${number(high)})`;
}

export const pascal = (valuePa: number): string => `${number(valuePa)}${NBSP}Pa`;

/** `39 times`; from 1 to 1.9 with one decimal: `1.4 times`. */
export function times(factor: number): string {
  if (factor >= 9.95) return `${Number(factor.toPrecision(2)).toLocaleString('en-GB').replaceAll(',', '\u202f')} times`;
  return `${Number(factor.toPrecision(2))} times`;
}

const plural = (count: number, word: string): string => `${count}${NBSP}${word}${count === 1 ? '' : 's'}`;

/** A length of time as it is said: `40 minutes`, `3 hours`, `9 days`. */
export function duration(seconds: number): string {
  if (seconds < 90) return plural(Math.max(1, Math.round(seconds)), 'second');
  if (seconds < 90 * 60) return plural(Math.round(seconds / 60), 'minute');
  if (seconds < 36 * 3600) return plural(Math.round(seconds / 3600), 'hour');
  return plural(Math.round(seconds / 86_400), 'day');
}

/** a, b and c */
export function list(items: readonly string[]): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

export const capitalise = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
