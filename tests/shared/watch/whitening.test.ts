import { describe, expect, test } from 'vitest';
import { makeRows } from '../../../shared/watch/rows.ts';
import { along, direction, dot, makeWhitener } from '../../../shared/watch/whitening.ts';

const variance = Float64Array.of(1, 2, 0.5, 4);
const columns = [Float64Array.of(1, 0, 2, -1), Float64Array.of(0, 3, 1, 0.5)];
/** Σ = D + B Bᵀ written out. */
const covariance = Array.from(variance, (v, i) =>
  Array.from(variance, (_, j) => (i === j ? v : 0) + columns.reduce((sum, b) => sum + b[i]! * b[j]!, 0)),
);

function determinant(matrix: number[][]): number {
  if (matrix.length === 1) return matrix[0]![0]!;
  return matrix[0]!.reduce((sum, value, j) => {
    const minor = matrix.slice(1).map((row) => row.filter((_, k) => k !== j));
    return sum + (j % 2 === 0 ? 1 : -1) * value * determinant(minor);
  }, 0);
}

describe('whitening', () => {
  const whitener = makeWhitener(variance, columns);
  const x = Float64Array.of(0.3, -1, 2, 5);

  test('applies the inverse: Σ times the answer gives the question back', () => {
    const y = whitener.apply(x);
    covariance.forEach((row, i) => {
      expect(row.reduce((sum, value, j) => sum + value * y[j]!, 0)).toBeCloseTo(x[i]!, 12);
    });
  });

  test('knows the determinant (expanded by minors here)', () => {
    expect(whitener.logDeterminant).toBeCloseTo(Math.log(determinant(covariance)), 12);
  });

  test('information of a direction is dᵀΣ⁻¹d', () => {
    const d = direction(Float64Array.of(0, 1, 0, 2));
    expect(d.support).toEqual([1, 3]);
    expect(whitener.information(d)).toBeCloseTo(dot(d.dense, whitener.apply(d.dense)), 12);
    expect(along(d, x)).toBeCloseTo(9, 12);
  });

  test('without columns it divides by the variance', () => {
    expect(Array.from(makeWhitener(variance, []).apply(x))).toEqual([0.3, -0.5, 4, 1.25]);
  });

  test('the amplitude of a free direction cannot be told: its statistic is near zero', () => {
    const free = makeWhitener(variance, [Float64Array.of(1e6, 2e6, 0, 0)]);
    const d = direction(Float64Array.of(1, 2, 0, 0));
    const z = along(d, free.apply(Float64Array.of(100, 200, 0, 0))) / Math.sqrt(free.information(d));
    expect(Math.abs(z)).toBeLessThan(1e-3);
  });
});

test('rows of one block are apart from each other and empty', () => {
  const row = makeRows(3);
  const all = Array.from({ length: 60 }, () => row());
  all.forEach((vector, i) => {
    expect(Array.from(vector)).toEqual([0, 0, 0]);
    vector.fill(i);
  });
  expect(all.map((vector) => vector[2])).toEqual(all.map((_, i) => i));
});
