import type { Heights } from './bars.ts';
import { type MassScale, massScale, positionOf, steadied } from './massScale.ts';
import { heightWithout, neighbourError, type PeakShape, shapeOf, templateHeight } from './peakShape.ts';
import { type MeasuredWidths, peakWidths } from './peakWidths.ts';
import { gapsIn } from './pointGaps.ts';
import { medianInPlace } from './quickselect.ts';
import { apexHeight, type Profile, type StrongPeak, strongPeaks } from './strongPeaks.ts';
import { levelsOf, valleyBaseline } from './valleyBaseline.ts';

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
  readonly scale: MassScale;
  /** False: no peak told, the scale is the one that was followed before, or none. */
  readonly scaleFound: boolean;
  /** Full width of a strong peak at half its height; null when there was none. */
  readonly widthU: number | null;
  /** Measured on the flanks; null where no peak stands free enough. */
  readonly widths: MeasuredWidths;
  /** One sigma of a height per height of a neighbouring peak. */
  readonly neighbourError: number;
  /** Masses at which the detector ended. */
  readonly cutOff: readonly number[];
}

/** With fewer points per unit there is no profile to speak of: they are read as bars. */
export const PROFILE_POINTS_PER_UNIT = 4;
/** Beyond this share of the largest, and if it is larger than its neighbours, a peak shows where it stands. */
const OWN_PLACE_SHARE = 0.01;
/** A peak this close to where the scale expects it is read there: 0.3 % of its height at most. */
const SAME_PLACE_U = 0.02;
/** An apex farther than this from where the scale expects it belongs to something else. */
const OWN_PLACE_REACH_U = 0.3;
/** A single lost point near the top changes the ratio by more than this, up to 64 points per unit. */
const ODD_RATIO = 0.012;
const NO_SCALE: MassScale = { offsetU: 0, slope: 0, pivot: 0 };

/** Reused from scan to scan: nothing of them outlives a call. */
let levels = new Float64Array(0);
let before = new Float64Array(0);
let ratios = new Float64Array(0);

function makeRoom(count: number): void {
  if (levels.length >= count + 2) return;
  levels = new Float64Array(2 * count + 2);
  before = new Float64Array(2 * count + 2);
  ratios = new Float64Array(2 * count + 2);
}

export function profileHeights(profile: Profile, followed: MassScale | null = null): ProfileHeights {
  const strong = strongPeaks(profile);
  const found = massScale(strong, followed);
  const last = profile.first + (profile.values.length - 1) / profile.perUnit;
  const scale = found === null ? (followed ?? NO_SCALE) : steadied(found, followed, last);
  const firstMass = Math.max(1, Math.ceil(profile.first - scale.offsetU));
  const lastMass = Math.floor(last - scale.offsetU);
  const baseline = valleyBaseline(profile, scale, firstMass, lastMass);
  const count = Math.max(0, lastMass - firstMass + 1);
  makeRoom(count);
  levelsOf(baseline, firstMass, levels, count);
  const widths = peakWidths(profile, strong, { levels, firstMass, count });
  const shape = shapeOf(profile.perUnit, widths.half);
  const heights = new Float64Array(count);
  let top = 0;
  for (let k = 0; k < count; k++) {
    const height = templateHeight(profile, shape, positionOf(scale, firstMass + k), levels[k]!);
    heights[k] = height;
    before[k + 1] = height;
    if (height > top) top = height;
  }
  // One row further at either end, so that every mass has neighbours.
  before[0] = 0;
  before[count + 1] = 0;
  const cutOff = readAtOwnPlace({ profile, strong, firstMass, heights, top, shape, scale });
  const measured = measuredOnly(heights, firstMass);
  return {
    masses: measured.masses,
    heights: measured.heights,
    offsetU: (found ?? scale).offsetU,
    scale: found ?? scale,
    scaleFound: found !== null,
    widthU: shape.measured ? shape.widthU : null,
    widths,
    neighbourError: neighbourError(shape),
    cutOff,
  };
}

