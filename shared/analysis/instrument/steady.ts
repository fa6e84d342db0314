import { leftByNeighbours } from '../heightVariance.ts';
import { short } from './memory.ts';

/**
 * Peaks that have been strong and steady under one setting: a gap in a single one of them is a drop-out and no gas.
 * Height and mean deviation are followed over some ten scans, so that a peak that falls with the pressure stays steady.
 */
export interface SteadyMemory {
  readonly masses: readonly number[];
  readonly heights: readonly number[];
  readonly deviations: readonly number[];
  readonly scans: readonly number[];
  /** Gaps in a row. */
  readonly gaps: readonly number[];
}

export interface SteadyPeak {
  readonly height: number;
  /** Mean absolute deviation from scan to scan. */
  readonly deviation: number;
  readonly gaps: number;
}

export const NO_STEADY: SteadyMemory = { masses: [], heights: [], deviations: [], scans: [], gaps: [] };

const PEAKS_KEPT = 24;
/** Followed over about this many scans. */
const SHARE = 0.2;
const SCANS_NEEDED = 8;
/** A peak that moves by more than this share of itself from scan to scan may as well be gone in the next. */
const STEADY_SHARE = 0.15;
/** The floor is far below: nothing else could be told from a gap. */
const STRONG_SIGMAS = 40;
/** Beside a large peak of a profile the floor is what the large one leaves there, and how much that is depends on the fit. */
const CLEAR_OF_NEIGHBOURS = 10;

export function steadyPeaks({ masses, heights, deviations, scans, gaps }: SteadyMemory): Map<number, SteadyPeak> {
  const out = new Map<number, SteadyPeak>();
  masses.forEach((mass, k) => {
    if (scans[k]! < SCANS_NEEDED || deviations[k]! > STEADY_SHARE * heights[k]!) return;
    out.set(mass, { height: heights[k]!, deviation: deviations[k]!, gaps: gaps[k]! });
  });
  return out;
}

export interface SteadyScan {
  readonly masses: readonly number[];
  readonly heights: Float64Array;
  readonly sigma: number;
  /** One sigma per height of a peak one unit away; 0: bars. */
  readonly neighbourError: number;
  readonly dropOuts: ReadonlySet<number>;
}

export function learnSteady(memory: SteadyMemory, scan: SteadyScan): SteadyMemory {
  const { masses, heights, dropOuts } = scan;
  const strong: number[] = [];
  for (let row = 0; row < masses.length; row++) {
    if (isStrong(scan, row) || dropOuts.has(masses[row]!)) strong.push(row);
  }
  if (strong.length > PEAKS_KEPT) {
    strong.sort((a, b) => heights[b]! - heights[a]!);
    const kept = new Set([...strong.slice(0, PEAKS_KEPT), ...strong.filter((row) => dropOuts.has(masses[row]!))]);
    strong.splice(0, strong.length, ...[...kept].sort((a, b) => a - b));
  }
  const out = {
    masses: [] as number[],
    heights: [] as number[],
    deviations: [] as number[],
    scans: [] as number[],
    gaps: [] as number[],
  };
  for (const row of strong) {
    const mass = masses[row]!;
    const k = memory.masses.indexOf(mass);
    const known =
      k < 0
        ? null
        : {
            height: memory.heights[k]!,
            deviation: memory.deviations[k]!,
            scans: memory.scans[k]!,
            gaps: memory.gaps[k]!,
          };
    const next =
      known !== null && dropOuts.has(mass) ? { ...known, gaps: known.gaps + 1 } : followed(known, heights[row]!);
    out.masses.push(mass);
    out.heights.push(short(next.height));
    out.deviations.push(short(next.deviation, 3));
    out.scans.push(next.scans);
    out.gaps.push(next.gaps);
  }
  return out;
}

const isStrong = ({ heights, sigma, neighbourError }: SteadyScan, row: number): boolean =>
  heights[row]! > STRONG_SIGMAS * sigma &&
  heights[row]! > CLEAR_OF_NEIGHBOURS * leftByNeighbours(heights, row, neighbourError);

interface Followed extends SteadyPeak {
  readonly scans: number;
}

function followed(known: Followed | null, height: number): Followed {
  if (known === null) return { height, deviation: 0, scans: 1, gaps: 0 };
  const away = height - known.height;
  return {
    height: known.height + SHARE * away,
    deviation: known.deviation + SHARE * (Math.abs(away) - known.deviation),
    scans: Math.min(SCANS_NEEDED, known.scans + 1),
    gaps: 0,
  };
}
