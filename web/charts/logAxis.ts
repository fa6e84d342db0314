/**
 * A log axis: whole decades from below the smallest to above the largest value. Zero and less do not exist on it;
 * what is not positive is left out here, and drawn elsewhere as "below detection".
 */
export interface LogAxis {
  readonly low: number;
  readonly high: number;
  /** Whole powers of ten, at most `MOST_TICKS`. */
  readonly ticks: readonly number[];
}

const MOST_TICKS = 9;
/** An axis shorter than this would make noise look like an event. */
const LEAST_DECADES = 2;
/** Where nothing is known: the pressures of ultra-high vacuum. */
const EMPTY = { low: -11, high: -6 };
/** Doubles are exact enough for a decade, but log10(1e-11) may fall a hair beside −11. */
const HAIR = 1e-9;

/** One molecule in a cubic metre at room temperature is 4×10⁻²¹ Pa (k·T): what is far below is a rounding error. */
const SMALLEST = 1e-30;

const isPlottable = (value: number | null | undefined): value is number =>
  typeof value === 'number' && Number.isFinite(value) && value > SMALLEST;

export function logAxis(values: readonly (number | null | undefined)[]): LogAxis {
  let smallest = Number.POSITIVE_INFINITY;
  let largest = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (!isPlottable(value)) continue;
    const power = Math.log10(value);
    if (power < smallest) smallest = power;
    if (power > largest) largest = power;
  }
  if (smallest > largest) return axisBetween(EMPTY.low, EMPTY.high);
  const low = Math.floor(smallest + HAIR);
  const high = Math.max(Math.ceil(largest - HAIR), low + LEAST_DECADES);
  return axisBetween(low, high);
}

function axisBetween(low: number, high: number): LogAxis {
  const step = Math.ceil((high - low + 1) / MOST_TICKS);
  const ticks: number[] = [];
  for (let power = low; power <= high; power += step) ticks.push(10 ** power);
  return { low: 10 ** low, high: 10 ** high, ticks };
}

/** A value for a log scale: null instead of what cannot stand on it. */
export const plottable = (value: number | null | undefined): number | null => (isPlottable(value) ? value : null);
