import { USUALLY_EMPTY } from '../artefacts.ts';
import { median } from '../robust.ts';
import { short } from './memory.ts';

/**
 * Read noise from differences of successive scans at masses near the floor.
 *
 * The difference of two readings of one noise has twice its variance, and χ² with one degree of freedom has its median
 * at 0.4549: σ² = median(d²) / (2 · 0.4549) over the quiet masses of two scans. What stays (small peaks, a zero that is
 * not at zero) is in both scans and goes out; what moves in fewer than half of the masses does not count. The median of
 * the last forty of these is some 5 % wide. A scan alone knows its noise to 30–50 %.
 */
export interface NoiseMemory {
  /** σ² from pairs of successive scans, newest last, unit of the scan squared. */
  readonly squares: readonly number[];
  readonly masses: readonly number[];
  /** Heights of the last scan at `masses`. */
  readonly last: readonly number[];
}

export interface KnownNoise {
  readonly sigma: number;
  readonly scans: number;
  readonly masses: readonly number[];
  readonly last: readonly number[];
}

export const NO_NOISE: NoiseMemory = { squares: [], masses: [], last: [] };

const CHI_SQUARE_MEDIAN = 0.4549;
/** Pairs before the differences are believed: the median of twenty is 10 % wide. */
const PAIRS_NEEDED = 20;
const PAIRS_KEPT = 40;
/** Fewer quiet masses than this give no median worth keeping. */
const MASSES_NEEDED = 6;
const MASSES_KEPT = 36;
/** Quiet: no farther than this many standard deviations from the zero. */
const QUIET_SIGMAS = 5;
/**
 * Noise that grows must not hide behind its past. The last five pairs are some 15–20 % wide and one pair is 25–35 %: at
 * these ratios they are believed at once, and are too high by chance in two scans of a hundred.
 */
const LATE_PAIRS = 5;
const LATE_RATIO = 1.4;
const NOW_RATIO = 2;

export function knownNoise({ squares, masses, last }: NoiseMemory): KnownNoise | null {
  if (squares.length < PAIRS_NEEDED) return null;
  const usual = Math.sqrt(median(squares));
  const late = Math.sqrt(median(squares.slice(-LATE_PAIRS)));
  return { sigma: late > LATE_RATIO * usual ? late : usual, scans: squares.length + 1, masses, last };
}

/** With the scan itself: one that is far noisier than those before it speaks for itself. */
export function noiseWithScan(known: KnownNoise, masses: readonly number[], heights: Float64Array): number {
  const square = differenceSquare(known, masses, heights);
  if (square === null) return known.sigma;
  // A difference holds the noise of both scans; the earlier one is known.
  const now = Math.sqrt(Math.max(0, 2 * square - known.sigma ** 2));
  return now > NOW_RATIO * known.sigma ? now : known.sigma;
}

/** σ² from this scan and the one before; null: too few masses, or an analyser that shows no noise. */
function differenceSquare(
  before: { readonly masses: readonly number[]; readonly last: readonly number[] },
  masses: readonly number[],
  heights: Float64Array,
): number | null {
  const squares: number[] = [];
  let row = 0;
  for (let k = 0; k < before.masses.length; k++) {
    while (row < masses.length && masses[row]! < before.masses[k]!) row++;
    if (masses[row] === before.masses[k]) squares.push((heights[row]! - before.last[k]!) ** 2);
  }
  if (squares.length < MASSES_NEEDED) return null;
  const square = median(squares) / (2 * CHI_SQUARE_MEDIAN);
  return square > 0 ? square : null;
}

export interface NoiseScan {
  readonly masses: readonly number[];
  readonly heights: Float64Array;
  /** One standard deviation, as this scan was read. */
  readonly sigma: number;
  /** False: the analyser hides its noise or there are no quiet masses. */
  readonly visible: boolean;
  /** Follows the last scan of its setting. */
  readonly successive: boolean;
}

export function learnNoise(memory: NoiseMemory, scan: NoiseScan): NoiseMemory {
  if (!scan.visible) return NO_NOISE;
  const square = scan.successive ? differenceSquare(memory, scan.masses, scan.heights) : null;
  const squares = square === null ? memory.squares : [...memory.squares, short(square, 4)].slice(-PAIRS_KEPT);
  return { squares, ...quietMasses(scan) };
}

/** Masses near the zero, spread over the range. */
function quietMasses({ masses, heights, sigma }: NoiseScan): { masses: number[]; last: number[] } {
  const empty = heights.filter((_, row) => (USUALLY_EMPTY as readonly number[]).includes(masses[row]!));
  const zero = empty.length > 0 ? median(empty) : 0;
  const rows: number[] = [];
  for (let row = 0; row < masses.length; row++) {
    if (Math.abs(heights[row]! - zero) <= QUIET_SIGMAS * sigma) rows.push(row);
  }
  const stride = Math.max(1, Math.ceil(rows.length / MASSES_KEPT));
  const kept = rows.filter((_, k) => k % stride === 0);
  return { masses: kept.map((row) => masses[row]!), last: kept.map((row) => short(heights[row]!, 6)) };
}
