/**
 * Series whose values resemble their neighbours, taken as a first order autoregression x(k) = φ·x(k−1) + noise, about a
 * level, a line or a parabola that was fitted to them.
 *
 * A fit takes some of the memory away with it: the φ that its residuals show is too small by (p + (p + 2)·φ)/n, where p
 * terms were fitted to n values (P. Shaman and R. A. Stine, J. Am. Stat. Assoc. 83 (1988) 842, and R. A. Stine and
 * P. Shaman, Ann. Stat. 17 (1989) 1275, from memory; with p = 1 it is F. H. C. Marriott and J. A. Pope's (1 + 3φ)/n,
 * Biometrika 41 (1954) 390).
 */

/** Closer to 1 than this it is a drift: no error of a fit can be had from it. */
const MOST_MEMORY = 0.98;

/**
 * φ as it is to be used for an error, from 0 on: scans that avoid the value of their neighbour are not known.
 *
 * The variance of a mean goes as (1 + φ)/(1 − φ), which bends upwards: averaged over what φ may be, with M. S. Bartlett's
 * variance (1 − φ²)/n (J. R. Stat. Soc. Suppl. 8 (1946) 27), it is to first order that of φ + (1 + φ)/n.
 *
 * @param terms fitted before: 1 for a mean, 2 for a line
 */
export function memoryOf(residuals: readonly number[], terms: number): number {
  const n = residuals.length;
  let [together, squares] = [0, 0];
  for (let k = 0; k < n; k++) {
    const here = residuals[k] ?? 0;
    squares += here ** 2;
    if (k > 0) together += here * (residuals[k - 1] ?? 0);
  }
  if (!(squares > 0)) return 0;
  const seen = (together * n) / (squares * (n - 1));
  const phi = seen + (terms + (terms + 2) * seen) / n;
  return Math.max(0, Math.min(MOST_MEMORY, phi + (1 + phi) / n));
}

/**
 * Σ Σ w(j)·w(k)·φ^|j − k|: the variance of a sum of values of variance 1 with these weights. Without memory Σ w².
 *
 * Example: two values of weight ½ with φ = 0.5 → ¼ + ¼ + 2·¼·0.5 = 0.75, where 0.5 would be without memory.
 */
export function rememberedSquare(weights: readonly number[], phi: number): number {
  let [sum, earlier] = [0, 0];
  for (const weight of weights) {
    sum += weight * (weight + 2 * phi * earlier);
    earlier = weight + phi * earlier;
  }
  return sum;
}

/** Values that count among `n`: as many without memory would say as much of their mean. */
export const effectiveOf = (n: number, phi: number): number => (n * (1 - phi)) / (1 + phi);
