/**
 * Values of the normal distribution: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions (1964), Tables
 * 26.1 to 26.3 (from memory, as any table prints them): Φ(1) = 0.84134 47461, Q(5) = 2.86652e-7, Q(8) = 6.2210e-16.
 */
import { describe, expect, test } from 'vitest';
import {
  normalCumulative,
  normalDensity,
  quantileOfTail,
  upperTail,
} from '../../../../shared/analysis/sequential/normal.ts';

describe('normal distribution', () => {
  test('of tables', () => {
    expect(normalDensity(0)).toBeCloseTo(0.3989422804, 10);
    expect(normalCumulative(1)).toBeCloseTo(0.8413447461, 10);
    expect(normalCumulative(-1)).toBeCloseTo(0.1586552539, 10);
    expect(upperTail(5) / 2.86652e-7).toBeCloseTo(1, 5);
    expect(upperTail(8) / 6.221e-16).toBeCloseTo(1, 4);
  });

  test('series and fraction meet', () => {
    const seam = 2.5 * Math.SQRT2;
    const slope = (upperTail(seam - 1e-6) - upperTail(seam + 1e-6)) / 2e-6;
    expect(slope / normalDensity(seam)).toBeCloseTo(1, 6);
  });

  test.each([0.5, 0.1, 1e-3, 1e-6, 1e-12, 0.975])('the quantile of a tail of %d has that tail', (probability) => {
    expect(upperTail(quantileOfTail(probability)) / probability).toBeCloseTo(1, 9);
  });

  test.each([0, 1, -0.1, Number.NaN])('there is no quantile for a probability of %d', (probability) => {
    expect(() => quantileOfTail(probability)).toThrow('probability must lie between 0 and 1');
  });
});
