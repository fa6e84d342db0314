/** The normal distribution, as far as intervals need it. */

const CENTRAL = 0.02425;
const A = [
  -3.969683028665376e1, 2.209460984245205e2, -2.759285104469687e2, 1.38357751867269e2, -3.066479806614716e1,
  2.506628277459239,
] as const;
const B = [
  -5.447609879822406e1, 1.615858368580409e2, -1.556989798598866e2, 6.680131188771972e1, -1.328068155288572e1, 1,
] as const;
const C = [
  -7.784894002430293e-3, -3.223964580411365e-1, -2.400758277161838, -2.549732539343734, 4.374664141464968,
  2.938163982698783,
] as const;
const D = [7.784695709041462e-3, 3.224671290700398e-1, 2.445134137142996, 3.754408661907416, 1] as const;

const horner = (coefficients: readonly number[], x: number): number =>
  coefficients.reduce((sum, coefficient) => sum * x + coefficient, 0);

/**
 * z with Φ(z) = `share`; NaN outside 0 to 1. Rational approximation of P. J. Acklam (2003), relative error below
 * 1.2×10⁻⁹; its coefficients are from memory and checked against tabulated quantiles.
 */
export function normalQuantile(share: number): number {
  if (!(share >= 0 && share <= 1)) return Number.NaN;
  if (share === 0) return Number.NEGATIVE_INFINITY;
  if (share === 1) return Number.POSITIVE_INFINITY;
  if (share > 1 - CENTRAL) return -normalQuantile(1 - share);
  if (share < CENTRAL) {
    const q = Math.sqrt(-2 * Math.log(share));
    return horner(C, q) / horner(D, q);
  }
  const q = share - 0.5;
  return (q * horner(A, q * q)) / horner(B, q * q);
}

/** Half width, in standard deviations, of the two-sided interval that holds `confidence`. */
export const twoSided = (confidence: number): number => normalQuantile((1 + confidence) / 2);

/**
 * Quantile of Student's t with four degrees of freedom or more: expansion about the normal one, within 2 % for shares
 * from 0.001 to 0.999 (M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 26.7.5).
 */
export function studentQuantile(share: number, degreesOfFreedom: number): number {
  const z = normalQuantile(share);
  const first = (z ** 3 + z) / 4;
  const second = (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96;
  const third = (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / 384;
  return z + first / degreesOfFreedom + second / degreesOfFreedom ** 2 + third / degreesOfFreedom ** 3;
}
