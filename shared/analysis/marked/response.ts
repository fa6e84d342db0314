import type { CatalogueGas } from '../../catalogue/types.ts';
import { GAUGE_FACTOR_UNCERTAINTY, GAUGE_UNCERTAINTY, gaugeReading } from '../gauge.ts';
import { CALIBRATION_GAS } from '../sensitivity.ts';
import type { AnalysisScan } from '../types.ts';

/**
 * How high the largest peak stands per pascal of the gas, with the pressure taken from the gauge:
 *
 *   P_g = G f w_g / s_g,   response = h_ref / P_g
 *
 * G the gauge's reading, f its factor for the place of the analyser, s_g its gas factor (1 for nitrogen), w_g the part
 * of the reading that this gas makes. Gas factors of gauges differ by up to ± 15 % (P. A. Redhead, CRC Handbook,
 * sec. 15); for nitrogen only the gauge itself errs.
 */
export interface Response {
  readonly value: number;
  /** Standard deviation of its logarithm. */
  readonly uncertainty: number;
  /** Scans that came with a reading. */
  readonly scans: number;
}

export interface DosedScan {
  readonly scan: AnalysisScan;
  /** Height of the largest peak, N2-equivalent Pa. */
  readonly heightPa: number;
  /** Relative noise of that. */
  readonly noise: number;
  /** Share of the gas in what the gauge reads. */
  readonly gaugeShare: number;
}

/** How well the share of the other gases in the gauge's reading is known. */
const OTHERS_UNCERTAINTY = 0.3;
/** `low` and `high` of the catalogue are taken as two standard deviations to either side. */
const LIMITS_IN_SIGMAS = 4;

/** Null when no scan came with a usable reading of the gauge. */
export function responseOf(gas: CatalogueGas, scans: readonly DosedScan[], gaugeFactor: number): Response | null {
  const logs: number[] = [];
  let noise = 0;
  let others = 0;
  for (const { scan, heightPa, noise: relative, gaugeShare } of scans) {
    const gauge = gaugeReading(scan);
    if (gauge.kind !== 'reading' || !(heightPa > 0)) continue;
    const pressure = (gauge.pressurePa * gaugeFactor * gaugeShare) / gas.relativeSensitivity.value;
    logs.push(Math.log(heightPa / pressure));
    noise += relative ** 2;
    others = Math.max(others, (1 - gaugeShare) * OTHERS_UNCERTAINTY);
  }
  if (logs.length === 0) return null;
  const mean = logs.reduce((sum, value) => sum + value, 0) / logs.length;
  const scatter = logs.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, logs.length - 1);
  return {
    value: Math.exp(mean),
    uncertainty: Math.hypot(
      GAUGE_UNCERTAINTY,
      gaugeFactorUncertainty(gas),
      others,
      Math.sqrt(scatter),
      Math.sqrt(noise) / logs.length,
    ),
    scans: logs.length,
  };
}

function gaugeFactorUncertainty({ id, relativeSensitivity: { low, high } }: CatalogueGas): number {
  if (id === CALIBRATION_GAS) return 0;
  return Math.max(GAUGE_FACTOR_UNCERTAINTY, Math.log(high / low) / LIMITS_IN_SIGMAS);
}
