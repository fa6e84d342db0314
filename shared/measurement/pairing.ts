/** Means and ratios of gases over the cells of a span, with 95 % intervals: what averages away, and what does not. */
import { type Cells, LEAST_CELLS } from './cells.ts';
import type { GasSeries } from './gasSeries.ts';
import { meanError, meanOf, student95, TWO_SIDED_95 } from './meanError.ts';

export interface Interval {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** @param lasting standard deviation of the logarithm that no averaging takes away */
const around = (value: number, noise: { sigma: number; blocks: number }, lasting: number): Interval => {
  const half = Math.hypot(student95(noise.blocks - 1) * noise.sigma, TWO_SIDED_95 * lasting);
  return { value, low: value * Math.exp(-half), high: value * Math.exp(half) };
};

/** Mean over the cells in which the gas was looked for, with its absolute 95 % interval; null: too few. */
export function meanOver({ cellMeansPa, lasting }: GasSeries): Interval | null {
  const means = [...cellMeansPa].filter(Number.isFinite);
  const mean = means.length === 0 ? 0 : meanOf(means);
  const error = meanError(means.map((value) => value / mean));
  return error === null || !(mean > 0) ? null : around(mean, error, lasting);
}

export interface RatioPart {
  readonly series: GasSeries;
  readonly power: 1 | -1;
  /** Standard deviation of its logarithm that no averaging takes away and that the other parts do not share. */
  readonly lasting: number;
}

/**
 * Product of powers of series over the cells that all of them fill, with its 95 % interval, e.g. (g₂/r₂)/(g₁/r₁). The
 * mean of each series is taken over the same cells; the error of the ratio follows from the cells' relative departures,
 * which share what the chamber did (first order). Null: fewer than four cells in common.
 */
export function ratioOver(parts: readonly RatioPart[], cells: Cells): Interval | null {
  const columns = parts.map(({ series }) => series.cellMeansPa);
  const filled = Array.from({ length: cells.count }, (_, cell) => cell).filter((cell) =>
    columns.every((column) => Number.isFinite(column[cell])),
  );
  if (filled.length < LEAST_CELLS) return null;
  const means = columns.map((column) => meanOf(filled.map((cell) => column[cell] as number)));
  if (means.some((mean) => !(mean > 0))) return null;
  const departures = filled.map((cell) =>
    parts.reduce((sum, { power }, k) => sum + power * ((columns[k]?.[cell] as number) / (means[k] as number) - 1), 0),
  );
  const error = meanError(departures);
  const ratio = parts.reduce((product, { power }, k) => product * (means[k] as number) ** power, 1);
  const lasting = Math.hypot(...parts.map((part) => part.lasting));
  return error === null ? null : around(ratio, error, lasting);
}
