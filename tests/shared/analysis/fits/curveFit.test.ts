/** Small systems solved by hand; the certified curves are in tests/reference/fits.test.ts. */
import { describe, expect, test } from 'vitest';
import { fitCurve } from '../../../../shared/analysis/fits/curveFit.ts';
import { solveLeastSquares } from '../../../../shared/analysis/fits/smallSystem.ts';

describe('linear least squares', () => {
  test('a line through (0, 1), (1, 3), (2, 4): slope 3/2, start 7/6', () => {
    const fit = solveLeastSquares(
      [
        [1, 0],
        [1, 1],
        [1, 2],
      ],
      [1, 3, 4],
    )!;
    expect(fit.solution[0]).toBeCloseTo(7 / 6, 12);
    expect(fit.solution[1]).toBeCloseTo(3 / 2, 12);
    // (AᵀA)⁻¹ of [[3, 3], [3, 5]] is [[5, −3], [−3, 3]]/6.
    expect(fit.variances[0]).toBeCloseTo(5 / 6, 12);
    expect(fit.variances[1]).toBeCloseTo(1 / 2, 12);
  });

  test('columns that say the same, or too few rows, have no answer', () => {
    expect(
      solveLeastSquares(
        [
          [1, 2],
          [2, 4],
          [3, 6],
        ],
        [1, 2, 3],
      ),
    ).toBeNull();
    expect(solveLeastSquares([[1, 2]], [1])).toBeNull();
    expect(solveLeastSquares([], [])).toBeNull();
  });
});

describe('a curve', () => {
  const exponential = {
    value: (x: number, [a, k]: readonly number[]) => a! * Math.exp(-k! * x),
    gradient: (x: number, [a, k]: readonly number[]) => [Math.exp(-k! * x), -a! * x * Math.exp(-k! * x)],
  };
  const x = [0, 1, 2, 3, 4];

  test('exact data give exact parameters', () => {
    const fit = fitCurve(
      exponential,
      x,
      x.map((t) => 5 * Math.exp(-0.7 * t)),
      [1, 0.1],
    )!;
    expect(fit.parameters[0]).toBeCloseTo(5, 10);
    expect(fit.parameters[1]).toBeCloseTo(0.7, 10);
    expect(fit.residualSum).toBeLessThan(1e-20);
  });

  test('no more data than unknowns: no standard error; fewer: no fit', () => {
    expect(fitCurve(exponential, [0, 1], [2, 1], [1, 1])!.standardErrors).toEqual([Number.NaN, Number.NaN]);
    expect(fitCurve(exponential, [0], [2], [1, 1])).toBeNull();
    expect(fitCurve(exponential, x, x, [Number.NaN, 1])).toBeNull();
  });
});
