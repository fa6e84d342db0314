/**
 * Linear least squares of a few unknowns by Householder reflections.
 * Source: G. H. Golub, Numer. Math. 7 (1965) 206.
 */

export interface LinearFit {
  readonly solution: number[];
  /** Diagonal of (AᵀA)⁻¹: variances for errors of one. */
  readonly variances: number[];
}

/** Columns shorter than this share of the longest pivot carry nothing of their own. */
const DEPENDENT = 1e-14;

/** min ‖A x − b‖; null when the columns depend on each other. Rows and `b` are not changed. */
export function solveLeastSquares(rows: readonly (readonly number[])[], b: readonly number[]): LinearFit | null {
  const size = rows[0]?.length ?? 0;
  if (size === 0 || rows.length < size) return null;
  // Columns of one length: unknowns may differ by many powers of ten.
  const scale = Array.from({ length: size }, (_, k) => Math.hypot(...rows.map((row) => row[k]!)));
  if (scale.some((length) => !(length > 0) || !Number.isFinite(length))) return null;
  const a = rows.map((row) => row.map((value, k) => value / scale[k]!));
  const right = [...b];
  for (let k = 0; k < size; k++) if (!reflect(a, right, k)) return null;
  const solution = backSubstitute(a, right, size);
  return { solution: solution.map((value, k) => value / scale[k]!), variances: inverseDiagonal(a, size, scale) };
}

function reflect(a: number[][], b: number[], k: number): boolean {
  const length = Math.hypot(...a.slice(k).map((row) => row[k]!));
  if (!(length > DEPENDENT)) return false;
  const pivot = a[k]![k]! > 0 ? -length : length;
  const v = a.map((row, i) => (i < k ? 0 : row[k]! - (i === k ? pivot : 0)));
  const square = v.reduce((sum, value) => sum + value * value, 0);
  const size = a[0]!.length;
  for (let j = k; j < size; j++) {
    const share = (2 * a.reduce((sum, row, i) => sum + v[i]! * row[j]!, 0)) / square;
    a.forEach((row, i) => {
      row[j]! -= share * v[i]!;
    });
  }
  const share = (2 * b.reduce((sum, value, i) => sum + v[i]! * value, 0)) / square;
  b.forEach((value, i) => {
    b[i] = value - share * v[i]!;
  });
  return true;
}

function backSubstitute(a: readonly (readonly number[])[], right: readonly number[], size: number): number[] {
  const x = new Array<number>(size).fill(0);
  for (let k = size - 1; k >= 0; k--) {
    let rest = right[k]!;
    for (let j = k + 1; j < size; j++) rest -= a[k]![j]! * x[j]!;
    x[k] = rest / a[k]![k]!;
  }
  return x;
}

/** Rows of R⁻¹, squared and summed. */
function inverseDiagonal(a: readonly (readonly number[])[], size: number, scale: readonly number[]): number[] {
  const variances = new Array<number>(size).fill(0);
  for (let column = 0; column < size; column++) {
    const unit = Array.from({ length: size }, (_, i) => (i === column ? 1 : 0));
    backSubstitute(a, unit, size).forEach((value, i) => {
      variances[i]! += (value / scale[i]!) ** 2;
    });
  }
  return variances;
}
