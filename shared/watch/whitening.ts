/**
 * Generalised least squares with a structured covariance Σ = D + B Bᵀ, D diagonal, B a dozen columns.
 *
 * Σ⁻¹ = D⁻¹ − D⁻¹B (I + BᵀD⁻¹B)⁻¹ BᵀD⁻¹ (Woodbury), so one solve costs channels × columns, not channels³.
 * ln|Σ| = Σ ln D + ln|I + BᵀD⁻¹B| (matrix determinant lemma). G. H. Golub, C. F. Van Loan, Matrix Computations, §2.1.
 *
 * A direction d has the statistic z = dᵀΣ⁻¹x / √(dᵀΣ⁻¹d) and the amplitude a = dᵀΣ⁻¹x / dᵀΣ⁻¹d: the matched filter
 * (S. M. Kay, Fundamentals of Statistical Signal Processing II, ch. 4).
 */

import { makeRows } from './rows.ts';

/** A direction with the list of channels where it is not zero. */
export interface Direction {
  readonly dense: Float64Array;
  readonly support: readonly number[];
}

export function direction(dense: Float64Array): Direction {
  const support: number[] = [];
  for (let i = 0; i < dense.length; i++) if (dense[i] !== 0) support.push(i);
  return { dense, support };
}

export interface Whitener {
  readonly logDeterminant: number;
  /** Σ⁻¹x */
  apply(x: Float64Array): Float64Array;
  /** dᵀΣ⁻¹d */
  information(d: Direction): number;
}

/** `columns` are already multiplied by their weights. */
export function makeWhitener(variance: Float64Array, columns: readonly Float64Array[]): Whitener {
  const n = variance.length;
  const k = columns.length;
  const inverse = new Float64Array(n);
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    inverse[i] = 1 / variance[i]!;
    logDeterminant += Math.log(variance[i]!);
  }
  const row = makeRows(n);
  const scaled = columns.map((column) => {
    const out = row();
    for (let i = 0; i < n; i++) out[i] = column[i]! * inverse[i]!;
    return out;
  });
  const factor = new Float64Array(k * k);
  for (let i = 0; i < k; i++) {
    for (let j = 0; j <= i; j++) factor[i * k + j] = dot(scaled[i]!, columns[j]!) + (i === j ? 1 : 0);
  }
  factorise(factor, k);
  for (let i = 0; i < k; i++) logDeterminant += 2 * Math.log(factor[i * k + i]!);
  const right = new Float64Array(k);
  return {
    logDeterminant,
    apply(x) {
      for (let j = 0; j < k; j++) right[j] = dot(scaled[j]!, x);
      forward(factor, k, right);
      backward(factor, k, right);
      const out = new Float64Array(n);
      for (let i = 0; i < n; i++) out[i] = x[i]! * inverse[i]!;
      for (let j = 0; j < k; j++) {
        const column = scaled[j]!;
        const c = right[j]!;
        for (let i = 0; i < n; i++) out[i]! -= column[i]! * c;
      }
      return out;
    },
    information({ dense, support }) {
      let sum = 0;
      for (const i of support) sum += dense[i]! * dense[i]! * inverse[i]!;
      for (let j = 0; j < k; j++) {
        const column = scaled[j]!;
        let s = 0;
        for (const i of support) s += column[i]! * dense[i]!;
        right[j] = s;
      }
      forward(factor, k, right);
      for (let j = 0; j < k; j++) sum -= right[j]! * right[j]!;
      return Math.max(sum, 1e-300);
    },
  };
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** dᵀy over the support of d. */
export function along({ dense, support }: Direction, y: Float64Array): number {
  let sum = 0;
  for (const i of support) sum += dense[i]! * y[i]!;
  return sum;
}

/** Cholesky factor in the lower triangle, in place. The matrix is I plus a Gram matrix, so pivots stay above zero. */
function factorise(a: Float64Array, k: number): void {
  for (let i = 0; i < k; i++) {
    for (let j = 0; j <= i; j++) {
      let s = a[i * k + j]!;
      for (let l = 0; l < j; l++) s -= a[i * k + l]! * a[j * k + l]!;
      a[i * k + j] = i === j ? Math.sqrt(Math.max(s, 1e-12)) : s / a[j * k + j]!;
    }
  }
}

function forward(a: Float64Array, k: number, x: Float64Array): void {
  for (let i = 0; i < k; i++) {
    let s = x[i]!;
    for (let l = 0; l < i; l++) s -= a[i * k + l]! * x[l]!;
    x[i] = s / a[i * k + i]!;
  }
}

function backward(a: Float64Array, k: number, x: Float64Array): void {
  for (let i = k - 1; i >= 0; i--) {
    let s = x[i]!;
    for (let l = i + 1; l < k; l++) s -= a[l * k + i]! * x[l]!;
    x[i] = s / a[i * k + i]!;
  }
}
