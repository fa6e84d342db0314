import type { SisterGas } from './sisterWords.ts';

/** A factor on the middle of the sisters (or on this chamber), placed on a log axis that is the same for every row. */
export interface FactorScale {
  /** Share of the width, clamped to the ends. */
  readonly place: (factor: number) => number;
  readonly ticks: readonly number[];
}

export interface FactorRow {
  /** Factors on the middle of the sisters; null: not seen, or not known. */
  readonly own: number | null;
  readonly others: readonly number[];
  readonly range: { readonly low: number; readonly high: number } | null;
}

const known = (values: readonly (number | null)[]): number[] =>
  values.filter((value): value is number => value !== null && value > 0);

export function levelRow({ own, middle, marks, level }: SisterGas): FactorRow {
  if (middle === null || !(middle > 0)) return { own: null, others: [], range: null };
  return {
    own: own === null ? null : own / middle,
    others: known(marks.map(({ value }) => value)).map((value) => value / middle),
    range: level && { low: level.low / middle, high: level.high / middle },
  };
}

export function driftRow({ ownDrift, marks, drift }: SisterGas): FactorRow {
  // Drift is told as the factor on each one's own usual, so that 1 is "where it always is".
  return { own: ownDrift, others: known(marks.map(({ drift: one }) => one)), range: drift };
}

/** Where there is no middle: every sister as a factor on this chamber. */
export function hereRow({ own, marks }: SisterGas): FactorRow {
  if (own === null || !(own > 0)) return { own: null, others: [], range: null };
  return { own: 1, others: known(marks.map(({ value }) => value)).map((value) => value / own), range: null };
}

/** A picture never reaches farther than this to either side: farther out an arrow stands at the edge. */
const WIDEST = 1000;
const LEAST = 10;
const CLOSE_TICKS = [0.2, 0.5, 1, 2, 5];

export function factorScale(rows: readonly FactorRow[]): FactorScale {
  const away = rows
    .flatMap(({ own, others, range }) => [...known([own]), ...others, ...(range ? [range.low, range.high] : [])])
    .map((value) => Math.min(WIDEST, Math.max(value, 1 / value)));
  const reach = 10 ** Math.ceil(Math.log10(Math.max(LEAST, ...away)) - 1e-9);
  const place = (factor: number) =>
    factor > 0 ? Math.max(0, Math.min(1, 0.5 + Math.log10(factor) / (2 * Math.log10(reach)))) : 0;
  const powers = Array.from({ length: 7 }, (_, k) => 10 ** (k - 3));
  return {
    place,
    ticks: reach <= LEAST ? CLOSE_TICKS : powers.filter((tick) => tick > 1.01 / reach && tick < reach * 0.99),
  };
}
