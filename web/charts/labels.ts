/** Labels that climb until they are clear of every neighbouring peak and of each other. */
export interface Wanted {
  readonly x: number;
  /** Top of what the label belongs to. */
  readonly top: number;
  readonly text: string;
}
export interface Placed extends Wanted {
  readonly y: number;
}
export interface Obstacle {
  readonly x: number;
  readonly top: number;
  readonly width: number;
}

const SIGN_WIDTH = 6.2;
const LINE_HEIGHT = 13;
const CLEARANCE = 5;

export const labelWidth = (text: string): number => [...text].length * SIGN_WIDTH + 6;

/** Placed in the given order: the most important first. Labels that would leave the picture are dropped. */
export function placeLabels(wanted: readonly Wanted[], obstacles: readonly Obstacle[], ceiling: number): Placed[] {
  const placed: Placed[] = [];
  for (const label of wanted) {
    const half = labelWidth(label.text) / 2;
    const inTheWay = obstacles.filter(({ x, width }) => Math.abs(x - label.x) < half + width / 2);
    let y = Math.min(label.top, ...inTheWay.map(({ top }) => top)) - CLEARANCE;
    for (let clash = firstClash(placed, label, y); clash; clash = firstClash(placed, label, y))
      y = clash.y - LINE_HEIGHT;
    if (y >= ceiling) placed.push({ ...label, y });
  }
  return placed;
}

const firstClash = (placed: readonly Placed[], label: Wanted, y: number): Placed | undefined =>
  placed.find(
    (other) =>
      Math.abs(other.x - label.x) < (labelWidth(other.text) + labelWidth(label.text)) / 2 &&
      Math.abs(other.y - y) < LINE_HEIGHT,
  );

/**
 * Labels at the ends of lines, pushed apart downwards in order of height, and back up when they leave the picture at
 * its foot. Those that would begin above `ceiling` begin there.
 */
export function spread(
  heights: readonly number[],
  gap: number,
  floor: number,
  ceiling = Number.NEGATIVE_INFINITY,
): number[] {
  const order = heights.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y || a.i - b.i);
  let last = Number.NEGATIVE_INFINITY;
  for (const item of order) {
    item.y = Math.max(item.y, ceiling, last + gap);
    last = item.y;
  }
  let next = floor + gap;
  for (const item of order.reverse()) {
    item.y = Math.min(item.y, next - gap);
    next = item.y;
  }
  const out = new Array<number>(heights.length).fill(0);
  for (const { y, i } of order) out[i] = y;
  return out;
}

/**
 * Heights for words that stand in one column, each with the places it would like, best first. A word keeps clear of
 * those before it by `gap`; where none of its places is free it takes the free one that is nearest to its first, and
 * with no room left at all it is null: not drawn rather than drawn over another.
 */
export function noteHeights(
  wanted: readonly (readonly number[])[],
  { gap, top, bottom }: { readonly gap: number; readonly top: number; readonly bottom: number },
): (number | null)[] {
  const taken: number[] = [];
  const isFree = (y: number) => y >= top && y <= bottom && taken.every((other) => Math.abs(other - y) >= gap);
  return wanted.map((places) => {
    const first = places[0] ?? top;
    const beside = taken.flatMap((y) => [y - gap, y + gap]);
    const nearest = [top, bottom, ...beside].filter(isFree).sort((a, b) => Math.abs(a - first) - Math.abs(b - first));
    const y = places.find(isFree) ?? nearest[0] ?? null;
    if (y !== null) taken.push(y);
    return y;
  });
}

/** The distance that lets `count` labels stand between two heights without leaving the picture. */
export const gapThatFits = (count: number, wish: number, height: number): number =>
  count < 2 ? wish : Math.min(wish, height / (count - 1));

/**
 * Which words beside upright lines can be written in full: each takes `width` to the right of its line and must end
 * before the next line of all; the last one may run on to `end`.
 */
export const wordsThatFit = (
  lines: readonly { readonly x: number; readonly width: number }[],
  end: number,
): boolean[] => {
  const places = lines.map(({ x }) => x).sort((a, b) => a - b);
  return lines.map(({ x, width }) => {
    const twin = lines.filter((other) => other.x === x).length > 1;
    const next = places.find((place) => place > x) ?? end;
    return !twin && x + width < next;
  });
};
