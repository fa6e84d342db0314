/** A second series beside a first: a line chart holds both only when they share their moments. */
import type { TrendPointLike } from './gaps.ts';

/**
 * The points at the nearest of `times` (in order), where one lies within `reachMs`; a point without such a neighbour
 * keeps its own moment, and when two want the same one the nearer takes it.
 */
export function alongside<P extends TrendPointLike>(
  points: readonly P[],
  times: readonly number[],
  reachMs: number,
): P[] {
  const taken = new Map<number, { point: P; away: number }>();
  const free: P[] = [];
  for (const point of points) {
    const at = Date.parse(point.at);
    const nearest = nearestOf(times, at);
    const away = nearest === null ? Number.POSITIVE_INFINITY : Math.abs(nearest - at);
    if (nearest === null || away > reachMs) {
      free.push(point);
      continue;
    }
    const rival = taken.get(nearest);
    if (rival === undefined || away < rival.away) taken.set(nearest, { point, away });
  }
  const moved = [...taken].map(([at, { point }]) => ({ ...point, at: new Date(at).toISOString() }));
  return [...moved, ...free].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}

function nearestOf(times: readonly number[], at: number): number | null {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) < at) low = middle + 1;
    else high = middle;
  }
  const [before, after] = [times[low - 1], times[low]];
  if (before === undefined) return after ?? null;
  return after !== undefined && after - at < at - before ? after : before;
}
