/**
 * The time that two analysers of one chamber have in common, cut into cells of equal length: what the chamber does
 * within a cell is common to both and drops out of their ratio.
 */

/** Powers of two, so that neighbours can be averaged in pairs. */
const MOST_CELLS = 64;
export const LEAST_CELLS = 4;
/** Scans of either analyser that a cell should hold. */
const SCANS_PER_CELL = 2;

export interface Cells {
  readonly fromMs: number;
  readonly toMs: number;
  readonly count: number;
}

/** Null: they have too little of it in common. Times are in order. */
export function cellsOf(first: readonly number[], second: readonly number[]): Cells | null {
  const fromMs = Math.max(first[0] ?? Number.POSITIVE_INFINITY, second[0] ?? Number.POSITIVE_INFINITY);
  const toMs = Math.min(first.at(-1) ?? 0, second.at(-1) ?? 0);
  if (!(toMs > fromMs)) return null;
  const within = (times: readonly number[]) => times.filter((ms) => ms >= fromMs && ms <= toMs).length;
  const scans = Math.min(within(first), within(second));
  if (scans < LEAST_CELLS) return null;
  let count = LEAST_CELLS;
  while (count < MOST_CELLS && scans >= 2 * count * SCANS_PER_CELL) count *= 2;
  return { fromMs, toMs, count };
}

/** Place of the cell that an instant lies in; the end of the span belongs to the last; null: outside. */
export const cellOf = ({ fromMs, toMs, count }: Cells, ms: number): number | null =>
  ms >= fromMs && ms <= toMs ? Math.min(count - 1, Math.floor(((ms - fromMs) / (toMs - fromMs)) * count)) : null;
