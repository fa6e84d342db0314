import type { Heights } from './bars.ts';
import {
  apexShift,
  massScale,
  type Profile,
  parabolaStep,
  positionOf,
  type StrongPeak,
  strongPeaks,
} from './massScale.ts';
import { neighbourError, type PeakShape, shapeOf, templateHeight } from './peakShape.ts';
import { median } from './robust.ts';
import { baselineAt, valleyBaseline } from './valleyBaseline.ts';

/**
 * Peak heights from a scan with several points per unit of mass.
 *
 * The scale of masses is found first, so that every mass is looked for where its peak stands. A weak peak is then the
 * sum of the points around that place weighted with the shape that the strong peaks have: linear in the points, so that
 * noise stays noise with mean zero (the highest of many noisy points would always be above zero), and blind to what a
 * neighbour's tail brings. A strong peak is read where it itself stands.
 */
export interface ProfileHeights extends Heights {
  /** Mean offset of the peaks from their masses. */
  readonly offsetU: number;
  /** Full width of a strong peak at half its height; null when there was none. */
  readonly widthU: number | null;
  /** One sigma of a height per height of a neighbouring peak. */
  readonly neighbourError: number;
}

/** With fewer points per unit there is no profile to speak of: they are read as bars. */
export const PROFILE_POINTS_PER_UNIT = 4;
/** Beyond this share of the largest, and if it is larger than its neighbours, a peak shows where it stands. */
const OWN_PLACE_SHARE = 0.01;
/** A peak this close to where the scale expects it is read there: 0.3 % of its height at most. */
const SAME_PLACE_U = 0.02;
/** An apex farther than this from where the scale expects it belongs to something else. */
const OWN_PLACE_REACH_U = 0.3;

export function profileHeights(profile: Profile): ProfileHeights {
  const strong = strongPeaks(profile);
  const scale = massScale(strong);
  const last = profile.first + (profile.values.length - 1) / profile.perUnit;
  const firstMass = Math.max(1, Math.ceil(profile.first - scale.offsetU));
  const lastMass = Math.floor(last - scale.offsetU);
  const baseline = valleyBaseline(profile, scale, firstMass, lastMass);
  const shape = shapeOf(profile, strong, (mass) => baselineAt(baseline, mass));
  const masses: number[] = [];
  const found: number[] = [];
  for (let mass = firstMass; mass <= lastMass; mass++) {
    const height = templateHeight(profile, shape, positionOf(scale, mass), baselineAt(baseline, mass));
    if (Number.isNaN(height)) continue;
    masses.push(mass);
    found.push(height);
  }
  const heights = Float64Array.from(found);
  readAtOwnPlace({
    profile,
    strong,
    masses,
    heights,
    shape,
    level: (mass) => baselineAt(baseline, mass),
    expected: (mass) => positionOf(scale, mass),
  });
  return {
    masses,
    heights,
    offsetU: scale.offsetU,
    widthU: shape.measured ? shape.widthU : null,
    neighbourError: neighbourError(shape),
  };
}

interface ApexQuestion {
  readonly profile: Profile;
  readonly strong: readonly StrongPeak[];
  readonly masses: readonly number[];
  readonly heights: Float64Array;
  readonly shape: PeakShape;
  readonly level: (mass: number) => number;
  readonly expected: (mass: number) => number;
}

/**
 * Strong peaks are read where they themselves stand; and all heights get the factor between apex and template that the
 * strong ones have on the median, since no peak is quite a Gaussian.
 */
function readAtOwnPlace({ profile, strong, masses, heights, shape, level, expected }: ApexQuestion): void {
  const rowOf = new Map(masses.map((mass, row) => [mass, row]));
  const before = heights.slice();
  let top = 0;
  for (const height of heights) top = Math.max(top, height);
  const ratios: number[] = [];
  for (const peak of strong) {
    const position = peak.mass + peak.deviation;
    const mass = [peak.mass - 1, peak.mass, peak.mass + 1].find(
      (candidate) => Math.abs(position - expected(candidate)) <= OWN_PLACE_REACH_U,
    );
    const row = mass === undefined ? undefined : rowOf.get(mass);
    if (mass === undefined || row === undefined) continue;
    const neighbour = Math.max(before[row - 1] ?? 0, before[row + 1] ?? 0);
    if (!(before[row]! > OWN_PLACE_SHARE * top && before[row]! > neighbour)) continue;
    const moved = Math.abs(position - expected(mass)) > SAME_PLACE_U;
    const height = moved ? templateHeight(profile, shape, position, level(mass)) : before[row]!;
    const apex = apexHeight(profile, peak.at, level(mass));
    if (Number.isNaN(height) || Number.isNaN(apex) || !(height > 0)) continue;
    heights[row] = height;
    ratios.push(apex / height);
  }
  if (ratios.length === 0) return;
  const factor = median(ratios);
  for (let row = 0; row < heights.length; row++) heights[row]! *= factor;
}

/** Height above `level` of the Gaussian through three points around a highest point. NaN: no peak there. */
function apexHeight(profile: Profile, at: number, level: number): number {
  const step = parabolaStep(profile.perUnit);
  const middle = profile.values[at]! - level;
  const left = profile.values[at - step]! - level;
  const right = profile.values[at + step]! - level;
  if (!(middle > 0)) return Number.NaN;
  if (!(left > 0 && right > 0)) return middle;
  const shift = apexShift(profile, at) / step;
  const a = Math.log(left / middle);
  const b = Math.log(right / middle);
  return middle * Math.exp(0.5 * shift * (b - a) + 0.5 * shift * shift * (a + b));
}
