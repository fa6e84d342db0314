/**
 * What two stretches of scans, or one chamber and its sisters, are compared with, against outside answers.
 *
 * - 24 determinations of copper in wholemeal flour, Analytical Methods Committee, Analyst 114 (1989) 1693 (data typed in
 *   from memory; their median absolute deviation comes out as printed). Huber's estimate with k = 1.5 and the deviation
 *   as scale: 3.206724, as the documentation of the R package MASS prints it (from memory), and with k = 1.345: 3.2162522,
 *   the root of the same equation by scipy.optimize.brentq 1.17.1.
 * - Two samples from the encyclopaedia article on B. L. Welch's test (data and ν = 25.0 from memory); ν to ten digits and
 *   both standard errors from scipy.stats.ttest_ind(equal_var=False) and numpy 2.4.
 * - Modified z of seven pressures in ln P: numpy.median and scipy.stats.median_abs_deviation(scale='normal').
 * Expected values were computed there once and are kept here as literals.
 */
import { describe, expect, test } from 'vitest';
import { welchDegrees } from '../../shared/measurement/changeFactor.ts';
import { medianOf, robustMean } from '../../shared/measurement/robustMean.ts';
import { among, BEYOND } from '../../shared/measurement/sisters.ts';

describe('copper in flour', () => {
  const FLOUR = [
    2.9, 3.1, 3.4, 3.4, 3.7, 3.7, 2.8, 2.5, 2.4, 2.4, 2.7, 2.2, 5.28, 3.37, 3.03, 3.03, 28.95, 3.77, 3.4, 2.2, 3.5, 3.6,
    3.7, 3.7,
  ];

  test.each([
    [1.5, 3.206724, 6],
    [1.345, 3.2162522, 6],
  ])('Huber’s estimate with k = %d', (k, published, digits) => {
    expect(robustMean(FLOUR, k)?.ln).toBeCloseTo(published, digits);
  });

  test('the value of 28.95 does not matter: ten times as much gives the same', () => {
    const worse = FLOUR.map((value) => (value === 28.95 ? 289.5 : value));
    expect(robustMean(worse)?.ln).toBeCloseTo(robustMean(FLOUR)?.ln as number, 9);
  });
});

test('degrees of freedom of two samples with unlike scatter', () => {
  const a = { sigma: 0.7242204347401681, degrees: 14 };
  const b = { sigma: 0.5041604682814569, degrees: 14 };
  expect(welchDegrees(a, b)).toBeCloseTo(24.988529290231416, 9);
  expect(welchDegrees(a, b)).toBeCloseTo(25, 1);
});

describe('modified z', () => {
  const LN = [3.3e-7, 7e-9, 7.5e-9, 8e-9, 8.8e-9, 9e-9, 1e-8].map(Math.log);
  const Z = [19.12318185, -1.20744132, -0.84341287, -0.50288699, 0, 0.11857397, 0.67448975];

  test.each(LN.map((own, place) => [own, Z[place] as number, place] as const))(
    'of %d is %d',
    (own, published, place) => {
      const others = LN.filter((_, k) => k !== place);
      const found = among(own, others, 0);
      // 1.4826 is 1/0.6745 to four digits; the library has all of them.
      expect(Math.abs((found?.z as number) - published)).toBeLessThan(2e-4 * Math.abs(published) + 1e-9);
      expect(Math.abs(found?.z as number) > BEYOND).toBe(place === 0);
    },
  );

  test('of an even count the middle is the mean of two', () => {
    expect(medianOf([4, 1, 3, 2])).toBe(2.5);
    expect(medianOf([])).toBeNaN();
  });
});
