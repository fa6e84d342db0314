/** From the server's series to what may be drawn: breaks where nothing was measured, dots where nothing was found. */
import { plottable } from './logAxis.ts';

export interface TrendPointLike {
  readonly at: string;
  readonly value: number | null;
  readonly min: number | null;
  readonly max: number | null;
  readonly limit?: number | null;
}

export interface Gap {
  readonly from: number;
  readonly to: number;
}

/** One moment: a value and its range per gas; null breaks the line. */
export interface Row {
  readonly t: number;
  readonly [gas: string]: number | null | readonly [number, number];
}

export const rangeKey = (gas: string): string => `${gas} range`;
/** The second line of the same gas: recomputed, beside what was judged. */
export const againKey = (gas: string): string => `${gas} recomputed`;

/** Gaps to be hatched, as the server names them. */
export const gapsOf = (named: readonly { readonly from: string; readonly to: string }[]): Gap[] =>
  named
    .map(({ from, to }) => ({ from: Date.parse(from), to: Date.parse(to) }))
    .filter(({ from, to }) => to > from)
    .sort((a, b) => a.from - b.from);

/** Rows in order of time for the line chart, with an empty row inside every gap so that no line crosses it. */
export function rowsOf(
  series: Readonly<Record<string, readonly TrendPointLike[]>>,
  gaps: readonly Gap[],
  scale: (value: number) => number,
): Row[] {
  const rows = new Map<number, Record<string, number | null | readonly [number, number]>>();
  const at = (t: number) => {
    let row = rows.get(t);
    if (!row) {
      row = {};
      rows.set(t, row);
    }
    return row;
  };
  for (const [gas, points] of Object.entries(series)) {
    for (const point of points) {
      const value = plottable(point.value);
      const row = at(Date.parse(point.at));
      row[gas] = value === null ? null : scale(value);
      const low = plottable(point.min) ?? value;
      const high = plottable(point.max) ?? value;
      row[rangeKey(gas)] = value === null || low === null || high === null ? null : [scale(low), scale(high)];
    }
  }
  for (const { from, to } of gaps) {
    const row = at((from + to) / 2);
    for (const gas of Object.keys(series)) {
      // What was measured just there stays: a gap of one series takes nothing from another.
      if (gas in row) continue;
      row[gas] = null;
      row[rangeKey(gas)] = null;
    }
  }
  return [...rows.entries()].sort(([a], [b]) => a - b).map(([t, row]) => ({ ...row, t }));
}

/** When a gas was looked for and not found: drawn as dots on the floor. */
export const undetectedTimes = (points: readonly TrendPointLike[]): number[] =>
  points
    .filter((point) => plottable(point.value) === null && plottable(point.limit) !== null)
    .map((point) => Date.parse(point.at));

/** Values with nothing on either side: a line would not show them, so they get a mark of their own. */
export function loneValues(rows: readonly Row[], gas: string): { t: number; value: number }[] {
  const known = rows.filter((row) => row[gas] !== undefined);
  return known.flatMap((row, i) => {
    const value = row[gas];
    const alone = typeof known[i - 1]?.[gas] !== 'number' && typeof known[i + 1]?.[gas] !== 'number';
    return typeof value === 'number' && alone ? [{ t: row.t, value }] : [];
  });
}
