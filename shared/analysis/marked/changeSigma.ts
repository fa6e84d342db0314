import type { OwnGas } from '../background.ts';
import type { Fit } from '../fit.ts';
import { gainRow, makeGains } from '../gains.ts';
import type { Scaling } from '../scaling.ts';

/**
 * Uncertainty of the change of one gas between two scans of one analyser, in the gas's own scale:
 *
 *   σ_Δ² = Σ_m (G1² noise1 + G2² noise2) + Σ_{g,m} (r_mg a_mg (G2_m x2_g − G1_m x1_g))²
 *
 * (G: gain of the gas at mass m, x: amounts, r a: error of a fragment). The patterns are the same in both scans, so
 * their errors go with the difference: nothing is left of them when nothing but noise changed, and much when another gas
 * moved. The sensitivity, which both scans share, is left out. Noise alone covers three quarters of the changes when air
 * comes in beside, instead of 95 %.
 *
 * The analyser's own gas was taken off both scans: what is not known of it goes with the difference of the gains, and it
 * comes and goes as a whole.
 */
export interface FittedScan {
  readonly fit: Fit;
  readonly scaling: Scaling;
  /** Of the heights, for all reasons but gases and own gas. */
  readonly variance: Float64Array;
}

export interface ChangeVariance {
  readonly noise: number;
  readonly pattern: number;
}

export interface ChangeSigmaQuestion {
  readonly before: FittedScan;
  readonly after: FittedScan;
  readonly own: { readonly gas: OwnGas; readonly unsteadiness: number } | null;
  /** A column of the design that both scans share, in the covariance of both. */
  readonly column: number;
}

/** A gas whose error the gains do not show any more, being the same as another one (see gains.ts). */
const INDISTINGUISHABLE = 100;

/** Variances in Pa². */
export function changeVariance({ before, after, own, column }: ChangeSigmaQuestion): ChangeVariance {
  const first = weighted(before, column);
  const second = weighted(after, column);
  let noise = first.noise + second.noise;
  if (own !== null) {
    noise += own.unsteadiness ** 2 * (sumOver(first.gain, own.gas) ** 2 + sumOver(second.gain, own.gas) ** 2);
    own.gas.variance.forEach((variance, row) => {
      const lasting = Math.max(0, variance - (own.unsteadiness * own.gas.heightPa[row]!) ** 2);
      noise += (second.gain[row]! - first.gain[row]!) ** 2 * lasting;
    });
  }
  return { noise, pattern: patternTerm(before.fit, first, after.fit, second) + first.hidden + second.hidden };
}

interface Weighted {
  /** Pa per unit of height. */
  readonly gain: Float64Array;
  readonly noise: number;
  /** Variance that the gains do not show. */
  readonly hidden: number;
}

function weighted({ fit, scaling, variance }: FittedScan, column: number): Weighted {
  const row = gainRow(makeGains(fit, scaling), column);
  const gain = row.gain.map((value) => value * scaling.factor);
  let noise = 0;
  for (let m = 0; m < gain.length; m++) noise += gain[m]! ** 2 * variance[m]!;
  const nothing: Weighted = { gain: new Float64Array(gain.length), noise: 0, hidden: 0 };
  const shown = noise + patternTerm(fit, nothing, fit, { gain, noise, hidden: 0 });
  const whole = (row.noiseVariance + row.patternVariance + row.ownVariance) * scaling.factor ** 2;
  return { gain, noise, hidden: whole > INDISTINGUISHABLE * shown ? whole : 0 };
}

/** The heights of the own gas are pascal, as are those of every scan that it was taken off. */
const sumOver = (gain: Float64Array, { heightPa }: OwnGas): number =>
  gain.reduce((sum, value, row) => sum + value * heightPa[row]!, 0);

function patternTerm(before: Fit, first: Weighted, after: Fit, second: Weighted): number {
  const { columns, free } = after.design;
  let sum = 0;
  for (let g = 0; g < columns.length; g++) {
    const x1 = before.amounts[g]!;
    const x2 = after.amounts[g]!;
    if (free[g] || (x1 === 0 && x2 === 0)) continue;
    const { rows, response, relativeError, omittedShare, peakResponse, lastRow } = columns[g]!;
    for (let k = 0; k < rows.length; k++) {
      const row = rows[k]!;
      const shift = second.gain[row]! * x2 - first.gain[row]! * x1;
      sum += (relativeError[k]! * response[k]! * shift) ** 2;
    }
    if (omittedShare === 0) continue;
    for (let row = 0; row <= lastRow; row++) {
      const shift = second.gain[row]! * x2 - first.gain[row]! * x1;
      sum += (omittedShare * peakResponse * shift) ** 2;
    }
  }
  return sum;
}
