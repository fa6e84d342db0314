/** A calibration factor offered to an engineer, where the gauge has long said the same. It is never applied by itself. */
import type { Calibration } from '../../shared/analysis/types.ts';
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import type { WholeMeasurement } from '../../shared/db/measurement.ts';
import { sayDuration } from '../../shared/measurement/say.ts';
import { rounded } from '../present.ts';

/** Gauge and analyser are not asked to agree better than this. */
const WORTH_A_FACTOR = 1.1;
const TWO_SIDED_95 = 1.96;

const two = (value: number): string => String(Number(value.toPrecision(2)));

export const suggestionOf = (whole: WholeMeasurement, calibration: Calibration): AnalyserMeasurement['suggestion'] => {
  const kappa = whole.instrument?.kappa ?? null;
  // An analyser whose sum is scaled to the gauge agrees with it by construction.
  if (kappa === null || !kappa.steady || calibration.principle === 'ion trap' || whole.kappa === null) return null;
  const away = Math.abs(Math.log(kappa.usual));
  const own = TWO_SIDED_95 * kappa.spread;
  if (away <= Math.log(WORTH_A_FACTOR) || away <= own) return null;
  const { sensitivityAmperesPerPascal: sensitivity } = calibration;
  const time = sayDuration((kappa.atMs - kappa.sinceMs) / 1000);
  return {
    factor: rounded(kappa.usual),
    low: rounded(kappa.usual * Math.exp(-own)),
    high: rounded(kappa.usual * Math.exp(own)),
    sensitivityAmperesPerPascal: sensitivity === null ? null : rounded(sensitivity / kappa.usual),
    because:
      `Over ${kappa.scans} scans (${time}) the gauge has steadily read ${two(kappa.usual)} times what the partial pressures add up to, ` +
      'each weighted as the gauge sees it. Either may be the one that is wrong: gauges of one kind differ by 10 to 15 % and more as they age, ' +
      'an analyser by far more; a gauge at another place reads another pressure. Compare with a certificate or a third instrument before this factor is put in force.',
  };
};
