/**
 * Lines through series against outside answers.
 *
 * - NIST StRD, linear regression, data set Norris (36 calibrations of an ozone monitor, lower level of difficulty): certified
 *   intercept, slope and their standard deviations. Typed in from memory; scipy.stats.linregress 1.17.1 on these numbers
 *   gives all four certified values to eleven digits.
 * - International calls from Belgium, 1950 to 1973, in tens of millions (P. J. Rousseeuw and A. M. Leroy, Robust Regression
 *   and Outlier Detection, 1987, table 2; from memory): some years were counted in minutes. Huber's line with k = 1.345 and
 *   the deviation 9.032 as scale is −102.6 + 2.04 · year as the documentation of the R package MASS prints it (from memory);
 *   to more digits by scipy.optimize.least_squares(loss='huber', f_scale=1.345·9.032). Median of all slopes:
 *   scipy.stats.theilslopes. Errors of least squares where neighbours resemble each other with φ = 0.7: X(XᵀX)⁻¹ about the
 *   matrix scipy.linalg.toeplitz(0.7ᵏ), numpy 2.4.
 * Expected values were computed there once and are kept here as literals.
 */
import { describe, expect, test } from 'vitest';
import { rememberedSquare } from '../../shared/measurement/memory.ts';
import { orthonormalOver } from '../../shared/measurement/orthonormal.ts';
import { errorsOf, huberLine, pairedSlope } from '../../shared/measurement/robustLine.ts';

const NORRIS = (
  '0.1 0.2,338.8 337.4,118.1 118.2,888.0 884.6,9.2 10.1,228.1 226.5,668.5 666.3,998.5 996.3,449.1 448.6,778.9 777.0,' +
  '559.2 558.2,0.3 0.4,0.1 0.6,778.1 775.5,668.8 666.9,339.3 338.0,448.9 447.5,10.8 11.6,557.7 556.0,228.3 228.1,' +
  '998.0 995.8,888.8 887.6,119.6 120.2,0.3 0.3,0.6 0.3,557.6 556.8,339.3 339.1,888.0 887.2,998.5 999.0,778.9 779.0,' +
  '10.2 11.1,117.6 118.3,228.9 229.2,668.4 669.1,449.2 448.9,0.2 0.5'
)
  .split(',')
  .map((pair) => pair.split(' ').map(Number) as [number, number])
  .sort(([, a], [, b]) => a - b);
const CALLS = [
  4.4, 4.7, 4.7, 5.9, 6.6, 7.3, 8.1, 8.8, 10.6, 12, 13.5, 14.9, 16.1, 21.2, 119, 124, 142, 159, 182, 212, 43, 24, 27,
  29,
];
const YEARS = CALLS.map((_, k) => 50 + k);

/** Bow and turn over their standard deviations, with φ = 0.7: numpy.linalg.qr of 1, t, t², t³. */
const BENDS = [0.5889133819545793, 1.9614146930699092];
/** Nothing is clipped. */
const LEAST_SQUARES = 1e9;
const none = () => 0;
const lineThrough = (x: readonly number[], y: readonly number[]) => {
  const line = huberLine(x, y, 1, LEAST_SQUARES);
  return { ...line, residuals: y.map((value, k) => value - line.intercept - line.slope * (x[k] ?? 0)) };
};
const digits = (found: number, certified: number): number => -Math.log10(Math.abs(found / certified - 1) + 1e-16);

describe('Norris', () => {
  const [y, x] = [NORRIS.map(([of]) => of), NORRIS.map(([, at]) => at)];
  const { intercept, slope, residuals } = lineThrough(x, y);
  // At 0 the level is the intercept.
  const errors = errorsOf(x, residuals, 0, none);

  test.each([
    ['intercept', intercept, -0.262323073774029],
    ['slope', slope, 1.00211681802045],
    ['standard deviation of the intercept', errors.level, 0.232818234301152],
    ['standard deviation of the slope', errors.slope, 0.429796848199937e-3],
  ])('%s', (_, found, certified) => {
    expect(digits(found, certified)).toBeGreaterThan(10);
  });
});

describe('calls from Belgium', () => {
  test('median of all slopes', () => {
    expect(pairedSlope(YEARS, CALLS)).toBeCloseTo(1.3875, 12);
  });

  test('Huber’s line: the wrongly counted years pull little', () => {
    const line = huberLine(YEARS, CALLS, 9.032);
    expect(line.slope).toBeCloseTo(2.04, 2);
    expect(line.intercept).toBeCloseTo(-102.6, 1);
    expect(line.slope).toBeCloseTo(2.0404397, 6);
    expect(line.intercept).toBeCloseTo(-102.57163, 4);
  });

  test('errors of least squares where neighbours resemble each other', () => {
    const errors = errorsOf(YEARS, lineThrough(YEARS, CALLS).residuals, 73, () => 0.7);
    expect(errors.slope).toBeCloseTo(3.9077781741828, 9);
    expect(errors.level).toBeCloseTo(54.5816279724107, 9);
    expect(errors.bends).toHaveLength(BENDS.length);
    for (const [k, bend] of errors.bends.entries())
      expect(Math.abs(bend.found) / bend.error).toBeCloseTo(BENDS[k] as number, 9);
  });
});

test('orthonormal polynomials over 24 years: at the last, up to their signs as numpy.linalg.qr has them', () => {
  const last = [0.204124145231932, 0.339116499156263, 0.402715143965915, 0.420232604155653];
  const found = orthonormalOver(YEARS, 3).at(73);
  expect(found).toHaveLength(last.length);
  for (const [k, value] of found.entries()) expect(value).toBeCloseTo(last[k] as number, 12);
});

test('variance of a weighted sum with memory: wᵀRw', () => {
  expect(rememberedSquare([0.3, -0.2, 0.5, 0.1, -0.4, 0.25, 0.05], 0.7)).toBeCloseTo(0.33918957, 12);
});
