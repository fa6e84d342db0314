/**
 * Control charts, value by value.
 *
 * EWMA: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4: data, limits and averages as printed there (two
 * decimals; limits to the last digit that the printed factor 0.4201 for √(λ/(2−λ)) leaves).
 * CUSUM: the same, 6.3.2.3: data; k and h from memory of the same page; sums by hand recursion in a spreadsheet manner
 * (numpy), which any tool repeats.
 * Thirty values: D. C. Montgomery, Introduction to Statistical Quality Control, Table 9.1 (data, first signal at value
 * 29, seven values since the sum left zero, EWMA limits); sums and averages recomputed with numpy.
 */
import { describe, expect, test } from 'vitest';
import {
  advanceCusum,
  type CusumDesign,
  type CusumSums,
  cusumSignals,
  startCusum,
} from '../../shared/analysis/sequential/cusum.ts';
import { advanceEwma, type EwmaDesign, ewmaLimit } from '../../shared/analysis/sequential/ewma.ts';

function sumsOf(values: readonly number[], target: number, design: CusumDesign): CusumSums[] {
  let sums = startCusum(design);
  return values.map((value) => {
    sums = advanceCusum(sums, value - target, design);
    return sums;
  });
}

function averagesOf(values: readonly number[], target: number, design: EwmaDesign): number[] {
  let average = target;
  return values.map((value) => {
    average = advanceEwma(average, value, design);
    return average;
  });
}

/** Counted from one, as charts do. */
const first = <T>(items: readonly T[], is: (item: T, place: number) => boolean): number => items.findIndex(is) + 1;

describe('EWMA of the e-Handbook', () => {
  const design = { weight: 0.3, width: 3 };
  const target = 50;
  const sigma = 2.0539;
  // biome-ignore format: as printed
  const values = [52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
  // biome-ignore format: as printed
  const printed = [50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99];

  test('the averages', () => {
    averagesOf(values, target, design).forEach((average, i) => {
      expect(Math.abs(average - printed[i]!)).toBeLessThan(0.0051);
    });
  });

  test('the limits, and no average beyond them', () => {
    const half = sigma * ewmaLimit(design);
    expect(target + half).toBeCloseTo(52.5884, 2);
    expect(target - half).toBeCloseTo(47.4115, 2);
    expect(averagesOf(values, target, design).some((average) => Math.abs(average - target) > half)).toBe(false);
  });
});

describe('CUSUM of the e-Handbook', () => {
  const design = { reference: 0.3175, interval: 4.1959 };
  // biome-ignore format: as printed
  const values = [324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35];
  const high = [0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035];
  // biome-ignore format: as printed
  const low = [0, 0.0075, 0, 0.3325, 0, 0, 0.5575, 0.715, 0.1725, 0.255, 0.3125, 0, 0, 0, 0, 0, 0, 0, 0, 0];

  test('the sums', () => {
    sumsOf(values, 325, design).forEach((sums, i) => {
      expect(sums.high).toBeCloseTo(high[i]!, 6);
      expect(sums.low).toBeCloseTo(low[i]!, 6);
    });
  });

  test('signals at the fourteenth value', () => {
    expect(first(sumsOf(values, 325, design), (sums) => cusumSignals(sums, design))).toBe(14);
  });
});

describe('thirty values whose mean rises by one standard deviation after the twentieth', () => {
  // biome-ignore format: as printed
  const values = [9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.2, 10.34, 9.03, 11.47, 10.51, 9.4, 10.08, 9.37, 10.62, 10.31, 8.52, 10.84, 10.9, 9.33, 12.29, 11.5, 10.6, 11.08, 10.38, 11.62, 11.31, 10.52];

  test('upper sum: signals at 29, which says that the mean moved seven values ago to about 11.25', () => {
    const design = { reference: 0.5, interval: 5 };
    // biome-ignore format: a table
    const recomputed = [0, 0, 0, 1.16, 2.82, 2.5, 0.04, 1, 0, 0, 0, 0.97, 0.98, 0, 0, 0, 0.12, 0, 0, 0.34, 0.74, 0, 1.79, 2.79, 2.89, 3.47, 3.35, 4.47, 5.28, 5.3];
    const sums = sumsOf(values, 10, design);
    sums.forEach(({ high }, i) => {
      expect(high).toBeCloseTo(recomputed[i]!, 6);
    });
    const signal = first(sums, (s) => cusumSignals(s, design));
    expect(signal).toBe(29);
    const since = signal - (sums.slice(0, signal).findLastIndex(({ high }) => high === 0) + 1);
    expect(since).toBe(7);
    expect(10 + design.reference + sums[signal - 1]!.high / since).toBeCloseTo(11.254286, 6);
  });

  test('averages: the limits widen from 10.27 to 10.62, and 29 is the first beyond', () => {
    const design = { weight: 0.1, width: 2.7 };
    // biome-ignore format: a table
    const recomputed = [9.945, 9.7495, 9.7035, 9.8992, 10.1253, 10.1307, 9.9217, 10.0755, 9.988, 10.0232, 9.9238, 10.0785, 10.1216, 10.0495, 10.0525, 9.9843, 10.0478, 10.074, 9.9186, 10.0108, 10.0997, 10.0227, 10.2495, 10.3745, 10.3971, 10.4654, 10.4568, 10.5731, 10.6468, 10.6341];
    const averages = averagesOf(values, 10, design);
    averages.forEach((average, i) => {
      expect(average).toBeCloseTo(recomputed[i]!, 4);
    });
    expect(10 + ewmaLimit(design, 1)).toBeCloseTo(10.27, 8);
    expect(10 + ewmaLimit(design)).toBeCloseTo(10.6194, 4);
    expect(first(averages, (average, i) => Math.abs(average - 10) > ewmaLimit(design, i + 1))).toBe(29);
  });
});
