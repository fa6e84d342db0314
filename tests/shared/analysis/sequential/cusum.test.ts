import { describe, expect, test } from 'vitest';
import {
  advanceCusum,
  averageRunLengthOfCusum,
  averageRunLengthOfTwoSidedCusum,
  cusumSignals,
  startCusum,
} from '../../../../shared/analysis/sequential/cusum.ts';
import { upperTail } from '../../../../shared/analysis/sequential/normal.ts';

const design = { reference: 0.5, interval: 2 };

describe('CUSUM', () => {
  test('sums what lies beyond the reference, on either side, and never below zero', () => {
    let sums = startCusum(design);
    sums = advanceCusum(sums, 2, design);
    expect(sums).toEqual({ high: 1.5, low: 0 });
    sums = advanceCusum(sums, -1, design);
    expect(sums).toEqual({ high: 0, low: 0.5 });
    sums = advanceCusum(sums, -2.5, design);
    expect(sums).toEqual({ high: 0, low: 2.5 });
    expect(cusumSignals(sums, design)).toBe(true);
    expect(cusumSignals({ high: 2, low: 0 }, design)).toBe(false);
  });

  test('a head start lifts both sums', () => {
    expect(startCusum({ ...design, headStart: 1 })).toEqual({ high: 1, low: 1 });
  });

  test('an interval of nothing makes single values of it, whose run length is 1 / Q(k)', () => {
    const length = averageRunLengthOfCusum({ reference: 3, interval: 1e-9 }, 0);
    expect(length * upperTail(3)).toBeCloseTo(1, 6);
  });

  test('two sides call sooner than one, a head start sooner still, a larger shift soonest', () => {
    const one = averageRunLengthOfCusum(design, 0);
    const two = averageRunLengthOfTwoSidedCusum(design, 0);
    const fast = averageRunLengthOfTwoSidedCusum({ ...design, headStart: 1 }, 0);
    const shifted = averageRunLengthOfTwoSidedCusum({ ...design, headStart: 1 }, 1);
    expect(two / one).toBeCloseTo(0.5, 10);
    expect(fast).toBeLessThan(two);
    expect(shifted).toBeLessThan(fast);
  });
});
