import type { Column } from './columns.ts';
import type { Design } from './design.ts';
import { tolerantScore } from './tolerantScore.ts';

/**
 * Evidence for a gas that is not in the fit, without fitting it (score test, C. R. Rao 1948):
 *
 *   z_j = a_jᵀW e / √s_j,   s_j = a_jᵀW a_j − uᵀC u,   u = BᵀW a_j
 *
 * with e the residual, B the fitted columns and C their covariance. x̂_j = a_jᵀW e / s_j is what the fit would give it
 * to first order, 1/√s_j the standard deviation of that.
 *
 * The test is made twice: once as it stands, and once with the model error that the gas's own fragments would have if
 * its reference peak were what is left there, since a clean scan would otherwise refuse an oil for one fragment that
 * this analyser does not show. The stronger evidence counts.
 */
export interface Score {
  readonly z: number;
  readonly estimate: number;
  readonly sigma: number;
}

/** Less than this share of a column is left when the fitted ones are taken away: nothing can be said of it. */
const SMALLEST_REST = 1e-9;
/** Evidence beyond this needs no second look. */
const RARE_ENOUGH = 50;
/** Standard deviations that the reference peak must stand out for the test with model error. */
const WORTH_A_SECOND_LOOK = 2;
const NOTHING: Score = { z: 0, estimate: 0, sigma: Number.POSITIVE_INFINITY };

export interface ScoreQuestion {
  readonly design: Design;
  readonly residual: Float64Array;
  readonly variance: Float64Array;
  /** Place of each column in the covariance, −1: not in it. */
  readonly placeOf: Int32Array;
  readonly covariance: Float64Array;
  readonly covarianceSize: number;
  /** Workspace of at least `covarianceSize`. */
  readonly overlap: Float64Array;
}

export const scoreOf = (j: number, question: ScoreQuestion): Score =>
  scoreColumn(question.design.columns[j]!, question);

/** The same for a gas that the design does not hold. */
export function scoreColumn(column: Column, question: ScoreQuestion): Score {
  const plain = plainScore(column, question);
  const { rows, referencePlace, peakResponse } = column;
  const row = rows[referencePlace]!;
  const left = question.residual[row]!;
  if (plain.z >= RARE_ENOUGH || !(left > WORTH_A_SECOND_LOOK * Math.sqrt(question.variance[row]!))) return plain;
  const tolerant = tolerantScore(column, question, left / peakResponse);
  return tolerant !== null && tolerant.z > plain.z ? tolerant : plain;
}

function plainScore({ rows, response }: Column, question: ScoreQuestion): Score {
  const { design, residual, variance, placeOf, covariance, covarianceSize: q, overlap } = question;
  overlap.fill(0, 0, q);
  let slope = 0;
  let own = 0;
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k]!;
    const weighted = response[k]! / variance[row]!;
    slope += weighted * residual[row]!;
    own += weighted * response[k]!;
    for (let e = design.rowStart[row]!; e < design.rowStart[row + 1]!; e++) {
      const place = placeOf[design.entryColumn[e]!]!;
      if (place >= 0) overlap[place]! += weighted * design.entryResponse[e]!;
    }
  }
  let shared = 0;
  for (let a = 0; a < q; a++) {
    const u = overlap[a]!;
    if (u === 0) continue;
    let sum = 0;
    for (let b = 0; b < q; b++) sum += covariance[a * q + b]! * overlap[b]!;
    shared += u * sum;
  }
  const rest = own - shared;
  if (!(rest > SMALLEST_REST * own)) return NOTHING;
  return { z: slope / Math.sqrt(rest), estimate: slope / rest, sigma: 1 / Math.sqrt(rest) };
}
