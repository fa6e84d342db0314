import { medianInPlace } from './quickselect.ts';
import { apexHeight, type Profile, type StrongPeak, strongest } from './strongPeaks.ts';

/**
 * Full widths of the peaks at 50, 10 and 5 % of their height (ISO 14291 recommends stating the resolution at 5 %),
 * measured on the flanks of the strong peaks. A flank counts where no neighbour's tail lies on it; a width is the median
 * of the left flanks plus the median of the right ones. Between two points ln y is taken as a straight line in the
 * square of the distance from the apex, which a Gaussian is, so that few points per unit make no peak too wide.
 */
export interface PeakWidths {
  readonly half: number;
  readonly tenth: number;
  readonly twentieth: number;
}

/** A width is null where no peak stands free enough to show it. */
export type MeasuredWidths = { readonly [K in keyof PeakWidths]: number | null };

const SHARES = [0.5, 0.1, 0.05] as const;
/** The strongest are enough for a median. */
const PEAKS = 6;
/** A neighbour above this share of the peak lifts the lower part of the flank on its side. */
const QUIET_NEIGHBOUR = 0.02;
/** Beside a neighbour only the half height is read, and nothing beside one that is nearly as large. */
const BESIDE_NEIGHBOUR = 1;
const LARGE_NEIGHBOUR = 0.6;
const FARTHEST_U = 1;

/** Reused: distances per share and side. */
const distances = SHARES.flatMap(() => [new Float64Array(PEAKS), new Float64Array(PEAKS)]);
const counts = new Int32Array(distances.length);

/** Level under the peaks: `count` masses from `firstMass` on. */
export interface Levels {
  readonly levels: Float64Array;
  readonly firstMass: number;
  readonly count: number;
}

export function peakWidths(
  profile: Profile,
  strong: readonly StrongPeak[],
  { levels, firstMass, count }: Levels,
): MeasuredWidths {
  counts.fill(0);
  let looked = 0;
  for (const peak of strongest(strong, PEAKS)) {
    if (peak.cutOff || looked++ >= PEAKS) continue;
    const base = count === 0 ? 0 : levels[Math.min(count - 1, Math.max(0, peak.mass - firstMass))]!;
    const height = apexHeight(profile, peak.at, base);
    walk(profile, peak, { level: base, height, side: 0 });
    walk(profile, peak, { level: base, height, side: 1 });
  }
  return { half: widthAt(0), tenth: widthAt(1), twentieth: widthAt(2) };
}

function widthAt(share: number): number | null {
  const width =
    medianInPlace(distances[2 * share]!, counts[2 * share]!) +
    medianInPlace(distances[2 * share + 1]!, counts[2 * share + 1]!);
  return Number.isNaN(width) ? null : width;
}

interface Flank {
  readonly level: number;
  readonly height: number;
  /** 0: left, 1: right. */
  readonly side: number;
}

/** Goes down one flank and notes how far from the apex it passes each share of the height. */
function walk({ first, perUnit, values }: Profile, peak: StrongPeak, { level, height, side }: Flank): void {
  const direction = side === 0 ? -1 : 1;
  const place = (peak.mass + peak.deviation - first) * perUnit;
  const neighbour = Math.round(place + direction * perUnit);
  if (neighbour < 0 || neighbour >= values.length) return;
  const beside = values[neighbour]! - level;
  if (!(beside < LARGE_NEIGHBOUR * height)) return;
  const deepest = beside < QUIET_NEIGHBOUR * height ? SHARES.length : BESIDE_NEIGHBOUR;
  const end = Math.min(values.length - 1, Math.max(0, Math.round(place + direction * FARTHEST_U * perUnit)));
  let inside = peak.value - level;
  let share = 0;
  for (let i = peak.at + direction; share < deepest && i !== end; i += direction) {
    const outside = values[i]! - level;
    while (share < deepest && inside > SHARES[share]! * height && outside <= SHARES[share]! * height) {
      const limit = SHARES[share]! * height;
      const between =
        outside > 0 ? Math.log(inside / limit) / Math.log(inside / outside) : (inside - limit) / (inside - outside);
      const near = (i - direction - place) ** 2;
      const far = (i - place) ** 2;
      const slot = 2 * share + side;
      distances[slot]![counts[slot]!++] = Math.sqrt(near + between * (far - near)) / perUnit;
      share++;
    }
    inside = outside;
    if (!(inside > 0)) break;
  }
}
