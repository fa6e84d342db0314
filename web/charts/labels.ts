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

/** Labels at the ends of lines, pushed apart downwards in order of height, and back up when they leave the picture. */
export function spread(heights: readonly number[], gap: number, floor: number): number[] {
  const order = heights.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y);
  let last = Number.NEGATIVE_INFINITY;
  for (const item of order) {
    item.y = Math.max(item.y, last + gap);
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
