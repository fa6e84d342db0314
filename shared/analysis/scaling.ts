import type { Fit } from './fit.ts';
import { GAUGE_FACTOR_UNCERTAINTY, GAUGE_UNCERTAINTY, gaugeEquivalent } from './gauge.ts';

/**
 * From amounts in the scale of the heights to pascal.
 *
 * With a sensitivity the heights are pascal and nothing is to be done. Without one, the analyser knows fractions only
 * and the gauge gives the scale, self-consistently with its own gas factors: P_k = G x_k / Σ s_i x_i. The logarithm of
 * P_k then has the variance
 *
 *   u_G² + Σ_i (δ_ik − w_i)² u_i² + Σ_i w_i² u_s²,   w_i = s_i x_i / Σ s x
 *
 * (u_i sensitivity of the analyser, u_s factor of the gauge, u_G gauge); noise and patterns come on top through the
 * gains. A gas that is all there is has little of its own sensitivity's error left: its share is one anyway.
 */
export interface Scaling {
  /** Pa per unit of amount. */
  readonly factor: number;
  /** Σ s x in the scale of the amounts; null when the amounts have a scale of their own. */
  readonly total: number | null;
  /** Standard deviation of the logarithm of a gas's amount for reasons other than noise and patterns. */
  sensitivityError(column: number): number;
}

/** `gainError`: standard deviation of ln(gain) of a multiplier, by which all gases are off together. */
export const ownScale = (fit: Fit, gainError = 0): Scaling => ({
  factor: 1,
  total: null,
  sensitivityError: (column) => Math.hypot(fit.design.columns[column]!.sensitivityError, gainError),
});

/** `gaugeFactorError`: of the factor between the gauge's place and the analyser's. Null when nothing was found whose sum could be compared with the gauge. */
export function scaleToGauge(fit: Fit, gaugePa: number, gaugeFactorError = 0): Scaling | null {
  const total = gaugeEquivalent(fit);
  if (!(total > 0)) return null;
  const { design, amounts } = fit;
  let common = GAUGE_UNCERTAINTY ** 2 + gaugeFactorError ** 2;
  const weights = new Float64Array(design.gasCount);
  for (let i = 0; i < design.gasCount; i++) {
    const column = design.columns[i]!;
    weights[i] = (column.gaugeFactor * amounts[i]!) / total;
    common += weights[i]! ** 2 * (column.sensitivityError ** 2 + GAUGE_FACTOR_UNCERTAINTY ** 2);
  }
  return {
    factor: gaugePa / total,
    total,
    sensitivityError(column) {
      const own = design.columns[column]!.sensitivityError;
      const weight = weights[column]!;
      return Math.sqrt(common + ((1 - weight) ** 2 - weight ** 2) * own ** 2);
    },
  };
}
