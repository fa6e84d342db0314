import type { Evidence } from '../../shared/contract/alerts.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { digitsFor, intervalAround, plain, scientific, scientificRange } from '../notation/number.ts';
import { words } from '../strings/alerts.ts';

type Numbers = Pick<Evidence, 'value' | 'low' | 'high' | 'unit'>;

/** Units that are written with powers of ten; the rest are plain numbers. */
const SCIENTIFIC: Readonly<Record<string, string>> = { 'Pa*m3/s': 'Pa·m³/s', mbar: 'mbar', Torr: 'Torr' };

/** Ratios are compared with narrow ranges: two digits would round the difference away. */
const RATIO_DIGITS = 3;

/** 0.0037 is written with two digits, 0.0115 with three: no zeros that nobody set. */
const digitsNeeded = (value: number): number =>
  Math.max(
    1,
    value
      .toExponential(RATIO_DIGITS - 1)
      .replace(/0*e.*/, '')
      .replace(/[^0-9]/g, '').length,
  );

/** Both bounds end at the same decimal: `0.115–0.150`, so that they can be compared at a glance. */
function plainRange(low: number, high: number): string {
  const decimals = (value: number) => digitsNeeded(value) - 1 - Math.floor(Math.log10(Math.abs(value)));
  const places = Math.max(decimals(low), decimals(high));
  const write = (value: number) =>
    plain(Number(value.toPrecision(RATIO_DIGITS)), Math.max(1, places + 1 + Math.floor(Math.log10(Math.abs(value)))));
  return `${write(low)}–${write(high)}`;
}

interface Written {
  readonly unit: string;
  readonly convert: (value: number) => number;
  readonly asPlain: boolean;
}

function written(unit: string, reader: PressureUnit): Written {
  const same = (value: number) => value;
  if (unit === 'Pa') return { unit: reader, convert: (value) => fromPascal(value, reader), asPlain: false };
  const scientificUnit = SCIENTIFIC[unit];
  if (scientificUnit) return { unit: scientificUnit, convert: same, asPlain: false };
  return { unit: unit === '1' ? '' : unit, convert: same, asPlain: true };
}

/** `1.1×10⁻⁷ (0.8–1.5)`, `below 0.0073` or `cannot tell`, with its unit apart. */
export function foundText(evidence: Numbers, reader: PressureUnit): { number: string; unit: string } {
  const { unit, convert, asPlain } = written(evidence.unit, reader);
  const write = (value: number, digits: number) => (asPlain ? plain(value, RATIO_DIGITS) : scientific(value, digits));
  const { value, low, high } = evidence;
  // Zero is never written: where nothing was found, what can be said is how much it is at most.
  const nothing = value === null || value === undefined || (value <= 0 && typeof high === 'number' && high > 0);
  if (nothing) {
    if (typeof high === 'number' && high > 0)
      return { number: words.below(asPlain ? plain(convert(high)) : scientific(convert(high))), unit };
    return { number: words.cannotTell, unit: '' };
  }
  if (!asPlain && value <= 0) return { number: words.belowDetection, unit: '' };
  if (typeof low !== 'number' || typeof high !== 'number') return { number: write(convert(value), 2), unit };
  const interval = { low: convert(low), high: convert(high) };
  const digits = asPlain ? RATIO_DIGITS : digitsFor(convert(value), interval);
  return {
    number: `${write(convert(value), digits)} ${intervalAround(convert(value), interval, digits, asPlain)}`,
    unit,
  };
}

/**
 * What was expected: from its bounds where there are any, because words of the server are in pascal, else in its
 * words. One bound alone is "above" or "at most".
 */
export function expectedText(evidence: Evidence, reader: PressureUnit): string {
  const { convert, asPlain } = written(evidence.unit, reader);
  const low = bound(evidence.expectedLow, convert);
  const high = bound(evidence.expectedHigh, convert);
  const write = (value: number) =>
    asPlain ? plain(Number(value.toPrecision(RATIO_DIGITS)), digitsNeeded(value)) : scientific(value);
  if (low !== null && high !== null) {
    if (low <= 0) return words.atMost2(write(high));
    return asPlain ? plainRange(low, high) : scientificRange(low, high);
  }
  if (evidence.expected !== null && (asPlain || (low === null && high === null))) return evidence.expected;
  if (high !== null) return words.atMost2(write(high));
  return low === null ? '—' : words.above(write(low));
}

const bound = (value: number | null | undefined, convert: (value: number) => number): number | null =>
  typeof value === 'number' && Number.isFinite(value) ? convert(value) : null;
