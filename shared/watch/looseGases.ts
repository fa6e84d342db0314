/** A cause that moves many gases at once need not move each of them alike: single gases may stay behind or lead. */
import type { Variant } from './cause.ts';
import type { NullModel } from './nullModel.ts';
import { scaledBy } from './rows.ts';

/**
 * The gases of the background, which lead the columns, each free to differ from the common movement by a share of what
 * it should move itself: a gas that should hardly move is no freer than it ever is.
 */
export function loosened(
  { columns, gases, weights }: NullModel,
  share: number,
  { moves, unseen }: Variant,
): Float64Array[] {
  if (share === 0) return columns;
  if (unseen) return [...columns, ...alone({ columns, gases, weights }, share, moves)];
  return columns.map((column, i) => {
    if (i >= gases) return column;
    const factor = Math.hypot(weights[i]!, share * (moves?.[i] ?? 1)) / weights[i]!;
    return scaledBy(column, factor);
  });
}

/** The same freedom where the gauge does not see the gas: beside the columns of the chamber's own breathing. */
function alone(
  { columns, gases, weights }: Pick<NullModel, 'columns' | 'gases' | 'weights'>,
  share: number,
  moves?: readonly number[],
): Float64Array[] {
  return columns.slice(0, gases).flatMap((column, i) => {
    const factor = (share * (moves?.[i] ?? 1)) / weights[i]!;
    if (factor === 0) return [];
    const out = scaledBy(column, factor);
    out[0] = 0;
    return [out];
  });
}
