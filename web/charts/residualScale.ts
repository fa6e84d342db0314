/** Where the residuals of one scan stand: mass by mass, what explains a peak, what was found, and how far apart. */
export interface ResidualPeak {
  readonly mass: number;
  /** In the reader's unit; null when the mass was not measured. */
  readonly height: number | null;
  readonly explained: number | null;
  readonly residual: number | null;
  readonly sigma: number | null;
  readonly leftOut: string | null;
}

/** The lower panel ends here: farther out an arrow stands at the edge and the number beside it. */
export const MOST_SIGMA = 6;
/** Within this many standard deviations a residual says nothing. */
export const QUIET_SIGMA = 2;
/** 95 % of a normal distribution. */
const SIGMA_95 = 1.96;

/** Residual in standard deviations; null where either is not known. */
export function inSigma({ residual, sigma }: Pick<ResidualPeak, 'residual' | 'sigma'>): number | null {
  if (residual === null || sigma === null || !(sigma > 0) || !Number.isFinite(residual)) return null;
  return residual / sigma;
}

/** The height that no gas explains beyond doubt; null when all of it may be explained. */
export function unexplainedFrom(peak: ResidualPeak): number | null {
  const away = inSigma(peak);
  if (away === null || away <= QUIET_SIGMA || peak.height === null || peak.leftOut !== null) return null;
  return Math.max(0, peak.explained ?? 0);
}

/** The 95 % line through a height: the sigma of the residual holds noise and patterns. */
export function sureLine(peak: ResidualPeak): { readonly low: number; readonly high: number } | null {
  if (peak.height === null || peak.sigma === null || !(peak.sigma > 0)) return null;
  return { low: peak.height - SIGMA_95 * peak.sigma, high: peak.height + SIGMA_95 * peak.sigma };
}

/** Does a peak rise from the noise? What does not has no height to draw; its residual is still told. */
export function rises(peak: ResidualPeak): boolean {
  if (peak.height === null || peak.height <= 0) return false;
  if (peak.sigma === null) return true;
  return peak.height > SIGMA_95 * peak.sigma || (peak.explained ?? 0) > SIGMA_95 * peak.sigma;
}

export interface SigmaPlace {
  /** Clamped to the panel. */
  readonly at: number;
  readonly beyond: 'up' | 'down' | null;
}

export const sigmaPlace = (away: number): SigmaPlace => ({
  at: Math.max(-MOST_SIGMA, Math.min(MOST_SIGMA, away)),
  beyond: away > MOST_SIGMA ? 'up' : away < -MOST_SIGMA ? 'down' : null,
});

/** Masses worth a label: those that stand out, the worst first. */
export function standingOut(peaks: readonly ResidualPeak[], most: number): ResidualPeak[] {
  return peaks
    .filter((peak) => peak.leftOut === null && Math.abs(inSigma(peak) ?? 0) > QUIET_SIGMA)
    .sort((a, b) => Math.abs(inSigma(b) ?? 0) - Math.abs(inSigma(a) ?? 0))
    .slice(0, most);
}
