/** Scatter of the newest scan alone, for doubting it at once (doubt.ts); the alert about noise waits for more (quality.ts). */
import { median } from './channels.ts';
import type { Baseline, Memory } from './memory.ts';
import { CHI_SQUARE_MEDIAN, NOT_MEASURED, secondDifference } from './quality.ts';
import { vector } from './rows.ts';
import { isNewSetting, varianceAt } from './scanNoise.ts';

/** After quiet scans one noisy one is a sixth of a second difference by variance, and half of a first. */
const DILUTION = 3;

/**
 * Squared difference from the scan before over its variance, middle one of all masses: near 1 while noise is as it was
 * learned; 1 where nothing is known. A slope shows less in the second difference, so the smaller of the two speaks.
 * Before the scan itself is remembered.
 */
export function newestScatter(
  memory: Memory,
  q: Float64Array,
  baseline: Baseline,
  curve = secondDifference(memory, q, baseline),
): number {
  const { quality } = memory;
  const last = quality.lastTwo.at(-1);
  if (last?.length !== q.length || isNewSetting(baseline)) return 1;
  const newer = varianceAt(baseline, quality.lastSeconds?.at(-1));
  const jumps = vector(q.length);
  let jumped = 0;
  for (let m = 1; m < q.length; m++) {
    if (baseline.masses[m - 1]! <= 2 || last[m]! < NOT_MEASURED || !Number.isFinite(q[m]!)) continue;
    jumps[jumped++] = (q[m]! - last[m]!) ** 2 / (baseline.variance[m]! + newer[m]!);
  }
  if (jumped === 0) return 1;
  const jump = median(jumps, jumped) / CHI_SQUARE_MEDIAN;
  return curve === null || Number.isNaN(curve) ? jump : Math.min(jump, (DILUTION * curve) / CHI_SQUARE_MEDIAN);
}