function measuredOnly(heights: Float64Array, firstMass: number): Heights {
  const masses = new Array<number>(heights.length);
  let kept = 0;
  for (let k = 0; k < heights.length; k++) {
    const height = heights[k]!;
    if (Number.isNaN(height)) continue;
    masses[kept] = firstMass + k;
    heights[kept++] = height;
  }
  masses.length = kept;
  return { masses, heights: kept === heights.length ? heights : heights.slice(0, kept) };
}

interface ApexQuestion {
  readonly profile: Profile;
  readonly strong: readonly StrongPeak[];
  readonly firstMass: number;
  /** By mass from `firstMass` on; NaN: not measured. */
  readonly heights: Float64Array;
  /** Largest of them. */
  readonly top: number;
  readonly shape: PeakShape;
  readonly scale: MassScale;
}

/**
 * Strong peaks are read where they themselves stand; and all heights get the factor between apex and template that the
 * strong ones have on the median, since no peak is quite a Gaussian. Returns masses whose peak was cut off: they get the
 * height at which the detector ended, level included, so that it is the same for all of them.
 */
function readAtOwnPlace(question: ApexQuestion): number[] {
  const { strong, firstMass, heights, top } = question;
  let count = 0;
  const ends: StrongPeak[] = [];
  const cutOff: number[] = [];
  for (const peak of strong) {
    const mass = massOf(peak, question.scale);
    const row = mass - firstMass;
    if (Number.isNaN(mass) || !(row >= 0 && row < heights.length)) continue;
    if (peak.cutOff) {
      ends.push(peak);
      cutOff.push(mass);
      continue;
    }
    const here = before[row + 1]!;
    if (!(here > OWN_PLACE_SHARE * top) || before[row]! >= here || before[row + 2]! >= here) continue;
    const { height, ratio } = ownHeight(question, { peak, mass, atScale: here });
    if (!(height > 0)) continue;
    heights[row] = height;
    if (!Number.isNaN(ratio) && count < ratios.length) ratios[count++] = ratio;
  }
  const factor = count === 0 ? 1 : medianInPlace(ratios, count);
  if (factor !== 1) for (let row = 0; row < heights.length; row++) heights[row]! *= factor;
  ends.forEach((peak, k) => {
    heights[cutOff[k]! - firstMass] = peak.value;
  });
  return cutOff;
}

/** The mass that the scale expects where the peak stands; NaN: none near. */
function massOf(peak: StrongPeak, scale: MassScale): number {
  const position = peak.mass + peak.deviation;
  for (let mass = peak.mass - 1; mass <= peak.mass + 1; mass++) {
    if (Math.abs(position - positionOf(scale, mass)) <= OWN_PLACE_REACH_U) return mass;
  }
  return Number.NaN;
}

interface OwnPeak {
  readonly peak: StrongPeak;
  readonly mass: number;
  readonly atScale: number;
}

function ownHeight(
  { profile, shape, scale, firstMass }: ApexQuestion,
  { peak, mass, atScale }: OwnPeak,
): { height: number; ratio: number } {
  const expected = positionOf(scale, mass);
  const base = levels[mass - firstMass]!;
  const position = peak.mass + peak.deviation;
  const moved = Math.abs(position - expected) > SAME_PLACE_U;
  const height = moved ? templateHeight(profile, shape, position, base) : atScale;
  const ratio = apexHeight(profile, peak.at, base) / height;
  // A hole in a peak lowers its template against its apex: only then is it worth looking for.
  if (!(Math.abs(ratio - 1) > ODD_RATIO)) return { height, ratio };
  const least = OWN_PLACE_SHARE * (peak.value - base);
  const left = gapsIn(profile, { position: expected, widthU: shape.widthU, level: base, least });
  if (left.length === 0) return { height, ratio };
  // With a hole in it a peak does not show where it stands.
  return { height: heightWithout(profile, shape, { position: expected, level: base, left }), ratio: Number.NaN };
}
