import { describe, expect, test } from 'vitest';
import { hasMoved, steadiness } from '../../../../shared/analysis/marked/steadiness.ts';

describe('steadiness', () => {
  test('a constant has neither course nor spread', () => {
    expect(steadiness([2, 2, 2, 2])).toEqual({ course: 1, spread: 0 });
  });

  test('the course goes from the first third to the last', () => {
    expect(steadiness([1, 1, 5, 5, 2, 2]).course).toBeCloseTo(2, 12);
    expect(steadiness([4, 2, 1]).course).toBeCloseTo(0.25, 12);
  });

  test('the spread is the standard deviation of the logarithm', () => {
    expect(steadiness([1, Math.E]).spread).toBeCloseTo(Math.SQRT1_2, 12);
  });

  test('values without a logarithm are left out', () => {
    expect(steadiness([0, -1, Number.NaN, 3])).toEqual({ course: 1, spread: 0 });
  });

  test('moved: up or down by more than a factor', () => {
    expect([0.5, 0.7, 1, 1.4, 2].map((course) => hasMoved({ course, spread: 0 }, 1.5))).toEqual([
      true,
      false,
      false,
      false,
      true,
    ]);
  });
});
