import type { ScanHeights } from '../heights.ts';
import type { AnalysisScan, Background, Calibration } from '../types.ts';
import { readTogether } from './readTogether.ts';

/**
 * Heights of the scans that a person marked, on the masses that all of them measured.
 * A scan with a drop-out is left out as a whole: there are others, and a hole in a peak is not a small peak.
 */
export interface PooledScan {
  readonly scan: AnalysisScan;
  /** N2-equivalent, by the mass list of the pool; Pa or shares, see `scale`. */
  readonly heights: Float64Array;
  /** For all reasons but gases. */
  readonly variance: Float64Array;
}

export interface PooledScans {
  readonly masses: readonly number[];
  readonly scans: readonly PooledScan[];
  readonly scale: 'pascal' | 'relative';
  /** Masses whose peak reached the end of the range in any of the scans. */
  readonly cutOff: ReadonlySet<number>;
  readonly remarks: readonly string[];
}

export type Refusal = { readonly ok: false; readonly problem: string };
export type Pooled = ({ readonly ok: true } & PooledScans) | Refusal;

/** With two scans nobody can say which of them is the odd one. */
export const FEWEST_SCANS = 3;

export function poolScans(marked: readonly AnalysisScan[], calibration: Calibration): Pooled {
  const scans = ofOneDetector(marked);
  if (scans.length < FEWEST_SCANS) return refuse(`${countOf(scans.length)}: at least ${FEWEST_SCANS} are needed.`);
  const together = readTogether(scans, calibration);
  const read = scans.map((scan, i) => ({ scan, found: together[i]! }));
  const scales = new Set(read.map(({ found }) => found.scale));
  if (scales.size > 1) return refuse('Some of the scans are in pressures and others in relative signals.');
  const cutOff = new Set(read.flatMap(({ found }) => leftOutFor(found, 'cut off')));
  const whole = read.filter(({ found }) => leftOutFor(found, 'drop-out').length === 0);
  if (whole.length < FEWEST_SCANS) {
    return refuse(`${countOf(whole.length)} without a drop-out: at least ${FEWEST_SCANS} are needed.`);
  }
  const masses = sharedMasses(whole.map(({ found }) => found));
  if (masses.length === 0) return refuse('The scans have no mass in common.');
  const dropped = read.length - whole.length;
  return {
    ok: true,
    masses,
    scans: whole.map(({ scan, found }) => ({ scan, ...onMasses(found, masses, calibration.background ?? null) })),
    scale: whole[0]!.found.scale,
    cutOff,
    remarks: [
      ...(dropped > 0 ? [`${countOf(dropped)} left out for a drop-out in a peak.`] : []),
      ...(scans.length < marked.length
        ? [`${countOf(marked.length - scans.length)} on the other detector left out: its gain differs from ion to ion.`]
        : []),
    ],
  };
}

/** The scans of the detector that took most of them: an analyser that checks itself now and then has both. */
function ofOneDetector(scans: readonly AnalysisScan[]): readonly AnalysisScan[] {
  const sets = [...new Set(scans.map(({ detector }) => detector))].map((one) =>
    scans.filter(({ detector }) => detector === one),
  );
  return sets.reduce((most, set) => (set.length > most.length ? set : most), sets[0] ?? scans);
}

export const refuse = (problem: string): Refusal => ({ ok: false, problem });

export const countOf = (scans: number): string => (scans === 1 ? '1 scan' : `${scans} scans`);

const leftOutFor = ({ measured }: ScanHeights, reason: 'cut off' | 'drop-out'): number[] =>
  measured.leftOut.filter(({ why }) => why === reason).map(({ mass }) => mass);

function sharedMasses(found: readonly ScanHeights[]): number[] {
  const usable = found.map(
    ({ masses, heights, variance }) =>
      new Set(masses.filter((_, row) => Number.isFinite(heights[row]) && Number.isFinite(variance[row]))),
  );
  return [...usable[0]!].filter((mass) => usable.every((masses) => masses.has(mass)));
}

/** The analyser's own gas is taken off where it is known in pascal: it belongs to no gas that was let in. */
function onMasses(
  { masses, heights, variance, scale }: ScanHeights,
  wanted: readonly number[],
  background: Background | null,
): Pick<PooledScan, 'heights' | 'variance'> {
  const own = scale === 'pascal' ? background : null;
  const rows = wanted.map((mass) => masses.indexOf(mass));
  return {
    heights: Float64Array.from(wanted, (mass, k) => heights[rows[k]!]! - (own?.peaks[mass]?.heightPa ?? 0)),
    variance: Float64Array.from(wanted, (mass, k) => {
      const peak = own?.peaks[mass];
      if (own === null || peak === undefined) return variance[rows[k]!]!;
      return variance[rows[k]!]! + peak.sigmaPa ** 2 + (own.unsteadiness * peak.heightPa) ** 2;
    }),
  };
}
