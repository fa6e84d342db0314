/** Truth by construction: seeded series with a known middle, with and without memory (first order autoregression). */
import { describe, expect, test } from 'vitest';
import { robustMean, scatterHalf } from '../../../shared/measurement/robustMean.ts';
import { normals } from './normals.ts';

const autoregression = (next: () => number, count: number, phi: number): number[] => {
  let value = next();
  return Array.from({ length: count }, () => {
    const now = value;
    value = phi * value + Math.sqrt(1 - phi ** 2) * next();
    return now;
  });
};

const RUNS = 600;
interface Seen {
  covered: number;
  effective: number;
  /** One half width of ten is larger, in standard deviations of a scan. */
  widest: number;
}
const study = (count: number, phi: number): Seen => {
  const next = normals(count + Math.round(1000 * phi));
  let [covered, effective] = [0, 0];
  const halves: number[] = [];
  for (let run = 0; run < RUNS; run++) {
    const found = robustMean(autoregression(next, count, phi));
    if (found === null) throw new Error('no mean');
    if (Math.abs(found.ln) <= scatterHalf(found)) covered++;
    effective += found.effective;
    halves.push(scatterHalf(found));
  }
  const widest = halves.sort((a, b) => a - b)[Math.floor(0.9 * RUNS)] as number;
  return { covered: covered / RUNS, effective: effective / RUNS, widest };
};

describe('the interval holds the truth', () => {
  // Binomial scatter of 600 runs about 0.95 is 0.009; where the memory is a tenth of the series a little is missing.
  test.each([
    [60, 0, 0.93],
    [240, 0, 0.93],
    [240, 0.5, 0.93],
    [240, 0.8, 0.93],
    [240, 0.9, 0.92],
    [120, 0.9, 0.87],
  ])('%d scans that remember %d of their neighbour', (count, phi, least) => {
    const { covered } = study(count, phi);
    expect(covered).toBeGreaterThan(least);
    expect(covered).toBeLessThan(0.995);
  });

  test('few scans that resemble their neighbours: not so wide that nothing is said, nor so narrow that it is wrong', () => {
    const { covered, widest } = study(17, 0.5);
    expect(covered).toBeGreaterThan(0.88);
    expect(widest).toBeLessThan(3);
    expect(study(17, 0).widest).toBeLessThan(1.2);
  });

  test('scans that resemble one another count for fewer: (1 − φ)/(1 + φ) of them in the long run', () => {
    expect(study(240, 0).effective / 240).toBeGreaterThan(0.7);
    const remembered = study(240, 0.8).effective / 240;
    expect(remembered).toBeLessThan(0.2 / 1.8 + 0.04);
    expect(remembered).toBeGreaterThan(0.2 / 1.8 / 2);
  });
});

test('a burst of a tenth of the scans moves it by less than a tenth of what it moves the mean', () => {
  const next = normals(3);
  const quiet = Array.from({ length: 200 }, () => 0.05 * next());
  const burst = quiet.map((value, k) => (k % 10 === 0 ? value + 5 : value));
  expect(Math.abs(robustMean(burst)?.ln as number)).toBeLessThan(0.05);
});

test('a scan that does not see the gas is a low one, not a missing one', () => {
  const next = normals(4);
  const seen = Array.from({ length: 100 }, () => 0.1 * next());
  const some = seen.map((value, k) => (k % 5 === 0 ? Number.NEGATIVE_INFINITY : value));
  const found = robustMean(some);
  expect(found?.ln).toBeLessThan(robustMean(seen)?.ln as number);
  expect(found?.ln).toBeGreaterThan(-0.1);
  expect(Number.isFinite(found?.sigma)).toBe(true);
});

test('no answer is an answer', () => {
  expect(robustMean([])).toBeNull();
  expect(robustMean([1])).toBeNull();
  expect(robustMean([1, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY])).toBeNull();
  expect(robustMean([2, 2, 2, 2])).toMatchObject({ ln: 2, sigma: 0 });
  // More than half of them equal: the median absolute deviation is 0, the scatter is not.
  expect(robustMean([2, 2, 2, 2, 2, 3])?.sigma).toBeGreaterThan(0);
});
