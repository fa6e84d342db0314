import { logAxis } from '../charts/logAxis.ts';
import { shareOf } from '../charts/planScale.ts';

export interface Ratio {
  readonly ratio: number | null;
  readonly ratioLow: number | null;
  readonly ratioHigh: number | null;
}

export interface RatioScale {
  /** Place of a ratio as a share of the picture's width, clamped to it. */
  readonly place: (ratio: number) => number;
  readonly ticks: readonly number[];
}

/** A picture never reaches farther than this to either side of 1: farther out an arrow stands at the edge. */
const WIDEST = 1e4;

/** Within one decade the powers of ten alone would leave the picture without a measure. */
const CLOSE = 10;
const CLOSE_TICKS = [0.2, 0.5, 1, 2, 5];

/** One log axis for all gases with 1 in its middle, so that "the same" is one straight channel down the page. */
export function ratioScale(ratios: readonly Ratio[]): RatioScale {
  const known = ratios.flatMap(({ ratio, ratioLow, ratioHigh }) => [ratio, ratioLow, ratioHigh]);
  const away = known
    .filter((value): value is number => value !== null && value > 0 && Number.isFinite(value))
    .map((value) => Math.min(WIDEST, Math.max(value, 1 / value)));
  const most = Math.max(10, ...away);
  const axis = logAxis([1 / most, most]);
  const reach = Math.max(axis.high, 1 / axis.low);
  const whole = { low: 1 / reach, high: reach, ticks: [] };
  return {
    place: (ratio) => (ratio > 0 ? Math.max(0, Math.min(1, shareOf(ratio, whole))) : 0),
    ticks:
      reach <= CLOSE
        ? CLOSE_TICKS
        : logAxis([1 / reach, reach]).ticks.filter((tick) => Math.abs(Math.log10(tick)) < 0.999 * Math.log10(reach)),
  };
}
