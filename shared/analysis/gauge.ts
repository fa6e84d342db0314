import type { Fit } from './fit.ts';
import type { AnalysisScan } from './types.ts';

/**
 * The ionisation gauge beside the analyser. It reads Σ P_g s_g, with s_g its sensitivity for the gas relative to
 * nitrogen (P. A. Redhead, CRC Handbook of Chemistry and Physics, sec. 15: the mean of twelve experimenters; gauges
 * differ from each other by up to ±15 %).
 */
export const GAUGE_UNCERTAINTY = 0.1;
export const GAUGE_FACTOR_UNCERTAINTY = 0.15;
/** Nothing that a hot-cathode or cold-cathode gauge reads is below this; smaller readings are faults of transmission. */
const LOWEST_GAUGE_PA = 1e-12;
/** Above atmospheric pressure with some margin no vacuum gauge is read. */
const HIGHEST_GAUGE_PA = 2e5;

export type GaugeReading =
  | { readonly kind: 'reading'; readonly pressurePa: number }
  | { readonly kind: 'missing' }
  | { readonly kind: 'absurd'; readonly valuePa: number };

/** `factor`: the pressure at the analyser per reading, for a gauge at another port. */
export function gaugeReading({ totalPressurePa }: AnalysisScan, factor = 1): GaugeReading {
  if (totalPressurePa === null) return { kind: 'missing' };
  if (!(totalPressurePa >= LOWEST_GAUGE_PA && totalPressurePa <= HIGHEST_GAUGE_PA)) {
    return { kind: 'absurd', valuePa: totalPressurePa };
  }
  return { kind: 'reading', pressurePa: totalPressurePa * factor };
}

/** What a gauge reads for these amounts: Σ x_g s_g over the gases of the fit. */
export function gaugeEquivalent({ design, amounts }: Pick<Fit, 'design' | 'amounts'>): number {
  let sum = 0;
  for (let j = 0; j < design.gasCount; j++) sum += amounts[j]! * design.columns[j]!.gaugeFactor;
  return sum;
}
