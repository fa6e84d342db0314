import { describe, expect, test } from 'vitest';
import { advanceEwma, averageRunLengthOfEwma, ewmaLimit } from '../../../../shared/analysis/sequential/ewma.ts';
import { upperTail } from '../../../../shared/analysis/sequential/normal.ts';

describe('EWMA', () => {
  test('goes a part of the way to each value', () => {
    expect(advanceEwma(10, 14, { weight: 0.25, width: 3 })).toBe(11);
  });

  test('limits begin at λ L and end at L √(λ/(2−λ))', () => {
    const design = { weight: 0.2, width: 3 };
    expect(ewmaLimit(design, 1)).toBeCloseTo(0.6, 12);
    expect(ewmaLimit(design)).toBeCloseTo(1, 12);
  });

  test('with full weight it is a chart of single values: 1 / 2Q(3) = 370.4, and 1 / (Q(2) + Q(4)) after one σ', () => {
    const design = { weight: 1, width: 3 };
    expect(averageRunLengthOfEwma(design, 0) * 2 * upperTail(3)).toBeCloseTo(1, 8);
    expect(averageRunLengthOfEwma(design, 1) * (upperTail(2) + upperTail(4))).toBeCloseTo(1, 8);
  });
});
