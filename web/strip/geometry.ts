import type { Priority } from '../../shared/contract/words.ts';
import { gasLabel } from '../notation/gas.ts';
import { factor } from '../notation/number.ts';
import type { Layout } from './layout.ts';
import { clear, LABEL_LINE, type PlacedText, placed, TEXT_ABOVE, TEXT_BELOW } from './texts.ts';

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
/** Drawn closer together, the dashes are shorter, so that the line stays broken between them. */
export const dashWidth = (pitch: number): number => Math.min(DASH, pitch * 0.62);
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
  /** How many times above or below, where the mark is out of its bed. */
  readonly factor: PlacedText | null;
  /** The name of the gas, on the other side of the line; drawn with the factor. */
  readonly label: PlacedText;
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
  const drawn = shown.map(({ mark, x }) => drawMark(mark, { x, base, layout }));
  const apart = textsApart(drawn);
  const texts = apart.flatMap((mark) => (mark.factor ? [mark.factor, mark.label] : []));
  // A text that had to climb or to sink must not leave the picture.
  const lift = Math.max(0, -Math.min(base, ...texts.map(({ y }) => y - TEXT_ABOVE)));
  const lowest = Math.max(base + room.down + room.bottom, ...texts.map(({ y }) => y + TEXT_BELOW));
  return {
    width: layout.width,
    height: Math.round(lowest + lift),
    base: base + lift,
    marks: lift > 0 ? apart.map((mark) => lowered(mark, lift)) : apart,
  };
}

function drawMark(mark: Mark, place: { x: number; base: number; layout: Layout }): DrawnMark {
  const { x, base, layout } = place;
  const { pitch, width } = layout;
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
    dash: { width: dashWidth(pitch), height },
    bed: mark.status === 'not-measured' || mark.halfWidth === null ? null : { width: pitch - 2, half },
    post: out ? postOf(decades, base) : [],
    postWidth: Math.min(POST, pitch * 0.24),
    before: before === null ? null : { y: before, trailTo: y + (before > y ? height / 2 : -height / 2) },
    offScale,
    factor: out ? placed(factor(decades), { x, y: decades > 0 ? edge - 5 - (offScale ? 6 : 0) : y + 13, width }) : null,
    label: placed(gasLabel(mark.gas), {
      x,
      y: decades > 0 ? base + Math.max(half, 2) + 11 : base - Math.max(half, 2) - 4,
      width,
    }),
  };
}

function kindOf(mark: Mark): DrawnMark['kind'] {
  if (mark.status === 'not-measured') return 'slash';
  if (mark.status === 'below-detection') return 'dots';
  return mark.decades === null ? 'broken' : 'dash';
}

/** Factors climb away from the line where neighbours would touch; then the names do so on its other side. */
function textsApart(marks: readonly DrawnMark[]): DrawnMark[] {
  const standing: PlacedText[] = [];
  const stand = (text: PlacedText, step: number): PlacedText => {
    const free = clear(text, step, standing);
    standing.push(free);
    return free;
  };
  const rises = (mark: DrawnMark) => mark.y <= mark.label.y;
  const factors = marks.map((mark) => mark.factor && stand(mark.factor, rises(mark) ? -LABEL_LINE : LABEL_LINE));
  return marks.map((mark, i) => {
    const factor = factors[i] ?? null;
    if (factor === null) return mark;
    return { ...mark, factor, label: stand(mark.label, rises(mark) ? LABEL_LINE : -LABEL_LINE) };
  });
}

function lowered(mark: DrawnMark, by: number): DrawnMark {
  return {
    ...mark,
    y: mark.y + by,
    post: mark.post.map((piece) => ({ ...piece, y: piece.y + by })),
    before: mark.before && { y: mark.before.y + by, trailTo: mark.before.trailTo + by },
    factor: mark.factor && { ...mark.factor, y: mark.factor.y + by },
    label: { ...mark.label, y: mark.label.y + by },
  };
}
