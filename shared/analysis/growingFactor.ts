/**
 * LDLᵀ of H_FF for a passive set F that changes by a few columns at a time.
 *
 * Rows are added one after the other ("bordering"): a row of L follows from its own row of H and the rows before it. A
 * column that enters F is appended; when one leaves, only the rows from its place on are worked out again. The right-hand
 * side is carried along, so that what is left to do for a solution is the way back.
 *
 * The terms of one sum wait for each other, so four sums run side by side. What H leaves empty at the beginning of a row
 * stays empty in L (the envelope of the row) and is skipped.
 */

/** A pivot below this share of its diagonal is noise of rounding: the column repeats others. */
const SMALLEST_PIVOT = 1e-13;
const SIDE_BY_SIDE = 4;

export interface GrowingFactor {
  readonly capacity: number;
  /** Columns of F in the order of rows. */
  readonly order: Int32Array;
  /** Length of `order`. */
  count: number;
  /** Rows that are worked out. */
  done: number;
  /** L without its diagonal of ones; rows are `capacity` apart. */
  readonly lower: Float64Array;
  readonly inversePivot: Float64Array;
  /** L⁻¹ b. */
  readonly forward: Float64Array;
  /** L D of the row in work. */
  readonly row: Float64Array;
}

export function makeGrowingFactor(capacity: number): GrowingFactor {
  return {
    capacity,
    order: new Int32Array(capacity),
    count: 0,
    done: 0,
    lower: new Float64Array(capacity * capacity),
    inversePivot: new Float64Array(capacity),
    forward: new Float64Array(capacity),
    row: new Float64Array(capacity),
  };
}

export function emptyFactor(factor: GrowingFactor): void {
  factor.count = 0;
  factor.done = 0;
}

export function appendColumn(factor: GrowingFactor, column: number): void {
  factor.order[factor.count++] = column;
}

/** Takes out every column whose flag in `leaves` is 1. */
export function takeOut(factor: GrowingFactor, leaves: Uint8Array): void {
  const { order, count } = factor;
  let kept = 0;
  for (let i = 0; i < count; i++) {
    const column = order[i]!;
    if (leaves[column] !== 1) order[kept++] = column;
    else if (kept < factor.done) factor.done = kept;
  }
  factor.count = kept;
}

export interface SymmetricSystem {
  /** Symmetric, rows `stride` apart. */
  readonly hessian: Float64Array;
  readonly stride: number;
  readonly vector: Float64Array;
}

/** Works out the rows that are missing. */
export function completeFactor(factor: GrowingFactor, { hessian, stride, vector }: SymmetricSystem): void {
  const { order, count, capacity, lower, row, forward } = factor;
  for (let i = factor.done; i < count; i++) {
    const source = order[i]! * stride;
    let first = 0;
    while (first < i && hessian[source + order[first]!] === 0) first++;
    first -= first % SIDE_BY_SIDE;
    let k = first;
    for (; k + 3 < i; k += SIDE_BY_SIDE) {
      const a = k * capacity;
      const b = a + capacity;
      const c = b + capacity;
      const d = c + capacity;
      let s = hessian[source + order[k]!]!;
      let t = hessian[source + order[k + 1]!]!;
      let u = hessian[source + order[k + 2]!]!;
      let v = hessian[source + order[k + 3]!]!;
      for (let l = first; l < k; l++) {
        const known = row[l]!;
        s -= known * lower[a + l]!;
        t -= known * lower[b + l]!;
        u -= known * lower[c + l]!;
        v -= known * lower[d + l]!;
      }
      t -= s * lower[b + k]!;
      u -= s * lower[c + k]! + t * lower[c + k + 1]!;
      v -= s * lower[d + k]! + t * lower[d + k + 1]! + u * lower[d + k + 2]!;
      row[k] = s;
      row[k + 1] = t;
      row[k + 2] = u;
      row[k + 3] = v;
    }
    for (; k < i; k++) {
      const a = k * capacity;
      let s = hessian[source + order[k]!]!;
      for (let l = first; l < k; l++) s -= row[l]! * lower[a + l]!;
      row[k] = s;
    }
    row[i] = hessian[source + order[i]!]!;
    forward[i] = vector[order[i]!]!;
    finishRow(factor, i, first);
  }
  factor.done = count;
}

/** `row[i]` holds the diagonal of H and `forward[i]` the right-hand side. */
function finishRow({ capacity, lower, inversePivot, forward, row }: GrowingFactor, i: number, first: number): void {
  const target = i * capacity;
  const diagonal = row[i]!;
  let pivot = diagonal;
  let known = forward[i]!;
  for (let k = 0; k < first; k++) lower[target + k] = 0;
  for (let k = first; k < i; k++) {
    const share = row[k]! * inversePivot[k]!;
    lower[target + k] = share;
    pivot -= share * row[k]!;
    known -= share * forward[k]!;
  }
  inversePivot[i] = 1 / Math.max(pivot, SMALLEST_PIVOT * diagonal);
  forward[i] = known;
}

/** Writes x_F, by place in `order`, into `solution`. */
export function solveBack(
  { count, capacity, lower, inversePivot, forward }: GrowingFactor,
  solution: Float64Array,
): void {
  for (let i = 0; i < count; i++) solution[i] = forward[i]! * inversePivot[i]!;
  for (let i = count - 1; i > 0; i--) {
    const known = solution[i]!;
    const from = i * capacity;
    for (let k = 0; k < i; k++) solution[k]! -= known * lower[from + k]!;
  }
}
