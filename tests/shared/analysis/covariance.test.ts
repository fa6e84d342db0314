import { expect, test } from 'vitest';
import { invertSubset, makeCovarianceWorkspace } from '../../../shared/analysis/covariance.ts';
import { seededRandom } from '../../support/instrument.ts';

test('the inverse of a sub-matrix times the sub-matrix is one', () => {
  const random = seededRandom(2);
  const size = 8;
  const rows = Array.from({ length: 20 }, () =>
    Array.from({ length: size }, (_, i) => random.normal() * 10 ** (i - 4)),
  );
  const hessian = new Float64Array(size * size);
  for (const row of rows)
    for (let i = 0; i < size; i++) for (let k = 0; k < size; k++) hessian[i * size + k]! += row[i]! * row[k]!;
  const places = [1, 3, 4, 7];
  const q = places.length;
  const inverse = new Float64Array(size * size);
  invertSubset(hessian, size, places, makeCovarianceWorkspace(size), inverse);
  for (let a = 0; a < q; a++) {
    for (let b = 0; b < q; b++) {
      let sum = 0;
      for (let c = 0; c < q; c++) sum += inverse[a * q + c]! * hessian[places[c]! * size + places[b]!]!;
      expect(sum * 10 ** (places[a]! - places[b]!)).toBeCloseTo(a === b ? 1 : 0, 6);
    }
  }
});

test('two columns that are the same have a very large variance, not an error', () => {
  const inverse = new Float64Array(4);
  invertSubset(Float64Array.of(1, 1, 1, 1), 2, [0, 1], makeCovarianceWorkspace(2), inverse);
  expect(inverse[0]).toBeGreaterThan(1e9);
  expect(Number.isFinite(inverse[0]!)).toBe(true);
});
