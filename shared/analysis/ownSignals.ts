import { ARTEFACT_NAMES } from './artefacts.ts';
import type { Fit } from './fit.ts';
import type { Note } from './heights.ts';
import { sayShare } from './say.ts';
import type { Measurement } from './types.ts';

/**
 * What the fit took for the analyser's own signal instead of gas: the low-mass foot under hydrogen, and ions that
 * electrons knock off surfaces. Given when it stands three standard deviations above nothing; said when it also makes
 * more of a peak than a difference between two readings would.
 */
const STANDS_OUT_SIGMAS = 3;
/** A smaller part of a peak is lost in the sensitivity. */
const WORTH_SAYING_SHARE = 0.05;
const HYDROGEN_MASS = 2;

type Desorbed = Measurement['desorbed'][number];

/** What was taken off m/z 2; null when the foot cannot be told from nothing, or no foot is looked for. */
export function footOf(fit: Fit, factor: number): Measurement['foot'] {
  const { design, amounts, heights } = fit;
  const row = design.masses.indexOf(HYDROGEN_MASS);
  if (row < 0 || !(heights[row]! > 0)) return null;
  const weights = new Map<number, number>();
  let removed = 0;
  for (let e = design.rowStart[row]!; e < design.rowStart[row + 1]!; e++) {
    const j = design.entryColumn[e]!;
    if (!design.columns[j]!.id.startsWith('foot-') || !(amounts[j]! > 0)) continue;
    weights.set(j, design.entryResponse[e]!);
    removed += design.entryResponse[e]! * amounts[j]!;
  }
  if (!(removed > STANDS_OUT_SIGMAS * sigmaOfSum(fit, weights))) return null;
  return { removedPa: removed * factor, share: Math.min(1, removed / heights[row]!) };
}

/** √(wᵀCw). */
function sigmaOfSum({ covariance, covarianceColumns, placeOf }: Fit, weights: ReadonlyMap<number, number>): number {
  const q = covarianceColumns.length;
  let variance = 0;
  for (const [a, weight] of weights) {
    for (const [b, other] of weights) variance += weight * other * covariance[placeOf[a]! * q + placeOf[b]!]!;
  }
  return Math.sqrt(Math.max(0, variance));
}

/** Each ion at its main mass. */
export function desorbedOf(fit: Fit, factor: number): Measurement['desorbed'] {
  const { design, amounts, heights } = fit;
  return design.columns.flatMap(({ id, rows, referencePlace }, j): Desorbed[] => {
    if (!id.startsWith('desorbed-') || !(amounts[j]! > 0)) return [];
    if (!(amounts[j]! > STANDS_OUT_SIGMAS * sigmaOfSum(fit, new Map([[j, 1]])))) return [];
    const row = rows[referencePlace]!;
    const ion = ARTEFACT_NAMES[id as keyof typeof ARTEFACT_NAMES].replace('desorbed ', '');
    const height = amounts[j]! * design.columns[j]!.peakResponse;
    const share = heights[row]! > 0 ? Math.min(1, height / heights[row]!) : 1;
    return [{ ion, mass: design.masses[row]!, heightPa: height * factor, share }];
  });
}

export function footRemark(foot: Measurement['foot']): Note | null {
  if (foot === null || foot.share < WORTH_SAYING_SHARE) return null;
  const text = `The foot of the zero-mass peak reaches under hydrogen: ${sayShare(foot.share)} of m/z 2 was taken off as not being gas.`;
  return { code: 'low-mass-foot', text };
}

export function desorbedRemark(desorbed: Measurement['desorbed']): Note | null {
  const worth = desorbed.filter(({ share }) => share >= WORTH_SAYING_SHARE);
  if (worth.length === 0) return null;
  const parts = worth.map(({ ion, mass, share }) => `${sayShare(share)} of m/z ${mass} (${ion})`);
  const text = `Ions knocked off surfaces inside the analyser make ${parts.join(', ')}: they come without a gas and were not counted as one.`;
  return { code: 'desorbed-ions', text };
}
