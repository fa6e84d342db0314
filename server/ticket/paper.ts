/** The sheet that the picture of a ticket is drawn on: its measures, its scales, and text that cannot break it. */
import type { TrendPoint } from '../../shared/contract/readings.ts';
import { localTime } from '../localTime.ts';
import type { TicketFacts } from './facts.ts';

export const WIDTH = 1040;
/** Plot area; its top follows from the lines of the title. */
export interface Plot {
  left: number;
  right: number;
  top: number;
  bottom: number;
}
export const LEFT = 84;
export const RIGHT = 890;
export const PLOT_HEIGHT = 330;
export const INK = '#151510';
export const GREY = '#42413b';
/** Height of one line of words. */
export const ROW = 19;
/** Width of a letter, generously: words that may not fit are left out or set elsewhere. */
export const SIGN = 6.4;

export interface Scales {
  plot: Plot;
  x: (ms: number) => number;
  y: (value: number) => number;
}

/** `powers`: whole powers of ten, the lowest first. What lies outside is drawn at the edge. */
export const scalesOf = ({ span }: TicketFacts, plot: Plot, powers: readonly number[]): Scales => {
  const [lowest, highest] = [powers[0] as number, powers.at(-1) as number];
  const spanMs = span.to.getTime() - span.from.getTime();
  return {
    plot,
    x: (ms) => plot.left + ((ms - span.from.getTime()) / spanMs) * (plot.right - plot.left),
    y: (value) => {
      const share = (Math.log10(value) - lowest) / (highest - lowest);
      return plot.bottom - Math.min(1, Math.max(0, share)) * (plot.bottom - plot.top);
    },
  };
};

/** What XML cannot hold at all is left out: one control character would make the file unreadable. */
export const escaped = (value: string): string =>
  value
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the ones that XML 1.0 forbids
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');

/** A tenth of a pixel is finer than any screen or printer draws. */
export const px = (value: number): string => String(Math.round(value * 10) / 10);

export const positive = (value: number | null): value is number => value !== null && value > 0;

/** Pieces of a line that no gap and no undetected bucket interrupts. */
export const pieces = (
  points: readonly TrendPoint[],
  gaps: readonly { from: string; to: string }[],
): TrendPoint[][] => {
  const out: TrendPoint[][] = [];
  let piece: TrendPoint[] = [];
  for (const point of points) {
    const previous = piece.at(-1);
    const cut = previous && gaps.some((gap) => gap.from >= previous.at && gap.to <= point.at);
    if (cut || !positive(point.value)) {
      if (piece.length > 0) out.push(piece);
      piece = [];
    }
    if (positive(point.value)) piece.push(point);
  }
  return piece.length > 0 ? [...out, piece] : out;
};

/** `06:04` with the day where it is another than that of the end. */
export const shortTime = (ms: number, { span, chamber }: TicketFacts): string => {
  const text = localTime(new Date(ms), chamber.timeZone);
  const sameDay = text.slice(0, 10) === localTime(span.to, chamber.timeZone).slice(0, 10);
  return sameDay ? text.slice(11, 16) : text.slice(5, 16);
};

/** `41 min`, `6 h 12 min`, `3 d 4 h`. */
export const lasting = (seconds: number): string => {
  const minutes = Math.round(seconds / 60);
  if (minutes < 1) return `${Math.round(seconds)} s`;
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return hours % 24 === 0 ? `${hours / 24} d` : `${Math.floor(hours / 24)} d ${hours % 24} h`;
};

export const gapSeconds = (gap: { from: string; to: string }): number =>
  (Date.parse(gap.to) - Date.parse(gap.from)) / 1000;
