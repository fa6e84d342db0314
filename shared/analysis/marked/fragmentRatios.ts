/**
 * Peaks of one gas against its largest one, over several scans.
 *
 * Each scan gives r_k = h_k / h_ref with a variance of noise, so that scans at different pressures count alike. The
 * mean weighs them with noise and a few per cent of repeatability; three errors stay apart: noise of the mean, scatter
 * beyond noise (which more scans do not average away: tomorrow's scan has it too), and what the rest gas leaves open
 * below the peak, which all scans share.
 */
export interface NetScan {
  /** Heights of the gas alone, and their variance from noise. */
  readonly heights: Float64Array;
  readonly noiseVariance: Float64Array;
  /** One sigma of what was taken off. */
  readonly restSigma: Float64Array;
}

export interface Ratio {
  readonly mean: number;
  /** One standard deviation for all reasons. */
  readonly sigma: number;
  /** Largest minus smallest ratio of the scans. */
  readonly range: number;
  /** Known error of a single scan's ratio: noise, and what the rest gas leaves open. */
  readonly noise: number;
}

/** A fragment repeats to about this from day to day on one analyser (common practice): learned ratios are no better. */
export const REPEATABILITY = 0.03;

export function fragmentRatios(scans: readonly NetScan[], reference: number): Ratio[] {
  return Array.from(scans[0]!.heights, (_, row) => (row === reference ? ONE : ratioOf(scans, row, reference)));
}

const ONE: Ratio = { mean: 1, sigma: 0, range: 0, noise: 0 };

function ratioOf(scans: readonly NetScan[], row: number, reference: number): Ratio {
  const single = scans.map(({ heights, noiseVariance, restSigma }) => {
    const top = heights[reference]!;
    const ratio = heights[row]! / top;
    const noise = (noiseVariance[row]! + ratio ** 2 * noiseVariance[reference]!) / top ** 2;
    return { ratio, noise, rest: restSigma[row]! / top };
  });
  const plain = single.reduce((sum, { ratio }) => sum + ratio, 0) / single.length;
  const weights = single.map(({ noise }) => 1 / (noise + (REPEATABILITY * plain) ** 2 + Number.EPSILON ** 2));
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const weighted = (value: (one: (typeof single)[number]) => number) =>
    single.reduce((sum, one, i) => sum + weights[i]! * value(one), 0) / whole;
  const mean = weighted(({ ratio }) => ratio);
  const noise = weighted((one) => one.noise);
  const spread = (weighted(({ ratio }) => (ratio - mean) ** 2) * single.length) / (single.length - 1);
  const ofMean = single.reduce((sum, one, i) => sum + (weights[i]! / whole) ** 2 * one.noise, 0);
  const rest = weighted((one) => one.rest);
  const ratios = single.map(({ ratio }) => ratio);
  return {
    mean,
    sigma: Math.sqrt(Math.max(0, spread - noise) + ofMean + rest ** 2),
    range: Math.max(...ratios) - Math.min(...ratios),
    noise: Math.sqrt(noise + rest ** 2),
  };
}
