import type { Column } from './columns.ts';
import type { Score, ScoreQuestion } from './score.ts';

/**
 * The score test with the model error that gas j would have if it were there with `amount`:
 *
 *   v'_m = v_m + (r_mj a_mj x)² + (0.005 a_ref x)²,   W' = 1/v'
 *   z_j = (a_jᵀW'e − uᵀN⁻¹g) / √(a_jᵀW'a_j − uᵀN⁻¹u),   N = BᵀW'B, u = BᵀW'a_j, g = BᵀW'e
 *
 * The fitted columns B are free to move under the new weights (the term with g), or two gases that can hardly be told
 * apart would seem to be different. Null when the fitted columns imitate the gas.
 */
export function tolerantScore(column: Column, question: ScoreQuestion, amount: number): Score | null {
  const { design, residual, variance, placeOf, covarianceSize: q } = question;
  const own = new Float64Array(design.masses.length);
  const error = new Float64Array(design.masses.length);
  const omitted = (column.omittedShare * column.peakResponse * amount) ** 2;
  error.fill(omitted, 0, column.lastRow + 1);
  for (const { row, share } of column.unlisted) error[row]! += (share * column.peakResponse * amount) ** 2;
  column.rows.forEach((row, k) => {
    own[row] = column.response[k]!;
    error[row]! += (column.relativeError[k]! * column.response[k]! * amount) ** 2;
  });
  const normal = new Float64Array(q * q);
  const overlap = new Float64Array(q);
  const pull = new Float64Array(q);
  let whole = 0;
  let slope = 0;
  for (let row = 0; row < own.length; row++) {
    const weight = 1 / (variance[row]! + error[row]!);
    whole += weight * own[row]! * own[row]!;
    slope += weight * own[row]! * residual[row]!;
    const end = design.rowStart[row + 1]!;
    for (let e = design.rowStart[row]!; e < end; e++) {
      const a = placeOf[design.entryColumn[e]!]!;
      if (a < 0) continue;
      const weighted = weight * design.entryResponse[e]!;
      overlap[a]! += weighted * own[row]!;
      pull[a]! += weighted * residual[row]!;
      for (let f = design.rowStart[row]!; f < end; f++) {
        const b = placeOf[design.entryColumn[f]!]!;
        if (b >= 0 && b <= a) normal[a * q + b]! += weighted * design.entryResponse[f]!;
      }
    }
  }
  forwardSolve(normal, q, [overlap, pull]);
  const rest = whole - product(overlap, overlap);
  if (!(rest > SMALLEST_REST * whole)) return null;
  const moved = slope - product(overlap, pull);
  return { z: moved / Math.sqrt(rest), estimate: moved / rest, sigma: 1 / Math.sqrt(rest) };
}

/** Less of the column than this is left when the fitted ones are taken away: nothing can be said of it. */
const SMALLEST_REST = 1e-6;
const SMALLEST_PIVOT = 1e-12;

/** Cholesky of the lower triangle in place, and L⁻¹ of each right-hand side. */
function forwardSolve(matrix: Float64Array, q: number, sides: readonly Float64Array[]): void {
  for (let i = 0; i < q; i++) {
    const diagonal = matrix[i * q + i]!;
    for (let k = 0; k <= i; k++) {
      let sum = matrix[i * q + k]!;
      for (let l = 0; l < k; l++) sum -= matrix[i * q + l]! * matrix[k * q + l]!;
      matrix[i * q + k] = i === k ? Math.sqrt(Math.max(sum, SMALLEST_PIVOT * diagonal)) : sum / matrix[k * q + k]!;
    }
    for (const side of sides) {
      let sum = side[i]!;
      for (let l = 0; l < i; l++) sum -= matrix[i * q + l]! * side[l]!;
      side[i] = sum / matrix[i * q + i]!;
    }
  }
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
