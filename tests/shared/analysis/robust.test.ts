/** Quantiles as numpy.quantile gives them (definition 7, its default); MAD by hand. */
import { describe, expect, test } from 'vitest';
import { median, quantileOfSorted, sigmaFromMad, sortedNumbers } from '../../../shared/analysis/robust.ts';
import { seededRandom } from '../../support/instrument.ts';

describe('quantiles', () => {
  test.each([
    [[3, 1, 2], 0.5, 2],
    [[4, 1, 2, 3], 0.5, 2.5],
    [[1, 2, 3, 4, 5], 0.25, 2],
    [[1, 2, 3, 4], 0.2, 1.6],
    [[7], 0.9, 7],
  ])('of %s at %s is %s', (values, share, expected) => {
    expect(quantileOfSorted(sortedNumbers(values), share)).toBeCloseTo(expected, 12);
  });

  test('nothing has no median', () => {
    expect(median([])).toBeNaN();
    expect(median([Number.NaN, Number.NaN])).toBeNaN();
  });

  test('what was not measured does not count', () => {
    expect(median([1, Number.NaN, 3])).toBe(2);
  });
});

describe('width from the median absolute deviation', () => {
  test('of 1 … 5 is 1.4826', () => {
    expect(sigmaFromMad([1, 2, 3, 4, 5])).toBeCloseTo(1.4826, 4);
  });

  test('finds the width of normal noise although a fifth of it is wild', () => {
    const random = seededRandom(1);
    const values = Array.from({ length: 5000 }, (_, i) => (i % 5 === 0 ? 1e6 * random.uniform() : 3 * random.normal()));
    expect(sigmaFromMad(values, 0)).toBeGreaterThan(3);
    expect(sigmaFromMad(values, 0)).toBeLessThan(4);
  });
});
