import { describe, expect, test } from 'vitest';
import { fragmentRatios, type NetScan } from '../../../../shared/analysis/marked/fragmentRatios.ts';

const scan = (heights: number[], sigma = 0, rest = 0): NetScan => ({
  heights: Float64Array.from(heights),
  noiseVariance: Float64Array.from(heights, () => sigma ** 2),
  restSigma: Float64Array.from(heights, () => rest),
});

describe('peaks against the largest', () => {
  test('do not depend on how much gas there was', () => {
    const [small] = fragmentRatios([scan([1, 10]), scan([5, 50]), scan([0.3, 3])], 1);
    expect(small!.mean).toBeCloseTo(0.1, 12);
    expect(small!.sigma).toBeCloseTo(0, 12);
    expect(small!.range).toBeCloseTo(0, 12);
  });

  test('noise of the mean goes down with the root of the number of scans', () => {
    const noisy = (count: number) =>
      fragmentRatios(
        Array.from({ length: count }, () => scan([0, 100], 1)),
        1,
      )[0]!;
    // One scan: 1/100. Four and sixteen: half and a quarter of it.
    expect(noisy(4).sigma).toBeCloseTo(0.005, 10);
    expect(noisy(16).sigma).toBeCloseTo(0.0025, 10);
    expect(noisy(16).noise).toBeCloseTo(0.01, 10);
  });

  test('scatter beyond noise stays', () => {
    const scattered = (count: number) =>
      fragmentRatios(
        Array.from({ length: count }, (_, i) => scan([i % 2 ? 11 : 9, 100])),
        1,
      )[0]!;
    // Two values, 0.09 and 0.11, each half of the time: standard deviation 0.01 √(n/(n−1)).
    expect(scattered(4).sigma).toBeCloseTo(0.01 * Math.sqrt(4 / 3), 6);
    expect(scattered(40).sigma).toBeCloseTo(0.01 * Math.sqrt(40 / 39), 6);
  });

  test('what the rest gas leaves open all scans share', () => {
    const [ratio] = fragmentRatios(
      Array.from({ length: 9 }, () => scan([10, 100], 0, 0.5)),
      1,
    );
    expect(ratio!.sigma).toBeCloseTo(0.005, 10);
  });

  test('a scan at a tenth of the pressure, ten times as noisy in its ratio, counts for little', () => {
    const [ratio] = fragmentRatios([scan([100, 1000], 1), scan([100, 1000], 1), scan([15, 100], 10)], 1);
    expect(ratio!.mean).toBeLessThan(0.101);
    expect(ratio!.mean).toBeGreaterThan(0.1);
  });

  test('the largest is one by definition', () => {
    expect(fragmentRatios([scan([1, 10], 1), scan([1, 11], 1), scan([1, 9], 1)], 1)[1]).toEqual({
      mean: 1,
      sigma: 0,
      range: 0,
      noise: 0,
    });
  });
});
