/** When a level is reached, with an interval that the slope alone decides. Bounds are Infinity for "never at this rate". */
import type { PowerLaw } from './powerLaw.ts';
import type { Slope } from './theilSen.ts';

export interface Arrival {
  readonly at: number;
  readonly earliest: number;
  readonly latest: number;
}

/**
 * Time at which a power-law fall reaches `target`: log t = log t₀ + (log P₀ − log P)/α, from (`time`, `pressure`) where
 * it stands now. The result is in the unit of `time`, counted from the same zero. Already there: `time` itself.
 */
export function powerLawArrival(
  { exponent, low, high }: Pick<PowerLaw, 'exponent' | 'low' | 'high'>,
  now: { readonly time: number; readonly pressure: number },
  target: number,
): Arrival {
  const decades = Math.log10(now.pressure / target);
  const by = (alpha: number) =>
    decades <= 0 ? now.time : alpha > 0 ? now.time * 10 ** (decades / alpha) : Number.POSITIVE_INFINITY;
  return { at: by(exponent), earliest: by(high), latest: by(low) };
}

/** Where a straight trend through (`x`, `y`) reaches `level`, in the unit of x. */
export function trendArrival(
  { slope, low, high }: Pick<Slope, 'slope' | 'low' | 'high'>,
  now: { readonly x: number; readonly y: number },
  level: number,
): Arrival {
  const away = level - now.y;
  const along = (rate: number) =>
    away === 0 ? now.x : away / rate > 0 ? now.x + away / rate : Number.POSITIVE_INFINITY;
  const ends = [along(low), along(high)];
  return { at: along(slope), earliest: Math.min(...ends), latest: Math.max(...ends) };
}
