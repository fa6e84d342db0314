import { median } from '../robust.ts';
import type { AnalysisScan } from '../types.ts';
import { GAP_PERIODS, short } from './memory.ts';

/** Strong peaks of one scan, for a ratio to the next one of the other detector. */
export interface Sight {
  readonly atMs: number;
  readonly state: string;
  readonly seconds: number;
  readonly periodMs: number | null;
  readonly gaugePa: number | null;
  readonly masses: readonly number[];
  readonly heights: readonly number[];
  /** |ln| by which the peaks as a whole usually move from scan to scan. */
  readonly move: number;
  /** Already part of a pair. */
  readonly used: boolean;
}

/** Peaks whose ratio is taken stand this far above both noises. */
const STRONG_SIGMAS = 30;
const PEAKS_KEPT = 20;
export const PEAKS_NEEDED = 2;
const MOVE_SHARE = 0.2;
/** Always near enough, also while the usual time from scan to scan is not known yet. */
const NEAR_MS = 180_000;

/** The earlier sight, if it is near enough to stand beside this scan. */
export function sightFor(
  sight: Sight | null,
  { atMs, state, seconds, averages }: Pick<AnalysisScan, 'atMs' | 'state' | 'seconds' | 'averages'>,
): Sight | null {
  if (sight === null || sight.used || sight.state !== state) return null;
  const step = Math.max(sight.periodMs ?? 0, 1000 * Math.max(sight.seconds, seconds * averages));
  return atMs - sight.atMs <= Math.max(NEAR_MS, GAP_PERIODS * step) ? sight : null;
}

/** ln(second / first) of the peaks that both hold. */
export function commonLogs(first: Sight, second: Sight): number[] {
  const logs: number[] = [];
  first.masses.forEach((mass, k) => {
    const other = second.masses.indexOf(mass);
    if (other >= 0) logs.push(Math.log(second.heights[other]! / first.heights[k]!));
  });
  return logs;
}

export interface SeenPeaks {
  readonly scan: AnalysisScan;
  readonly masses: readonly number[];
  /** Unit of the scan. */
  readonly heights: Float64Array;
  readonly sigma: number;
  readonly leftOut: readonly { readonly mass: number }[];
}

/** The strong peaks of a scan; null when it holds too few for a pair. */
export function sightOf(seen: SeenPeaks, periodMs: number | null, before: Sight | null): Sight | null {
  const { scan, masses, heights, sigma, leftOut } = seen;
  const rows: number[] = [];
  for (let row = 0; row < masses.length; row++) {
    if (heights[row]! > STRONG_SIGMAS * sigma && !leftOut.some(({ mass }) => mass === masses[row])) rows.push(row);
  }
  if (rows.length < PEAKS_NEEDED) return null;
  const kept = rows.sort((a, b) => heights[b]! - heights[a]!).slice(0, PEAKS_KEPT);
  const gauge = scan.totalPressurePa;
  const sight: Sight = {
    atMs: scan.atMs,
    state: scan.state,
    seconds: scan.seconds * scan.averages,
    periodMs,
    gaugePa: gauge !== null && gauge > 0 && Number.isFinite(gauge) ? gauge : null,
    masses: kept.map((row) => masses[row]!),
    heights: kept.map((row) => short(heights[row]!, 7)),
    move: 0,
    used: false,
  };
  return before === null || before.state !== scan.state ? sight : { ...sight, move: usualMove(before, sight) };
}

function usualMove(before: Sight, now: Sight): number {
  const logs = commonLogs(before, now);
  const moved = logs.length < PEAKS_NEEDED ? 0 : Math.abs(median(logs));
  return short(before.move + MOVE_SHARE * (Math.min(1, moved) - before.move), 3);
}
