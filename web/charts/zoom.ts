/** Spans of time on a chart, in milliseconds, and the moves that a person makes with them. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Closer than a minute there is less than one scan; wider than two years there is no history. */
export const SHORTEST_MS = 60_000;
export const LONGEST_MS = 2 * 366 * 86_400_000;
const ZOOM_STEP = 2;
/** A move keeps most of what was seen in sight. */
const MOVE_SHARE = 0.25;

/** A span that is in order, long enough to show anything, and not in the future. */
export function settled(span: Span, nowMs: number): Span {
  const low = Math.min(span.from, span.to);
  const high = Math.max(span.from, span.to);
  const length = Math.min(LONGEST_MS, Math.max(SHORTEST_MS, high - low));
  const middle = (low + high) / 2;
  const to = Math.min(nowMs, middle + length / 2);
  return { from: Math.round(to - length), to: Math.round(to) };
}

/** `factor` < 1 looks closer; the moment `around` keeps its place. */
export function zoomed(span: Span, factor: number, around: number, nowMs: number): Span {
  return settled({ from: around - (around - span.from) * factor, to: around + (span.to - around) * factor }, nowMs);
}

const middleOf = ({ from, to }: Span): number => (from + to) / 2;
export const closer = (span: Span, nowMs: number): Span => zoomed(span, 1 / ZOOM_STEP, middleOf(span), nowMs);
export const wider = (span: Span, nowMs: number): Span => zoomed(span, ZOOM_STEP, middleOf(span), nowMs);
export const moved = (span: Span, direction: -1 | 1, nowMs: number): Span => {
  const by = direction * MOVE_SHARE * (span.to - span.from);
  return settled({ from: span.from + by, to: span.to + by }, nowMs);
};
