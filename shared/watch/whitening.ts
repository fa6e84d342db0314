/**
 * Generalised least squares with a structured covariance Σ = D + B Bᵀ, D diagonal, B a dozen columns.
 *
 * Σ⁻¹ = D⁻¹ − D⁻¹B (I + BᵀD⁻¹B)⁻¹ BᵀD⁻¹ (Woodbury), so one solve costs channels × columns, not channels³.
 * ln|Σ| = Σ ln D + ln|I + BᵀD⁻¹B| (matrix determinant lemma). G. H. Golub, C. F. Van Loan, Matrix Computations, §2.1.
 *
 * A direction d has the statistic z = dᵀΣ⁻¹x / √(dᵀΣ⁻¹d) and the amplitude a = dᵀΣ⁻¹x / dᵀΣ⁻¹d: the matched filter
 * (S. M. Kay, Fundamentals of Statistical Signal Processing II, ch. 4).
 */

import { vector } from './rows.ts';

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
  /** The same of the i-th of a list: remembered for as long as the same list is asked for. */
  informationAt(list: readonly { readonly direction: Direction }[], i: number): number;
}

/** `columns` are already multiplied by their weights; neither they nor `variance` may change afterwards. */
export function makeWhitener(variance: Float64Array, columns: readonly Float64Array[]): Whitener {
  const n = variance.length;
  const k = columns.length;
  const inverse = new Float64Array(n);
  for (let i = 0; i < n; i++) inverse[i] = 1 / variance[i]!;
  // D⁻¹B, column after column: most of them are gases and have a handful of peaks, so only those are gone through.
  const { places, starts, values } = supportsOf(columns, n);
  const scaled = new Float64Array(n * k);
  const weighted = new Float64Array(values.length);
  for (let j = 0; j < k; j++) {
    for (let p = starts[j]!; p < starts[j + 1]!; p++) {
      const part = values[p]! * inverse[places[p]!]!;
      weighted[p] = part;
      scaled[j * n + places[p]!] = part;
    }
  }
  const factor = new Float64Array(k * k);
  for (let i = 0; i < k; i++) {
    const own = i * n;
    const [from, to] = [starts[i]!, starts[i + 1]!];
    for (let j = 0; j <= i; j++) {
      // Over the shorter of the two: where the other is zero there is nothing to add.
      let sum = 0;
      if (to - from < starts[j + 1]! - starts[j]!) {
        const column = columns[j]!;
        for (let p = from; p < to; p++) sum += weighted[p]! * column[places[p]!]!;
      } else for (let p = starts[j]!; p < starts[j + 1]!; p++) sum += scaled[own + places[p]!]! * values[p]!;
      factor[i * k + j] = sum + (i === j ? 1 : 0);
    }
  }
  factorise(factor, k);
  const right = new Float64Array(k);
  let asked: readonly { readonly direction: Direction }[] | null = null;
  let answered = new Float64Array(0);
  return {
    get logDeterminant() {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += Math.log(variance[i]!);
      for (let i = 0; i < k; i++) sum += 2 * Math.log(factor[i * k + i]!);
      return sum;
    },
    informationAt(list, i) {
      if (list !== asked) {
        asked = list;
        answered = new Float64Array(list.length);
      }
      // An information is above zero, so that zero says: not asked for yet.
      if (answered[i] === 0) answered[i] = this.information(list[i]!.direction);
      return answered[i]!;
    },
    apply(x) {
      for (let j = 0; j < k; j++) {
        let sum = 0;
        for (let p = starts[j]!; p < starts[j + 1]!; p++) sum += weighted[p]! * x[places[p]!]!;
        right[j] = sum;
      }
      forward(factor, k, right);
      backward(factor, k, right);
      const out = vector(n);
      for (let i = 0; i < n; i++) out[i] = x[i]! * inverse[i]!;
      for (let j = 0; j < k; j++) {
        const c = right[j]!;
        for (let p = starts[j]!; p < starts[j + 1]!; p++) out[places[p]!]! -= weighted[p]! * c;
      }
      return out;
    },
    information({ dense, support }) {
      let sum = 0;
      for (let s = 0; s < support.length; s++) {
        const i = support[s]!;
        sum += dense[i]! * dense[i]! * inverse[i]!;
      }
      for (let j = 0; j < k; j++) right[j] = projected(j, dense, support);
      forward(factor, k, right);
      for (let j = 0; j < k; j++) sum -= right[j]! * right[j]!;
      return Math.max(sum, 1e-300);
    },
  };

  function projected(j: number, dense: Float64Array, support: readonly number[]): number {
    const from = starts[j]!;
    const to = starts[j + 1]!;
    let sum = 0;
    if (to - from < support.length) {
      for (let p = from; p < to; p++) sum += weighted[p]! * dense[places[p]!]!;
      return sum;
    }
    for (let s = 0; s < support.length; s++) sum += scaled[j * n + support[s]!]! * dense[support[s]!]!;
    return sum;
  }
}

interface Supports {
  /** Channels where a column is not zero, column after column. */
  readonly places: Int32Array;
  /** Where the channels of column j begin; one more at the end. */
  readonly starts: readonly number[];
  /** What the column is there. */
  readonly values: Float64Array;
}

/** A naming asks for many models that differ in their variance alone. */
const knownSupports = new WeakMap<readonly Float64Array[], Supports>();

function supportsOf(columns: readonly Float64Array[], n: number): Supports {
  const known = knownSupports.get(columns);
  if (known) return known;
  let used = 0;
  for (const column of columns) for (let i = 0; i < n; i++) if (column[i] !== 0) used++;
  const places = new Int32Array(used);
  const values = new Float64Array(used);
  const starts = [0];
  used = 0;
  for (const column of columns) {
    for (let i = 0; i < n; i++) {
      if (column[i] === 0) continue;
      values[used] = column[i]!;
      places[used++] = i;
    }
    starts.push(used);
  }
  const made = { places, starts, values };
  knownSupports.set(columns, made);
  return made;
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** dᵀy over the support of d. */
export function along({ dense, support }: Direction, y: Float64Array): number {
  let sum = 0;
  for (let s = 0; s < support.length; s++) sum += dense[support[s]!]! * y[support[s]!]!;
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
