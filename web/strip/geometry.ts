import type { Priority } from '../../shared/contract/words.ts';
import { factor } from '../notation/number.ts';
import type { Layout } from './layout.ts';

/** A gas as the server reports it for the strip. */
export interface Mark {
  readonly gas: string;
  readonly status: 'measured' | 'below-detection' | 'not-measured';
  readonly decades: number | null;
  readonly halfWidth: number | null;
  readonly atLastRound: number | null;
  readonly alert: Priority | null;
}

/** Pixels for one decade, at the usual pitch; the whole strip scales with its pitch only in width. */
export const DECADE = 17;
/** The drawn range in decades; beyond it the mark stays at the edge and only the factor tells. */
export const UP = 2.15;
export const DOWN = 1.1;
const DASH = 16;
const DASH_HEIGHT = 3;
const DASH_HEIGHT_OUT = 4;
const POST = 6;
/** Half of the clear line at each whole decade of a post. */
const CUT = 1.1;
/** A bed is drawn at least this high, in decades, so that it can be seen. */
const LEAST_HALF_WIDTH = 0.05;
const USUAL_HALF_WIDTH = 0.18;
/** On the very edge of the bed is still in it. */
const EDGE = 0.02;
/** Smaller moves since the last round are not drawn. */
const MOVED = 0.15;
const LABEL_ABOVE = 15;
const LABEL_BELOW = 15;
const LABEL_LINE = 12;
/** Room for the dash itself at rest. */
const LEAST_ROOM = 0.42 * DECADE;

export type Tone = 'rest' | 'out' | Priority;

export interface DrawnMark {
  readonly gas: string;
  readonly x: number;
  readonly tone: Tone;
  readonly kind: 'dash' | 'dots' | 'slash' | 'broken';
  readonly y: number;
  readonly dash: { readonly width: number; readonly height: number };
  readonly bed: { readonly width: number; readonly half: number } | null;
  readonly post: readonly { readonly y: number; readonly height: number }[];
  readonly postWidth: number;
  /** Where the mark lay at the last signed round, and the trail to where it is now. */
  readonly before: { readonly y: number; readonly trailTo: number } | null;
  readonly offScale: boolean;
  readonly factor: { readonly text: string; readonly y: number } | null;
  readonly labelY: number;
}

export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** The line itself. */
  readonly base: number;
  readonly marks: readonly DrawnMark[];
}

/** An upper limit that lies high is no finding: only what was measured can leave its bed. */
export const isOut = (mark: Mark): boolean =>
  mark.status === 'measured' &&
  mark.decades !== null &&
  Math.abs(mark.decades) > (mark.halfWidth ?? USUAL_HALF_WIDTH) + EDGE;

const toneOf = (mark: Mark): Tone => (isOut(mark) ? (mark.alert ?? 'out') : 'rest');
const clamped = (decades: number): number => Math.max(-DOWN, Math.min(UP, decades));
/** Upper limits wander with the noise; further than this from the line they would only ask for attention. */
const LIMIT_REACH = 0.4;
/** Where a mark stands, in decades; nothing is known of one without a baseline, so it lies on the line. */
const heightOf = (mark: Mark): number => {
  const decades = mark.status === 'not-measured' ? 0 : (mark.decades ?? 0);
  return mark.status === 'below-detection' ? Math.max(-LIMIT_REACH, Math.min(LIMIT_REACH, decades)) : decades;
};

/** A post from the line to the mark, cut at every whole decade so that decades can be counted. */
export function postOf(decades: number, base: number): { y: number; height: number }[] {
  const direction = decades > 0 ? 1 : -1;
  const far = Math.min(Math.abs(decades), decades > 0 ? UP : DOWN);
  const pieces: { y: number; height: number }[] = [];
  for (let from = 0; from < far - EDGE; ) {
    const to = Math.min(far, from + 1);
    const start = base - direction * (from * DECADE + (from > 0 ? CUT : 0));
    const end = base - direction * (to * DECADE - (to < far - EDGE ? CUT : 0));
    pieces.push({ y: Math.min(start, end), height: Math.abs(start - end) });
    from = to;
  }
  return pieces;
}

/** A bed of a decade and more says "anything goes": it is drawn no higher than this, unless the mark needs it. */
const MOST_HALF_WIDTH = 0.5;
const BESIDE_MARK = 0.1;

function bedHalf(mark: Mark): number {
  const half = Math.max(mark.halfWidth ?? USUAL_HALF_WIDTH, LEAST_HALF_WIDTH);
  return Math.min(half, Math.max(MOST_HALF_WIDTH, Math.abs(heightOf(mark)) + BESIDE_MARK));
}

