/** Uncertainty of the bench's own figures. */
import { seededRandom } from '../../support/instrument.ts';

/** P(X ≤ k) of a Poisson count. */
function poissonUpTo(k: number, mean: number): number {
  let term = Math.exp(-mean);
  let sum = 0;
  for (let i = 0; i <= k; i++) {
    sum += term;
    term *= mean / (i + 1);
  }
  return sum;
}

function meanWith(k: number, probability: number): number {
  let low = 0;
  let high = 60 + 10 * k;
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (poissonUpTo(k, middle) > probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Exact 95 % interval of a Poisson mean from a count (F. Garwood, Biometrika 28 (1936) 437). */
export const poissonInterval = (count: number): [number, number] => [
  count === 0 ? 0 : meanWith(count - 1, 0.975),
  meanWith(count, 0.025),
];

const RESAMPLES = 2000;

/** 95 % interval of the sum, chambers drawn with replacement: alarms come in clumps (B. Efron, Ann. Stat. 7 (1979) 1). */
export function resampledInterval(counts: readonly number[]): [number, number] {
  const { uniform } = seededRandom(1);
  const sums = Array.from({ length: RESAMPLES }, () => {
    let sum = 0;
    for (let i = 0; i < counts.length; i++) sum += counts[Math.floor(uniform() * counts.length)]!;
    return sum;
  }).sort((a, b) => a - b);
  return [sums[Math.floor(0.025 * RESAMPLES)]!, sums[Math.floor(0.975 * RESAMPLES)]!];
}

/** 95 % interval of a share (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209). */
export function shareInterval(hits: number, of: number): [number, number] {
  if (of === 0) return [0, 1];
  const z = 1.96;
  const share = hits / of;
  const centre = (share + (z * z) / (2 * of)) / (1 + (z * z) / of);
  const half = (z / (1 + (z * z) / of)) * Math.sqrt((share * (1 - share)) / of + (z * z) / (4 * of * of));
  return [Math.max(0, centre - half), Math.min(1, centre + half)];
}
