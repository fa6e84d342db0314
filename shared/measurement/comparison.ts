/**
 * Two analysers on one chamber: which of them shows more of what, each gas as a ratio to a chosen one, so that
 * sensitivities that both halves of a ratio share drop out.
 *
 * Noise from scan to scan averages down, by block means of cells that both fill; sensitivities and patterns do not. What
 * all gases of one analyser share (gain, scale) and what both take from the catalogue drops out; patterns are taken as
 * unrelated, though both start from the same records, so that the intervals are rather too wide than too narrow.
 */
import { type Cells, cellsOf } from './cells.ts';
import { concluded, verdictOf } from './comparisonWords.ts';
import {
  byGas,
  type ComparedScan,
  type GasSeries,
  type SensitivityError,
  type SeriesSource,
  seriesOf,
} from './gasSeries.ts';
import { type Interval, meanOver, ratioOver } from './pairing.ts';

/** Four fifths made by the ioniser is five times what the chamber holds: a difference that must not be missed. */
const TELLING_RATIO = 5;

export interface Compared {
  readonly analyser: string;
  /** In the order of time. */
  readonly scans: readonly ComparedScan[];
  /** Per gas, of its newest scan; null: not known, and all of an interval is taken as lasting. */
  readonly sensitivityErrors: Readonly<Record<string, SensitivityError>> | null;
}

export interface ComparisonQuestion {
  readonly first: Compared;
  readonly second: Compared;
  readonly relativeTo: string;
  /** As a sentence calls a gas. */
  readonly nameOf: (gas: string) => string;
}

export interface SideMean {
  readonly valuePa: number | null;
  readonly lowPa: number | null;
  readonly highPa: number | null;
  readonly detectedShare: number;
}

export interface GasComparison {
  readonly gas: string;
  readonly first: SideMean;
  readonly second: SideMean;
  readonly ratio: number | null;
  readonly ratioLow: number | null;
  readonly ratioHigh: number | null;
  readonly differs: 'no' | 'yes' | 'cannot tell';
  readonly verdict: string;
}

export interface ComparisonAnswer {
  readonly gases: readonly GasComparison[];
  readonly addsGas: { readonly analyser: string; readonly gases: readonly string[] } | null;
  readonly verdict: string;
}

interface Pair {
  readonly first: GasSeries;
  readonly second: GasSeries;
}

const sideOf = (series: GasSeries | null): SideMean => {
  if (series === null) return { valuePa: null, lowPa: null, highPa: null, detectedShare: 0 };
  const { detectedShare, limitPa } = series;
  const mean = series.detected ? meanOver(series) : null;
  if (mean === null) return { valuePa: null, lowPa: 0, highPa: limitPa, detectedShare };
  return { valuePa: mean.value, lowPa: mean.low, highPa: mean.high, detectedShare };
};

/** Second over first, both relative to the chosen gas; null where a side of it is not known. */
export interface Ratio {
  readonly ratio: number | null;
  readonly ratioLow: number | null;
  readonly ratioHigh: number | null;
}

const UNKNOWN: Ratio = { ratio: null, ratioLow: null, ratioHigh: null };

const asRatio = (interval: Interval | null): Ratio =>
  interval === null ? UNKNOWN : { ratio: interval.value, ratioLow: interval.low, ratioHigh: interval.high };

/** What of a gas's error is this analyser's own: what both take from the catalogue drops out of second over first. */
const ownPart = (series: GasSeries, other: GasSeries): number => {
  const shared = Math.min(series.inRatio.catalogue, other.inRatio.catalogue);
  return Math.sqrt(Math.max(0, series.inRatio.lasting ** 2 - shared ** 2));
};