/** How much room the marks need above and below the line. */
function extent(marks: readonly Mark[]) {
  const out = marks.filter(isOut);
  const heights = marks.flatMap((mark) =>
    mark.status === 'not-measured' ? [] : [heightOf(mark), ...(hasMoved(mark) ? [mark.atLastRound ?? 0] : [])],
  );
  const rises = out.some((mark) => (mark.decades ?? 0) > 0);
  const sinks = out.some((mark) => (mark.decades ?? 0) < 0);
  const beyond = heights.some((decades) => decades > UP);
  return {
    up: Math.max(LEAST_ROOM, Math.min(UP, Math.max(0, ...heights)) * DECADE),
    down: Math.max(LEAST_ROOM, Math.min(DOWN, Math.max(0, ...heights.map((d) => -d))) * DECADE),
    top: (rises ? LABEL_ABOVE : sinks ? LABEL_LINE : 3) + (beyond ? 8 : 0),
    bottom: sinks ? LABEL_BELOW : rises ? 9 : 3,
  };
}

const hasMoved = (mark: Mark): boolean =>
  mark.status === 'measured' &&
  mark.atLastRound !== null &&
  mark.decades !== null &&
  Math.abs(mark.atLastRound - mark.decades) >= MOVED;

/** Everything that a live strip draws, in pixels. Gases without a mark leave their slot empty. */
export function draw(marks: readonly Mark[], layout: Layout): Drawing {
  const shown = layout.slots.flatMap(({ gas, x }) => {
    const mark = marks.find((candidate) => candidate.gas === gas);
    return mark ? [{ mark, x }] : [];
  });
  const room = extent(shown.map(({ mark }) => mark));
  const base = room.top + room.up;
  const drawn = shown.map(({ mark, x }) => drawMark(mark, { x, base, pitch: layout.pitch }));
  const apart = keepFactorsApart(drawn);
  const highest = Math.min(...apart.map((mark) => (mark.factor ? mark.factor.y - LABEL_LINE + 2 : base)), base);
  // A factor that had to climb must not leave the picture.
  const lift = Math.max(0, -highest);
  return {
    width: layout.width,
    height: Math.round(base + room.down + room.bottom + lift),
    base: base + lift,
    marks: lift > 0 ? apart.map((mark) => lowered(mark, lift)) : apart,
  };
}

function drawMark(mark: Mark, place: { x: number; base: number; pitch: number }): DrawnMark {
  const { x, base, pitch } = place;
  const decades = heightOf(mark);
  const tone = toneOf(mark);
  const out = tone !== 'rest';
  const y = base - clamped(decades) * DECADE;
  const half = bedHalf(mark) * DECADE;
  const height = out ? DASH_HEIGHT_OUT : DASH_HEIGHT;
  const offScale = decades > UP;
  const before = hasMoved(mark) ? base - clamped(mark.atLastRound ?? 0) * DECADE : null;
  const edge = before !== null && before < y ? before : y;
  return {
    gas: mark.gas,
    x,
    tone,
    kind: kindOf(mark),
    y,
    dash: { width: Math.min(DASH, pitch * 0.62), height },
    bed: mark.status === 'not-measured' || mark.halfWidth === null ? null : { width: pitch - 2, half },
    post: out ? postOf(decades, base) : [],
    postWidth: Math.min(POST, pitch * 0.24),
    before: before === null ? null : { y: before, trailTo: y + (before > y ? height / 2 : -height / 2) },
    offScale,
    factor: out ? { text: factor(decades), y: decades > 0 ? edge - 5 - (offScale ? 6 : 0) : y + 13 } : null,
    labelY: decades > 0 ? base + Math.max(half, 2) + 11 : base - Math.max(half, 2) - 4,
  };
}

function kindOf(mark: Mark): DrawnMark['kind'] {
  if (mark.status === 'not-measured') return 'slash';
  if (mark.status === 'below-detection') return 'dots';
  return mark.decades === null ? 'broken' : 'dash';
}

/** Width of a factor in 11 px semibold figures, near enough for keeping two of them apart. */
const textWidth = (text: string): number =>
  [...text].reduce((sum, sign) => sum + (/[.\u202f]/.test(sign) ? 2.9 : 6.2), 0);

/** Neighbours whose factors would touch: the later one climbs (or sinks) by a line. */
function keepFactorsApart(marks: readonly DrawnMark[]): DrawnMark[] {
  const placed: DrawnMark[] = [];
  for (const mark of marks) {
    let factor = mark.factor;
    if (factor) {
      const step = mark.y <= mark.labelY ? -LABEL_LINE : LABEL_LINE;
      for (let tries = 0; tries < 3 && placed.some((other) => touches(other, mark.x, factor)); tries += 1) {
        factor = { ...factor, y: factor.y + step };
      }
    }
    placed.push(factor === mark.factor ? mark : { ...mark, factor });
  }
  return placed;
}

function touches(other: DrawnMark, x: number, factor: DrawnMark['factor']): boolean {
  if (!other.factor || !factor) return false;
  const near = (textWidth(other.factor.text) + textWidth(factor.text)) / 2;
  return Math.abs(other.x - x) < near && Math.abs(other.factor.y - factor.y) < LABEL_LINE - 1;
}

function lowered(mark: DrawnMark, by: number): DrawnMark {
  return {
    ...mark,
    y: mark.y + by,
    post: mark.post.map((piece) => ({ ...piece, y: piece.y + by })),
    before: mark.before && { y: mark.before.y + by, trailTo: mark.before.trailTo + by },
    factor: mark.factor && { ...mark.factor, y: mark.factor.y + by },
    labelY: mark.labelY + by,
  };
}
