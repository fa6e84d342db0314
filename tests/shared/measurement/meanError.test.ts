/**
 * Outside: Student's t from the usual table (two-sided 95 %: 12.706, 4.303, 3.182, 2.571, 2.228, 2.042, 1.980 for 1, 2, 3,
 * 5, 10, 30, 120 degrees of freedom; Abramowitz and Stegun, table 26.10). The variance of the mean of n values of a first
 * order autoregression is σ²/n · [(1+φ)/(1−φ) − 2φ(1−φⁿ)/(n(1−φ)²)] (any text on time series). The series themselves
 * are simulated, seeds fixed.
 */
import { expect, test } from 'vitest';
import { meanError, student95 } from '../../../shared/measurement/meanError.ts';
import { normals } from './normals.ts';

test.each([
  [1, 12.706],
  [2, 4.303],
  [3, 3.182],
  [5, 2.571],
  [10, 2.228],
  [30, 2.042],
  [120, 1.98],
])('t for %d degrees of freedom is %d', (degrees, t) => {
  expect(Math.abs(student95(degrees) / t - 1)).toBeLessThan(0.01);
});

const autoregression = (next: () => number, count: number, phi: number): number[] => {
  let value = next();
  return Array.from({ length: count }, () => {
    const now = value;
    value = phi * value + Math.sqrt(1 - phi ** 2) * next();
    return now;
  });
};
const trueError = (n: number, phi: number): number =>
  Math.sqrt(((1 + phi) / (1 - phi) - (2 * phi * (1 - phi ** n)) / (n * (1 - phi) ** 2)) / n);

const RUNS = 300;
/** Mean of the estimated over the true error. */
const overTrue = (phi: number): number => {
  const next = normals(11);
  const sums = Array.from({ length: RUNS }, () => meanError(autoregression(next, 64, phi))!.sigma);
  return sums.reduce((a, b) => a + b, 0) / RUNS / trueError(64, phi);
};

test('of independent values it is not much more than their scatter over √n', () => {
  expect(overTrue(0)).toBeGreaterThan(0.98);
  expect(overTrue(0)).toBeLessThan(1.3);
});

test('of values that resemble their neighbours it is not the third that √n would say', () => {
  const phi = 0.8;
  // The scatter over √n alone would be 1/√64 over the true error: 0.34.
  expect(1 / 8 / trueError(64, phi)).toBeCloseTo(0.34, 1);
  // Seven such memories in the series: the longest blocks are still a little short. Student's t makes up for most of it.
  expect(overTrue(phi)).toBeGreaterThan(0.65);
  expect(overTrue(phi)).toBeLessThan(1.15);
});

test('needs two values', () => {
  expect(meanError([1])).toBeNull();
  expect(meanError([1, 3])).toEqual({ mean: 2, sigma: 1, blocks: 2 });
});