const ratioOf = ({ first: g1, second: g2 }: Pair, { first: r1, second: r2 }: Pair, cells: Cells): Ratio => {
  const up = (series: GasSeries, other: GasSeries) => ({ series, power: 1 as const, lasting: ownPart(series, other) });
  const down = (series: GasSeries, other: GasSeries) => ({ ...up(series, other), power: -1 as const });
  const reference = [down(r2, r1), up(r1, r2)];
  if (g1.detected && g2.detected) return asRatio(ratioOver([up(g2, g1), down(g1, g2), ...reference], cells));
  // One of them has a limit only: the ratio is bounded on one side.
  if (g1.detected && g2.limitPa !== null) {
    const bound = ratioOver([down(g1, g2), ...reference], cells);
    return bound === null ? UNKNOWN : { ratio: null, ratioLow: 0, ratioHigh: g2.limitPa * bound.high };
  }
  if (g2.detected && g1.limitPa !== null) {
    const bound = ratioOver([up(g2, g1), ...reference], cells);
    return bound === null ? UNKNOWN : { ratio: null, ratioLow: bound.low / g1.limitPa, ratioHigh: null };
  }
  return UNKNOWN;
};

const judged = ({ ratioLow, ratioHigh }: Ratio): GasComparison['differs'] => {
  if (ratioLow !== null && ratioLow > 1) return 'yes';
  if (ratioHigh !== null && ratioHigh < 1) return 'yes';
  if (ratioLow === null || ratioHigh === null) return 'cannot tell';
  return ratioLow > 1 / TELLING_RATIO && ratioHigh < TELLING_RATIO ? 'no' : 'cannot tell';
};

interface Side {
  readonly first: SeriesSource;
  readonly second: SeriesSource;
}

const compareGas = (
  gas: string,
  asked: ComparisonQuestion,
  at: { cells: Cells; reference: Pair; all: Side },
): GasComparison => {
  const [first, second] = [seriesOf(at.all.first, gas, at.cells), seriesOf(at.all.second, gas, at.cells)];
  const sides = { first: sideOf(first), second: sideOf(second) };
  if (gas === asked.relativeTo) {
    const itself = { ratio: 1, ratioLow: 1, ratioHigh: 1, differs: 'no' } as const;
    return { gas, ...sides, ...itself, verdict: 'All others are compared with it.' };
  }
  const pair = first !== null && second !== null ? { first, second } : null;
  const ratio = pair === null ? UNKNOWN : ratioOf(pair, at.reference, at.cells);
  const differs = judged(ratio);
  const seen = Boolean(first?.detected || second?.detected);
  const verdict =
    pair === null && seen ? 'Cannot tell: only one of them looks for it.' : verdictOf({ ratio, differs, seen }, asked);
  return { gas, ...sides, ...ratio, differs, verdict };
};

const REFUSALS = {
  'no common time': 'the two have too few scans in the same time to be compared',
  'not detected': 'is not seen by both of them in most scans, so nothing can be compared with it',
} as const;
export type Refusal = keyof typeof REFUSALS;
export const sayRefusal = (refusal: Refusal): string => REFUSALS[refusal];

/** Gases in the order in which the first analyser's scans list them, then those that only the second looks for. */
export function compare(asked: ComparisonQuestion): ComparisonAnswer | { readonly refused: Refusal } {
  const times = (one: Compared) => one.scans.map(({ atMs }) => atMs);
  const cells = cellsOf(times(asked.first), times(asked.second));
  if (cells === null) return { refused: 'no common time' };
  const source = (one: Compared) => ({ all: byGas(one.scans), errors: one.sensitivityErrors });
  const all = { first: source(asked.first), second: source(asked.second) };
  const first = seriesOf(all.first, asked.relativeTo, cells);
  const second = seriesOf(all.second, asked.relativeTo, cells);
  if (!first?.detected || !second?.detected) return { refused: 'not detected' };
  const looked = new Set([...all.first.all.keys(), ...all.second.all.keys()]);
  const gases = [...looked].map((gas) => compareGas(gas, asked, { cells, reference: { first, second }, all }));
  return { gases, ...concluded(gases, asked) };
}
