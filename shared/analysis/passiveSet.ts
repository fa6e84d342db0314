/**
 * The passive set of a non-negative least-squares problem: the columns that may be away from their bound. Both methods
 * of leastSquares.ts solve for it again and again.
 *
 * Inner loops add a multiple of one row to another ("axpy") instead of summing products: the terms of a sum wait for
 * each other, those of an axpy do not, which makes three times the speed.
 */

/** A pivot below this share of its (unit) diagonal is noise of rounding: the column repeats others. */
const SMALLEST_PIVOT = 1e-13;
/** Gradients within this of zero, on the scaled problem, break no condition. */
export const TOLERANCE = 1e-12;

/** The problem scaled to unit diagonal and |b| ≤ 1, with room to solve it. */
export interface Workspace {
  size: number;
  readonly scale: Float64Array;
  readonly matrix: Float64Array;
  readonly vector: Float64Array;
  readonly solution: Float64Array;
  readonly trial: Float64Array;
  readonly gradient: Float64Array;
  readonly factor: Float64Array;
  readonly index: Int32Array;
}

export function makeWorkspace(capacity: number): Workspace {
  return {
    size: 0,
    scale: new Float64Array(capacity),
    matrix: new Float64Array(capacity * capacity),
    vector: new Float64Array(capacity),
    solution: new Float64Array(capacity),
    trial: new Float64Array(capacity),
    gradient: new Float64Array(capacity),
    factor: new Float64Array(capacity * capacity),
    index: new Int32Array(capacity),
  };
}

/**
 * Solves H_FF x_F = b_F for the passive set F into `trial` (H = LDLᵀ, right-looking, rows of DLᵀ kept) and writes
 * b − H x of every column into `gradient`. Returns the number of passive columns.
 */
export function solvePassive(work: Workspace, passive: Uint8Array): number {
  const { size, matrix, vector, trial, factor, index } = work;
  let q = 0;
  for (let i = 0; i < size; i++) if (passive[i]) index[q++] = i;
  for (let i = 0; i < q; i++) {
    const source = index[i]! * size;
    for (let k = i; k < q; k++) factor[i * q + k] = matrix[source + index[k]!]!;
    trial[i] = vector[index[i]!]!;
  }
  for (let k = 0; k < q; k++) {
    const pivotRow = k * q;
    const inverse = 1 / Math.max(factor[pivotRow + k]!, SMALLEST_PIVOT);
    const known = trial[k]!;
    for (let i = k + 1; i < q; i++) {
      const share = factor[pivotRow + i]! * inverse;
      if (share === 0) continue;
      const row = i * q;
      for (let l = i; l < q; l++) factor[row + l]! -= share * factor[pivotRow + l]!;
      trial[i]! -= share * known;
    }
    factor[pivotRow + k] = inverse;
  }
  for (let i = q - 1; i >= 0; i--) {
    let sum = trial[i]!;
    const row = i * q;
    for (let k = i + 1; k < q; k++) sum -= factor[row + k]! * trial[k]!;
    trial[i] = sum * factor[row + i]!;
  }
  writeGradient(work, q);
  return q;
}

function writeGradient({ size, matrix, vector, trial, index, gradient }: Workspace, q: number): void {
  for (let i = 0; i < size; i++) gradient[i] = vector[i]!;
  for (let k = 0; k < q; k++) {
    const row = index[k]! * size;
    const amount = trial[k]!;
    for (let i = 0; i < size; i++) gradient[i]! -= amount * matrix[row + i]!;
  }
}
