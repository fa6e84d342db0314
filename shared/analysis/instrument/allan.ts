import type { AnalysisScan } from '../types.ts';
import { GAP_PERIODS, short } from './memory.ts';

/**
 * Allan deviation of heights: how far the mean of N scans moves to the mean of the next N.
 *
 *   σ_A²(N) = ½ ⟨(ȳ_{i+1} − ȳ_i)²⟩   over neighbouring blocks of N scans, N = 1, 2, 4 … 1024
 *
 * (D. W. Allan, Proc. IEEE 54 (1966) 221; NIST SP 1065, sec. 5.2.) White noise falls with √N, flicker noise stays, drift
 * rises: the lowest point says how long averaging helps. Every octave holds the sum of its last block; two neighbours
 * make one block of the next octave, so that a scan costs two octaves on average. Heights are counted in whole steps of
 * a thousandth of the noise, so that sums are exact and short.
 */
export interface AllanMemory {
  readonly key: string;
  readonly state: string;
  readonly periodMs: number | null;
  readonly averages: number;
  readonly sinceMs: number;
  readonly atMs: number;
  /** Scans since the last one that counted: of other settings, or without one of the masses. */
  readonly others: number;
  readonly masses: readonly number[];
  /** N2-equivalent Pa per step. */
  readonly stepPa: number;
  readonly octaves: readonly Octave[];
}

interface Octave {
  /** Sum of the last block per mass, steps; empty: none since the last gap. */
  readonly last: readonly number[];
  /** The last block waits for its neighbour. */
  readonly odd: boolean;
  /** Σ (difference of block sums)² per mass, steps². */
  readonly squares: readonly number[];
  readonly pairs: number;
}

export const OCTAVES = 11;
/** Where the protected gases and the commonest organics have their largest peaks, and three masses that are empty. */
const FOLLOWED = [2, 4, 12, 14, 15, 16, 17, 18, 20, 28, 32, 40, 41, 43, 44, 55, 57, 69, 5, 9, 21] as const;
const STEPS_PER_SIGMA = 1000;
/** Beyond this a height is no whole number that sums exactly. */
const LARGEST_STEPS = 2 ** 43;
/** After so many the analyser is used in another way: begun anew with that one. */
const OTHERS_BEFORE_ANEW = 50;
/** Old differences count for less from here on: half, each time the first octave is full. */
const PAIRS_REMEMBERED = 32768;
/** Three differences leave the deviation open by some 40 %; fewer are not shown. */
const PAIRS_NEEDED = 3;

const NO_OCTAVE: Octave = { last: [], odd: false, squares: [], pairs: 0 };

export interface AllanScan {
  readonly scan: AnalysisScan;
  readonly key: string;
  readonly masses: readonly number[];
  /** N2-equivalent Pa. */
  readonly heightsPa: (row: number) => number;
  readonly sigmaPa: number;
}

export function learnAllan(memory: AllanMemory | null, now: AllanScan): AllanMemory | null {
  if (memory !== null && memory.key !== now.key && memory.others < OTHERS_BEFORE_ANEW) {
    return { ...memory, others: memory.others + 1 };
  }
  const kept = memory?.key === now.key ? memory : null;
  if (kept === null) return begin(now);
  const { atMs } = now.scan;
  const steps = stepsOf(kept, now);
  if (steps === null) {
    const others = kept.others + 1;
    return others >= OTHERS_BEFORE_ANEW ? begin(now) : { ...kept, atMs, others, octaves: kept.octaves.map(cut) };
  }
  const apart = atMs - kept.atMs;
  const broken = kept.state !== now.scan.state || (kept.periodMs !== null && apart > GAP_PERIODS * kept.periodMs);
  return {
    ...kept,
    state: now.scan.state,
    atMs,
    others: 0,
    periodMs: broken ? kept.periodMs : period(kept.periodMs, apart),
    octaves: withBlock(broken ? kept.octaves.map(cut) : kept.octaves, steps),
  };
}

const cut = (octave: Octave): Octave => ({ ...octave, last: [], odd: false });
const PERIOD_SHARE = 0.05;
const period = (known: number | null, apart: number): number =>
  Math.round(known === null ? apart : known + PERIOD_SHARE * (apart - known));

function begin(now: AllanScan): AllanMemory | null {
  const masses = FOLLOWED.filter((mass) => now.masses.includes(mass));
  const { atMs, state, averages } = now.scan;
  if (masses.length === 0 || !(now.sigmaPa > 0) || !Number.isFinite(now.sigmaPa)) return null;
  const fresh: AllanMemory = {
    key: now.key,
    state,
    periodMs: null,
    averages: Math.max(1, averages),
    sinceMs: atMs,
    atMs,
    others: 0,
    masses,
    stepPa: short(now.sigmaPa / STEPS_PER_SIGMA, 2),
    octaves: Array.from({ length: OCTAVES }, () => NO_OCTAVE),
  };
  const steps = stepsOf(fresh, now);
  return steps === null ? null : { ...fresh, octaves: withBlock(fresh.octaves, steps) };
}

/** null: a mass is missing now, or is too high to be counted. */
function stepsOf({ masses, stepPa }: AllanMemory, now: AllanScan): number[] | null {
  const out: number[] = [];
  for (const mass of masses) {
    const steps = Math.round(now.heightsPa(now.masses.indexOf(mass)) / stepPa);
    if (!(Math.abs(steps) < LARGEST_STEPS)) return null;
    out.push(steps);
  }
  return out;
}

function withBlock(octaves: readonly Octave[], block: readonly number[]): readonly Octave[] {
  const out = octaves.slice();
  let sums: readonly number[] | null = block;
  for (let k = 0; k < out.length && sums !== null; k++) {
    const { last, odd, squares, pairs } = out[k]!;
    const known = last.length > 0;
    out[k] = {
      last: sums,
      odd: !odd,
      squares: known ? sums.map((sum, m) => (squares[m] ?? 0) + (sum - last[m]!) ** 2) : squares,
      pairs: known ? pairs + 1 : pairs,
    };
    sums = odd ? sums.map((sum, m) => sum + last[m]!) : null;
  }
  return out[0]!.pairs < PAIRS_REMEMBERED ? out : out.map(halved);
}

const halved = (octave: Octave): Octave => ({
  ...octave,
  squares: octave.squares.map((square) => Math.round(square / 2)),
  pairs: octave.pairs / 2,
});

/** Allan deviation per mass and octave, Pa; null where too few blocks were seen. */
export const allanSigmas = ({ masses, stepPa, octaves }: AllanMemory): (number | null)[][] =>
  masses.map((_, m) =>
    octaves.map(({ squares, pairs }, k) =>
      pairs < PAIRS_NEEDED ? null : short((stepPa * Math.sqrt(squares[m]! / (2 * pairs))) / 2 ** k, 5),
    ),
  );
