/** One gas on one side of a before-and-after: its middle, what of its error averages away, and what does not. */
import { DETECTED_SHARE, type Looked, lastingOf, middle, type SensitivityError } from './gasSeries.ts';
import { TWO_SIDED_95 } from './meanError.ts';
import { type RobustMean, robustMean, scatterHalf } from './robustMean.ts';

export interface GasSide {
  /** Scans that looked for it. */
  readonly scans: number;
  readonly detectedShare: number;
  /** Of ln(P/Pa); null: fewer than half of the scans detect it, or there are too few. */
  readonly mean: RobustMean | null;
  /** Middle one of the upper limits of scans that did not detect it, Pa; null: all did. */
  readonly limitPa: number | null;
  /** Standard deviations of ln P that no averaging takes away: all of it, and what remains without the sensitivity. */
  readonly lasting: number;
  readonly pattern: number;
  /** What of `lasting` every analyser takes from the same catalogue. */
  readonly catalogue: number;
}

/** @param error of the gas on this analyser; undefined: not known, and all that lasts is taken as the pattern's */
export function sideOf({ estimates }: Looked, error: SensitivityError | undefined): GasSide {
  const found = estimates.filter(({ detected, valuePa }) => detected && valuePa > 0);
  const detectedShare = found.length / estimates.length;
  const lasting = found.length === 0 ? 0 : lastingOf(found);
  const logs = estimates.map(({ detected, valuePa }) =>
    detected && valuePa > 0 ? Math.log(valuePa) : Number.NEGATIVE_INFINITY,
  );
  return {
    scans: estimates.length,
    detectedShare,
    mean: detectedShare >= DETECTED_SHARE ? robustMean(logs) : null,
    limitPa: middle(estimates.filter(({ detected }) => !detected).map(({ highPa }) => highPa)),
    lasting,
    pattern: error === undefined ? lasting : Math.sqrt(Math.max(0, lasting ** 2 - error.absolute ** 2)),
    catalogue: Math.min(lasting, error?.catalogue ?? 0),
  };
}

/** Half width of a 95 % interval of ln P: scatter and `lasting` together. */
export const halfWidth = (mean: RobustMean, lasting: number): number =>
  Math.hypot(scatterHalf(mean), TWO_SIDED_95 * lasting);
