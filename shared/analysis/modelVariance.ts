import type { Design } from './design.ts';

/**
 * Variance of every height when the patterns themselves are uncertain:
 *
 *   v_m = noise_m + Σ_g (r_mg a_mg x_g)² + Σ_organic (0.005 a_ref,g x_g)²   (the last up to the heaviest ion of g)
 *
 * and peaks that are there but in no record, likewise as an error of their own size.
 *
 * The model error belongs to each *contribution*, not to the sum: a relative error of the sum would blur the reference
 * peak, on which nothing depends but the sensitivity, and would leave a fragment that hides below another gas's peak
 * without any.
 */
export function modelVariance(
  design: Design,
  amounts: Float64Array,
  noiseVariance: Float64Array,
  out: Float64Array,
  scratch: Float64Array,
): void {
  const rowCount = design.masses.length;
  for (let row = 0; row < rowCount; row++) {
    out[row] = noiseVariance[row]!;
    scratch[row] = 0;
  }
  let omitted = false;
  for (let j = 0; j < design.columns.length; j++) {
    const amount = amounts[j]!;
    if (!(amount > 0) || design.free[j]) continue;
    const { rows, response, relativeError, omittedShare, peakResponse, lastRow, unlisted } = design.columns[j]!;
    for (let k = 0; k < rows.length; k++) {
      const error = relativeError[k]! * response[k]! * amount;
      out[rows[k]!]! += error * error;
    }
    for (let k = 0; k < unlisted.length; k++) {
      out[unlisted[k]!.row]! += (unlisted[k]!.share * peakResponse * amount) ** 2;
    }
    if (omittedShare > 0 && lastRow >= 0) {
      scratch[lastRow]! += (omittedShare * peakResponse * amount) ** 2;
      omitted = true;
    }
  }
  if (!omitted) return;
  let sum = 0;
  for (let row = rowCount - 1; row >= 0; row--) {
    sum += scratch[row]!;
    out[row]! += sum;
  }
}
