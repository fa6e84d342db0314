/**
 * How far averaging lowers the noise of one analyser, from an Allan deviation that was measured on it.
 *
 * White noise falls as the square root of the number of averages; flicker stops that and drift turns it round:
 * σ_A²(N) = σ²/N + 2 ln2 · h + d²N²/2 for white noise σ, a one-sided spectral density h/f and a drift d per average
 * (IEEE Std 1139; W. J. Riley, NIST SP 1065). The curve is read as it was measured: on a logarithmic scale a straight
 * line joins neighbouring octaves, which is exact for white noise and for flicker alike.
 */

/** Deviation of a height after averaging so many scans, Pa N2-equivalent. */
export interface AllanPoint {
  readonly scans: number;
  readonly sigmaPa: number;
}

/** A curve of one mass, in scans, for scans that each average `sweepsPerScan` sweeps. */
export interface AllanCurve {
  readonly mass: number;
  readonly sweepsPerScan: number;
  /** Ascending, with one scan first. */
  readonly points: readonly [AllanPoint, ...AllanPoint[]];
}

/** As the analyser's view stores it: several masses over the same numbers of scans. */
export interface StoredAllan {
  readonly averages: number;
  readonly scans: readonly number[];
  readonly masses: readonly { readonly mass: number; readonly sigmaPa: readonly (number | null)[] }[];
}

const pointsOf = (scans: readonly number[], sigmaPa: readonly (number | null)[]): AllanPoint[] =>
  scans.flatMap((count, k) => {
    const sigma = sigmaPa[k];
    return sigma != null && sigma > 0 && Number.isFinite(sigma) ? [{ scans: count, sigmaPa: sigma }] : [];
  });

const known = (points: readonly AllanPoint[]): points is [AllanPoint, ...AllanPoint[]] => points[0]?.scans === 1;

/**
 * The curve of `mass`; where that mass is not followed, the one whose single scans are the quietest, which holds least
 * of the chamber's own changes. Null: nothing has been measured yet.
 */
export function curveFor(stored: StoredAllan | null, mass: number): AllanCurve | null {
  if (stored === null) return null;
  const curves = stored.masses.flatMap((one) => {
    const points = pointsOf(stored.scans, one.sigmaPa);
    return known(points) ? [{ mass: one.mass, sweepsPerScan: stored.averages, points }] : [];
  });
  const quietest = (a: AllanCurve, b: AllanCurve) => a.points[0].sigmaPa - b.points[0].sigmaPa;
  return curves.find((curve) => curve.mass === mass) ?? curves.sort(quietest)[0] ?? null;
}

/** The same shape for another height of one scan: the noise of a mass that is not followed itself. */
export function scaledTo(curve: AllanCurve, oneScanPa: number): AllanCurve {
  const factor = oneScanPa / curve.points[0].sigmaPa;
  const scaled = ({ scans, sigmaPa }: AllanPoint): AllanPoint => ({ scans, sigmaPa: sigmaPa * factor });
  const [first, ...rest] = curve.points;
  return { ...curve, points: [scaled(first), ...rest.map(scaled)] };
}

/**
 * The curve as far as it can be relied on. The longest averages rest on a handful of differences, and one of them may be
 * small by luck: no point is taken for lower than white noise would have come.
 */
export function reliable(curve: AllanCurve): AllanCurve {
  const [first, ...rest] = curve.points;
  const held = rest.map(({ scans, sigmaPa }) => ({
    scans,
    sigmaPa: Math.max(sigmaPa, first.sigmaPa / Math.sqrt(scans)),
  }));
  return { ...curve, points: [first, ...held] };
}

/** Where the curve is lowest. */
export const lowestOf = ({ points }: AllanCurve): AllanPoint =>
  points.reduce((best, point) => (point.sigmaPa < best.sigmaPa ? point : best));

/**
 * A last point that is not lower than the one before it happens to white noise too, one time in four with three
 * differences; two in a row hardly ever.
 */
const POINTS_TO_TURN = 2;

/** Where averaging stops helping; null: as far as has been compared it helps. */
export const turnOf = (curve: AllanCurve): AllanPoint | null => {
  const lowest = lowestOf(curve);
  return curve.points.length - 1 - curve.points.indexOf(lowest) >= POINTS_TO_TURN ? lowest : null;
};

/** A whole number that rounding has moved by less than this share is still that number. */
const ROUNDING = 1e-9;
const wholeAtLeast = (sweeps: number): number => Math.max(1, Math.ceil(sweeps * (1 - ROUNDING)));

/** Sweeps after which white noise alone, `oneSweepPa` for one sweep, has come down to `wantedPa`. */
export const whiteSweeps = (oneSweepPa: number, wantedPa: number): number => wholeAtLeast((oneSweepPa / wantedPa) ** 2);

/**
 * Smallest number of sweeps whose deviation is `wantedPa` or less; null when the measured curve does not come down to
 * it. Below one scan nothing is measured and white noise is taken: flicker and drift do not show on so short a time.
 */
export function sweepsFor({ sweepsPerScan, points }: AllanCurve, wantedPa: number): number | null {
  const [first] = points;
  if (first.sigmaPa <= wantedPa) return whiteSweeps(first.sigmaPa * Math.sqrt(sweepsPerScan), wantedPa);
  for (const [k, before] of points.entries()) {
    const after = points[k + 1];
    if (after === undefined) return null;
    if (before.sigmaPa <= wantedPa || after.sigmaPa > wantedPa) continue;
    const share = Math.log(before.sigmaPa / wantedPa) / Math.log(before.sigmaPa / after.sigmaPa);
    return wholeAtLeast(sweepsPerScan * before.scans * (after.scans / before.scans) ** share);
  }
  return null;
}
