/**
 * The normal distribution with its far tail: a chart that is wrong once in a month of scans lives at 10⁻⁵ and beyond,
 * where 1 − Φ(z) would have no digits left.
 *
 * erfc: the power series of erf (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, 7.1.6) below 2.5, the
 * continued fraction (7.1.14) above.
 */
const SERIES_TO = 2.5;
const FRACTION_TERMS = 120;
const ROOT_2PI = Math.sqrt(2 * Math.PI);

export const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / ROOT_2PI;

/** P(Z > z), to about 13 digits for any z. */
export const upperTail = (z: number): number => 0.5 * complementaryError(z / Math.SQRT2);

/** P(Z ≤ z). */
export const normalCumulative = (z: number): number => upperTail(-z);

/**
 * The z that is exceeded with this probability, 0 < probability < 1.
 *
 * @throws RangeError outside of that
 */
export function quantileOfTail(probability: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`probability must lie between 0 and 1, not ${probability}`);
  }
  if (probability > 0.5) return -quantileOfTail(1 - probability);
  let low = 0;
  let high = 40;
  // Halving is slow and cannot fail; 60 halvings of 40 leave 4e-17.
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (upperTail(middle) > probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function complementaryError(x: number): number {
  const size = Math.abs(x);
  const tail = size < SERIES_TO ? 1 - errorSeries(size) : tailFraction(size);
  return x < 0 ? 2 - tail : tail;
}

function errorSeries(x: number): number {
  let sum = x;
  let term = x;
  for (let n = 1; Math.abs(term) > 1e-17 * sum; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

function tailFraction(x: number): number {
  let fraction = 0;
  for (let n = FRACTION_TERMS; n > 0; n--) fraction = n / 2 / (x + fraction);
  return Math.exp(-x * x) / Math.sqrt(Math.PI) / (x + fraction);
}
