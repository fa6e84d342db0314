/** Bounds with few points: by counting pairs (Kendall's score cannot reach the confidence with fewer than five). */
import { describe, expect, test } from 'vitest';
import { mannKendall, scoreVariance } from '../../../../shared/analysis/fits/mannKendall.ts';
import { theilSen } from '../../../../shared/analysis/fits/theilSen.ts';
import { makeRandom } from '../../../support/world/random.ts';

describe('a robust line', () => {
  const x = Array.from({ length: 20 }, (_, i) => i);

  test('one wild value does not move it', () => {
    const y = x.map((t) => 3 - 0.5 * t);
    y[7] = 1e6;
    expect(theilSen(x, y)).toMatchObject({ slope: -0.5, points: 20 });
  });

  test('three points prove no direction', () => {
    expect(theilSen([1, 2, 3], [1, 2, 3])).toMatchObject({
      slope: 1,
      low: Number.NEGATIVE_INFINITY,
      high: Number.POSITIVE_INFINITY,
    });
    expect(theilSen([1, 1], [2, 3])).toBeNull();
    expect(theilSen([], [])).toBeNull();
  });

  test('its interval holds the true slope about as often as it says', () => {
    const random = makeRandom(11);
    let held = 0;
    const runs = 400;
    for (let run = 0; run < runs; run++) {
      const fit = theilSen(
        x,
        x.map((t) => 0.2 * t + random.normal()),
      )!;
      if (fit.low <= 0.2 && fit.high >= 0.2) held++;
    }
    // Binomial with p = 0.95: five standard deviations are 5.4 %.
    expect(held / runs).toBeGreaterThan(0.896);
    expect(held / runs).toBeLessThan(0.999);
  });
});

describe('direction', () => {
  test('variance of the score by hand, with and without equal values', () => {
    expect(scoreVariance([9, 15, 19, 20, 45, 55, 78])).toBeCloseTo((7 * 6 * 19) / 18, 12);
    expect(scoreVariance([1, 2, 2, 3])).toBeCloseTo((4 * 3 * 13 - 2 * 1 * 9) / 18, 12);
  });

  test('rises, falls, or neither', () => {
    expect(mannKendall([1, 2, 3, 4, 5, 6, 7]).direction).toBe('rising');
    expect(mannKendall([7, 6, 5, 4, 3, 2, 1])).toMatchObject({ direction: 'falling', score: -21 });
    expect(mannKendall([1, 3, 2, 4, 1, 3, 2]).direction).toBe('none');
    expect(mannKendall([2, 2, 2])).toMatchObject({ direction: 'none', z: 0 });
  });
});
