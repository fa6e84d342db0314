import { medianInPlace } from './quickselect.ts';
import { type StrongPeak, strongest, VOTES } from './strongPeaks.ts';

/**
 * Where the peaks of a profile really stand against their integer masses: the strong ones vote. An offset is only known
 * modulo one unit, so votes are averaged as angles (2π × fraction of a unit); when they do not agree there is no offset
 * to speak of. A slope is taken from the remaining deviations by the median of pairwise slopes (H. Theil 1950;
 * P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379).
 */
export interface MassScale {
  /** Peaks stand at mass + offset + slope · (mass − pivot). */
  readonly offsetU: number;
  readonly slope: number;
  readonly pivot: number;
}

/** Below this mean resultant length the votes contradict each other. */
const AGREEMENT = 0.6;
/** A vote farther than this from the common offset belongs to something else (a doubly charged ion, an overlap). */
const OUTLIER_U = 0.25;
const SLOPE_NEEDS_PEAKS = 5;
const SLOPE_NEEDS_SPAN_U = 15;
/** A scale that is wrong by more than half a unit in a hundred would mix up masses: not believed. */
const LARGEST_SLOPE = 0.005;
/** Beyond this the fraction of a unit could as well be counted from the next mass: what was there before decides. */
const AMBIGUOUS_U = 0.4;

/** Reused from scan to scan: nothing of them outlives a call. */
const masses = new Float64Array(VOTES);
const aways = new Float64Array(VOTES);
const rest = new Float64Array(VOTES);
const slopes = new Float64Array((VOTES * (VOTES - 1)) / 2);

/** Scale of the peaks, or null when there are none or they contradict each other. `before`: where it stood lately. */
export function massScale(strong: readonly StrongPeak[], before: MassScale | null = null): MassScale | null {
  if (strong.length === 0) return null;
  const peaks = strongest(strong);
  let cosine = 0;
  let sine = 0;
  for (const peak of peaks) {
    cosine += Math.cos(2 * Math.PI * peak.deviation);
    sine += Math.sin(2 * Math.PI * peak.deviation);
  }
  if (Math.hypot(cosine, sine) < AGREEMENT * peaks.length) return null;
  let centre = Math.atan2(sine, cosine) / (2 * Math.PI);
  if (before !== null && Math.abs(centre) > AMBIGUOUS_U) centre += Math.round(before.offsetU - centre);
  let votes = 0;
  for (const peak of peaks) {
    const away = wrap(peak.deviation - centre);
    if (!(Math.abs(away) < OUTLIER_U) || votes === VOTES) continue;
    masses[votes] = Math.round(peak.mass + peak.deviation - centre - away);
    aways[votes++] = away;
  }
  const slope = commonSlope(votes);
  for (let i = 0; i < votes; i++) rest[i] = masses[i]!;
  const pivot = medianInPlace(rest, votes);
  for (let i = 0; i < votes; i++) rest[i] = aways[i]! - slope * (masses[i]! - pivot);
  return { offsetU: centre + medianInPlace(rest, votes), slope, pivot };
}

const wrap = (fraction: number): number => fraction - Math.round(fraction);

function commonSlope(votes: number): number {
  if (votes < SLOPE_NEEDS_PEAKS) return 0;
  let count = 0;
  for (let i = 0; i < votes; i++) {
    for (let k = 0; k < i; k++) {
      const span = masses[i]! - masses[k]!;
      if (Math.abs(span) >= SLOPE_NEEDS_SPAN_U) slopes[count++] = (aways[i]! - aways[k]!) / span;
    }
  }
  if (count < SLOPE_NEEDS_PEAKS) return 0;
  const slope = medianInPlace(slopes, count);
  return Math.abs(slope) <= LARGEST_SLOPE ? slope : 0;
}

/** A scale moves by no more than this from scan to scan, but for the noise of the few peaks that tell it. */
const STEADY_U = 0.03;

/**
 * Where heights are read: a tuning moves over hours, the scale of one scan is uncertain by a few hundredths of a unit, and
 * what a large peak leaves in a small neighbour goes with it. So they are read where the peaks have stood lately, unless
 * this scan says clearly otherwise; between the two the place goes over evenly. `lastMass`: end of the scan, u.
 */
export function steadied(found: MassScale, followed: MassScale | null, lastMass: number): MassScale {
  if (followed === null) return found;
  const away = (mass: number) => positionOf(found, mass) - positionOf(followed, mass);
  const most = Math.max(Math.abs(away(1)), Math.abs(away(lastMass)));
  const share = Math.min(1, Math.max(0, most / STEADY_U - 1));
  if (share === 1) return found;
  return {
    offsetU: followed.offsetU + share * away(followed.pivot),
    slope: followed.slope + share * (found.slope - followed.slope),
    pivot: followed.pivot,
  };
}

export const positionOf = ({ offsetU, slope, pivot }: MassScale, mass: number): number =>
  mass + offsetU + slope * (mass - pivot);
