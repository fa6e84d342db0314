/**
 * L(u) = 1 + ∫ L(v) f(v | u) dv and its like, on the nodes of Gauss–Legendre quadrature (Nyström's method): with the
 * smooth kernels of normal increments the error falls faster than any power of the number of nodes.
 *
 * Nodes: Newton's method on the Legendre polynomial from the cosine approximation (W. H. Press et al., Numerical Recipes,
 * 1986, section 4.5).
 */
export interface Quadrature {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

/** Nodes and weights for ∫ over [from, to]; exact for polynomials of degree 2 · size − 1. */
export function gaussLegendre(size: number, from: number, to: number): Quadrature {
  const nodes = new Float64Array(size);
  const weights = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    const { root, slope } = legendreRoot(size, i);
    nodes[i] = (from + to) / 2 - ((to - from) / 2) * root;
    weights[i] = (to - from) / ((1 - root * root) * slope * slope);
  }
  return { nodes, weights };
}

function legendreRoot(size: number, index: number): { root: number; slope: number } {
  let root = Math.cos((Math.PI * (index + 0.75)) / (size + 0.5));
  let slope = 0;
  for (let step = 0; step < 100; step++) {
    let value = 1;
    let before = 0;
    for (let j = 0; j < size; j++) {
      const older = before;
      before = value;
      value = ((2 * j + 1) * root * before - j * older) / (j + 1);
    }
    slope = (size * (root * value - before)) / (root * root - 1);
    const next = root - value / slope;
    const moved = Math.abs(next - root);
    root = next;
    if (moved < 1e-15) break;
  }
  return { root, slope };
}

/**
 * Solves (I − K) x = 1, with K given row by row; elimination with partial pivoting.
 *
 * @param kernel size × size, row after row; not changed
 */
export function solveForOnes(kernel: Float64Array, size: number): Float64Array {
  const matrix = kernel.map((value, at) => (at % (size + 1) === 0 ? 1 - value : -value));
  const answer = new Float64Array(size).fill(1);
  for (let i = 0; i < size; i++) {
    exchange(matrix, answer, { size, row: i, pivot: pivotOf(matrix, size, i) });
    for (let row = i + 1; row < size; row++) {
      const factor = matrix[row * size + i]! / matrix[i * size + i]!;
      if (factor === 0) continue;
      for (let column = i; column < size; column++) matrix[row * size + column]! -= factor * matrix[i * size + column]!;
      answer[row]! -= factor * answer[i]!;
    }
  }
  for (let i = size - 1; i >= 0; i--) {
    let rest = answer[i]!;
    for (let j = i + 1; j < size; j++) rest -= matrix[i * size + j]! * answer[j]!;
    answer[i] = rest / matrix[i * size + i]!;
  }
  return answer;
}

function pivotOf(matrix: Float64Array, size: number, column: number): number {
  let pivot = column;
  for (let row = column + 1; row < size; row++) {
    if (Math.abs(matrix[row * size + column]!) > Math.abs(matrix[pivot * size + column]!)) pivot = row;
  }
  return pivot;
}

function exchange(
  matrix: Float64Array,
  answer: Float64Array,
  { size, row, pivot }: { readonly size: number; readonly row: number; readonly pivot: number },
): void {
  if (row === pivot) return;
  for (let column = 0; column < size; column++) {
    const kept = matrix[row * size + column]!;
    matrix[row * size + column] = matrix[pivot * size + column]!;
    matrix[pivot * size + column] = kept;
  }
  const kept = answer[row]!;
  answer[row] = answer[pivot]!;
  answer[pivot] = kept;
}
