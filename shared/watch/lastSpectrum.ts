/** The spectrum just before this scan, on the scale of the baseline: what a step is seen against. */
import type { Baseline, Memory, Vector } from './memory.ts';
import { HOUR } from './parameters.ts';

/** Across a longer gap the chamber may have changed as well. */
const LONGEST_GAP_SECONDS = HOUR;
const LONGEST_GAP_PERIODS = 5;
const NOT_MEASURED = -1e299;

/** Mean of the last two; null when there are none of this baseline, or when they are too old. */
export function lastSpectrum(memory: Memory, baseline: Baseline, atMs: number): number[] | null {
  const rows = memory.quality.lastTwo.filter(({ length }) => length === baseline.masses.length + 1);
  // The first scan of a state has none before it.
  if (rows.length === 0 || memory.lastAtMs === null || memory.lastAtMs < memory.stateSinceMs) return null;
  const gap = (atMs - memory.lastAtMs) / 1000;
  if (gap > Math.max(LONGEST_GAP_SECONDS, LONGEST_GAP_PERIODS * (memory.periodSeconds ?? 0))) return null;
  return rows[0]!.map((_, m) => meanOf(rows, m));
}

/** Minus infinity's stand-in where none of them was measured: no peak is clear there. */
function meanOf(rows: readonly Vector[], m: number): number {
  const known = rows.map((row) => row[m]!).filter((value) => value > NOT_MEASURED);
  return known.length > 0 ? known.reduce((sum, value) => sum + value, 0) / known.length : NOT_MEASURED;
}
