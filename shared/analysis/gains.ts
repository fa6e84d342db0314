import type { Fit } from './fit.ts';
import type { Scaling } from './scaling.ts';

/**
 * How each height moves each answer: row k of G = C BᵀW, so that x_k = Σ_m G_km y_m to first order.
 * When amounts are scaled so that Σ s_g x_g equals a gauge, a height that moves x_k also moves the sum:
 *   G'_k = G_k − (x_k / Σ s x) Σ_i s_i G_i.
 */
export interface Gains {
  readonly fit: Fit;
  /** Σ_i s_i G_i / Σ s x per row; zeros when amounts stand in their own scale. */
  readonly ofTotal: Float64Array;
}

export interface GainRow {
  readonly gain: Float64Array;
  /** Variance of the amount from noise. */
  readonly noiseVariance: number;
  /** From the fragments of the other columns. */
  readonly patternVariance: number;
  /** From the fragments of its own column: proportional to the amount. */
  readonly ownVariance: number;
}

export function makeGains(fit: Fit, scaling: Scaling): Gains {
  const { design, placeOf } = fit;
  const ofTotal = new Float64Array(design.masses.length);
  if (scaling.total !== null) {
    const weights = new Float64Array(fit.covarianceColumns.length);
    for (let j = 0; j < design.gasCount; j++) {
      const place = placeOf[j]!;
      if (place >= 0) weights[place] = design.columns[j]!.gaugeFactor / scaling.total;
    }
    writeGain(fit, weights, ofTotal);
  }
  return { fit, ofTotal };
}

/**
 * Gain of one column of the covariance set.
 *
 * With the weights of the fit, Σ_m G_km² v_m is C_kk. Where two columns are the same (nitrogen and carbon monoxide when
 * only m/z 28 was measured) C is very large and the gain, a difference of two such numbers, no longer shows it: what
 * the gain leaves out of C_kk is counted with the patterns.
 */
export function gainRow(gains: Gains, j: number): GainRow {
  const row = gainOfSum(gains, [j]);
  const { covariance, covarianceColumns, placeOf } = gains.fit;
  const place = placeOf[j]!;
  const whole = covariance[place * covarianceColumns.length + place]!;
  const seen = row.noiseVariance + row.ownVariance + row.patternVariance;
  return whole > INDISTINGUISHABLE * seen ? { ...row, patternVariance: whole } : row;
}

/** Far above what rounding does to a well-posed fit. */
const INDISTINGUISHABLE = 100;

/** Gain of the sum of several columns. Own variance is the part of the fragments of these columns. */
export function gainOfSum({ fit, ofTotal }: Gains, columns: readonly number[]): GainRow {
  const { design, amounts, variance, noiseVariance } = fit;
  const gain = new Float64Array(design.masses.length);
  const weights = new Float64Array(fit.covarianceColumns.length);
  let amount = 0;
  for (const j of columns) {
    weights[fit.placeOf[j]!] = 1;
    amount += amounts[j]!;
  }
  writeGain(fit, weights, gain);
  let ofNoise = 0;
  let ofPatterns = 0;
  for (let row = 0; row < gain.length; row++) {
    gain[row]! -= amount * ofTotal[row]!;
    const square = gain[row]! * gain[row]!;
    ofNoise += square * noiseVariance[row]!;
    ofPatterns += square * (variance[row]! - noiseVariance[row]!);
  }
  const own = ownFragments(fit, columns, gain);
  return { gain, noiseVariance: ofNoise, ownVariance: own, patternVariance: Math.max(0, ofPatterns - own) };
}

/** Variance that the fragments of these columns bring in through the gain. */
function ownFragments({ design, amounts }: Fit, columns: readonly number[], gain: Float64Array): number {
  let sum = 0;
  for (const j of columns) {
    const { rows, response, relativeError } = design.columns[j]!;
    for (let k = 0; k < rows.length; k++) {
      sum += (gain[rows[k]!]! * relativeError[k]! * response[k]! * amounts[j]!) ** 2;
    }
  }
  return sum;
}

/** out_m = Σ_b (wᵀC)_b B_mb / v_m. */
function writeGain(fit: Fit, weights: Float64Array, out: Float64Array): void {
  const { design, covariance, covarianceColumns, variance } = fit;
  const q = weights.length;
  const combined = new Float64Array(q);
  for (let a = 0; a < q; a++) {
    if (weights[a] === 0) continue;
    for (let b = 0; b < q; b++) combined[b]! += weights[a]! * covariance[a * q + b]!;
  }
  for (let b = 0; b < q; b++) {
    const { rows, response } = design.columns[covarianceColumns[b]!]!;
    for (let k = 0; k < rows.length; k++) out[rows[k]!]! += combined[b]! * response[k]!;
  }
  for (let row = 0; row < out.length; row++) out[row]! /= variance[row]!;
}
