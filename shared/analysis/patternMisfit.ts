import type { Fit } from './fit.ts';

/**
 * How far this analyser's fragments are from the records, as this scan shows it, in units of what was assumed.
 *
 * The fit assumes 30 % for every fragment, the upper end of what analysers do, so that nothing absent is seen. What is
 * left over where patterns and not noise limit the fit says whether that was too much or too little:
 *
 *   misfit² = (Σ w_m e_m² / v_m + n₀ p₀) / (Σ w_m (1 − h_m) + n₀) / p₁,   w_m = model part of v_m,  h_m = b_mᵀC b_m / v_m
 *
 * A scan has five to eighty such degrees of freedom; the prior n₀, p₀ keeps few of them from saying much. Intervals of
 * detected gases follow it both ways. Limits, decisions and sensitivities follow it upwards only: a scan that happens
 * to fit well is no reason to believe more in what it does not show.
 */
const PRIOR_ROWS = 10;
const PRIOR_SQUARE = 0.5;
/** The mean square of a scan whose fragments err by just what was assumed (simulated; below one, since v is cautious). */
const EXPECTED_SQUARE = 0.62;
const LEAST = 0.55;
const MOST = 1.5;
/** Rows with a smaller part of model error tell of noise. */
const LEAST_MODEL_SHARE = 0.3;

export function patternMisfit(fit: Fit): number {
  const { variance, noiseVariance, residual } = fit;
  let squares = PRIOR_ROWS * PRIOR_SQUARE;
  let rows = PRIOR_ROWS;
  for (let row = 0; row < variance.length; row++) {
    const share = 1 - noiseVariance[row]! / variance[row]!;
    if (share < LEAST_MODEL_SHARE) continue;
    squares += (share * residual[row]! ** 2) / variance[row]!;
    rows += share * Math.max(0, 1 - leverage(fit, row));
  }
  return Math.min(MOST, Math.max(LEAST, Math.sqrt(squares / rows / EXPECTED_SQUARE)));
}

/** What part of a height's own variance the fit follows. */
function leverage({ design, covariance, covarianceColumns, placeOf, variance }: Fit, row: number): number {
  const q = covarianceColumns.length;
  const end = design.rowStart[row + 1]!;
  let sum = 0;
  for (let e = design.rowStart[row]!; e < end; e++) {
    const a = placeOf[design.entryColumn[e]!]!;
    if (a < 0) continue;
    const response = design.entryResponse[e]!;
    sum += covariance[a * q + a]! * response * response;
    for (let f = design.rowStart[row]!; f < e; f++) {
      const b = placeOf[design.entryColumn[f]!]!;
      if (b >= 0) sum += 2 * covariance[a * q + b]! * response * design.entryResponse[f]!;
    }
  }
  return sum / variance[row]!;
}
