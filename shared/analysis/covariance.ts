/**
 * Inverse of a sub-matrix of H: the covariance of the columns that are fitted together.
 * Scaled to unit diagonal before it is factored (Cholesky), as columns differ by decades.
 */
export interface CovarianceWorkspace {
  readonly factor: Float64Array;
  readonly vector: Float64Array;
  readonly scale: Float64Array;
}

export const makeCovarianceWorkspace = (capacity: number): CovarianceWorkspace => ({
  factor: new Float64Array(capacity * capacity),
  vector: new Float64Array(capacity),
  scale: new Float64Array(capacity),
});

/** Two columns that agree to within this share of a pivot cannot be told apart: their variance becomes very large. */
const SMALLEST_PIVOT = 1e-12;

/** Writes the inverse of H (lower triangle, `size` columns) restricted to `places` (ascending) into `out`. */
export function invertSubset(
  hessian: Float64Array,
  size: number,
  places: readonly number[],
  work: CovarianceWorkspace,
  out: Float64Array,
): void {
  const { factor, vector, scale } = work;
  const q = places.length;
  for (let i = 0; i < q; i++) scale[i] = 1 / Math.sqrt(hessian[places[i]! * size + places[i]!]!);
  for (let i = 0; i < q; i++) {
    for (let k = 0; k <= i; k++) {
      let sum = hessian[places[i]! * size + places[k]!]! * scale[i]! * scale[k]!;
      for (let l = 0; l < k; l++) sum -= factor[i * q + l]! * factor[k * q + l]!;
      factor[i * q + k] = i === k ? Math.sqrt(Math.max(sum, SMALLEST_PIVOT)) : sum / factor[k * q + k]!;
    }
  }
  for (let c = 0; c < q; c++) {
    for (let i = c; i < q; i++) {
      let sum = i === c ? 1 : 0;
      for (let l = c; l < i; l++) sum -= factor[i * q + l]! * vector[l]!;
      vector[i] = sum / factor[i * q + i]!;
    }
    for (let i = q - 1; i >= c; i--) {
      let sum = vector[i]!;
      for (let l = i + 1; l < q; l++) sum -= factor[l * q + i]! * vector[l]!;
      vector[i] = sum / factor[i * q + i]!;
    }
    for (let i = c; i < q; i++) {
      const entry = vector[i]! * scale[i]! * scale[c]!;
      out[i * q + c] = entry;
      out[c * q + i] = entry;
    }
  }
}
