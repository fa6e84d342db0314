/** One gas of one analyser over a span: what its stored estimates say together. */
import { type Cells, cellOf } from './cells.ts';
import { meanOf, TWO_SIDED_95 } from './meanError.ts';

/** A stored estimate, Pa; `lowPa` to `highPa` is its absolute 95 % interval. */
export interface Estimate {
  readonly gas: string;
  readonly valuePa: number;
  readonly lowPa: number;
  readonly highPa: number;
  readonly detected: boolean;
}

export interface ComparedScan {
  readonly atMs: number;
  readonly gases: readonly Estimate[];
}

export interface GasSeries {
  /** Mean of each cell, Pa; NaN where no scan looked for the gas. */
  readonly cellMeansPa: Float64Array;
  readonly detectedShare: number;
  /** The gas was detected in at least half of the scans: its mean is a measurement. */
  readonly detected: boolean;
  /** Middle one of the upper limits of scans that did not detect it, Pa; null: all did. */
  readonly limitPa: number | null;
  /** Standard deviation of ln P for what no averaging takes away: sensitivity and patterns. */
  readonly lasting: number;
  /** The same in a ratio to another gas of this analyser, and the part of it that other analysers share. */
  readonly inRatio: { readonly lasting: number; readonly catalogue: number };
}

/**
 * Standard deviations of ln(pressure) for reasons of sensitivity alone: in the absolute pressure, in its ratio to another
 * gas of the same analyser (gain and scale drop out), and what of the latter is the catalogue's.
 */
export interface SensitivityError {
  readonly absolute: number;
  readonly ratio: number;
  readonly catalogue: number;
}

/** A gas that fewer scans detect is given by its limit. */
export const DETECTED_SHARE = 0.5;

export const middle = (values: readonly number[]): number | null => {
  const sorted = Float64Array.from(values).sort();
  return sorted[sorted.length >> 1] ?? null;
};

export interface Looked {
  readonly atMs: number[];
  readonly estimates: Estimate[];
}

/** Estimates per gas, in the order of the scans: one walk for all gases. */
export type ByGas = ReadonlyMap<string, Looked>;

export function byGas(scans: readonly ComparedScan[]): ByGas {
  const found = new Map<string, Looked>();
  for (const { atMs, gases } of scans)
    for (const estimate of gases) {
      let looked = found.get(estimate.gas);
      if (looked === undefined) {
        looked = { atMs: [], estimates: [] };
        found.set(estimate.gas, looked);
      }
      looked.atMs.push(atMs);
      looked.estimates.push(estimate);
    }
  return found;
}

const cellMeans = ({ atMs, estimates }: Looked, cells: Cells): Float64Array => {
  const sums = new Float64Array(cells.count);
  const scans = new Float64Array(cells.count);
  for (let k = 0; k < estimates.length; k++) {
    const cell = cellOf(cells, atMs[k] ?? Number.NaN);
    if (cell === null) continue;
    sums[cell] = (sums[cell] ?? 0) + (estimates[k]?.valuePa ?? 0);
    scans[cell] = (scans[cell] ?? 0) + 1;
  }
  return sums.map((sum, cell) => sum / (scans[cell] ?? 0));
};

/** Standard deviation of ln P in the absolute interval of one scan: from its upper half where it begins at nothing. */
const widthOf = ({ valuePa, lowPa, highPa }: Estimate): number =>
  lowPa > 0 ? Math.log(highPa / lowPa) / (2 * TWO_SIDED_95) : Math.log(highPa / valuePa) / TWO_SIDED_95;

/** Scatter from scan to scan, from differences of neighbours, so that a slow change is not taken for noise. */
const scatterOf = (values: readonly number[]): number => {
  let squares = 0;
  for (let k = 1; k < values.length; k++) squares += ((values[k] ?? 0) - (values[k - 1] ?? 0)) ** 2;
  return values.length < 2 ? 0 : Math.sqrt(squares / (2 * (values.length - 1)));
};

/** As many as a middle width needs: it hardly differs from scan to scan. */
const WIDTHS = 500;
const someOf = <T>(all: readonly T[]): readonly T[] => {
  const every = Math.ceil(all.length / WIDTHS);
  return every < 2 ? all : all.filter((_, k) => k % every === 0);
};

/**
 * The absolute interval holds the noise of its scan too, and that averages away: what is seen of it is taken out. The
 * rest stays however many scans there are. Where noise is most of the interval, what is left of it comes out too large
 * rather than too small, because the scatter of a few scans is itself uncertain.
 */
export const lastingOf = (found: readonly Estimate[]): number => {
  const width = middle(someOf(found).map(widthOf));
  if (width === null) return 0;
  const values = found.map(({ valuePa }) => valuePa);
  return Math.sqrt(Math.max(0, width ** 2 - (scatterOf(values) / meanOf(values)) ** 2));
};

/** Without knowing the sensitivity's part, all of it stays in a ratio. */
const inRatioOf = (lasting: number, error: SensitivityError | undefined): GasSeries['inRatio'] => {
  if (error === undefined) return { lasting, catalogue: 0 };
  const patternVariance = Math.max(0, lasting ** 2 - error.absolute ** 2);
  return { lasting: Math.sqrt(patternVariance + error.ratio ** 2), catalogue: error.catalogue };
};

export interface SeriesSource {
  readonly all: ByGas;
  readonly errors: Readonly<Record<string, SensitivityError>> | null;
}

/** Null: no scan looked for the gas. */
export function seriesOf({ all, errors }: SeriesSource, gas: string, cells: Cells): GasSeries | null {
  const looked = all.get(gas);
  if (looked === undefined) return null;
  const { estimates } = looked;
  const found = estimates.filter(({ detected, valuePa }) => detected && valuePa > 0);
  const detectedShare = found.length / estimates.length;
  const lasting = lastingOf(found);
  return {
    cellMeansPa: cellMeans(looked, cells),
    detectedShare,
    detected: detectedShare >= DETECTED_SHARE,
    limitPa: middle(estimates.filter(({ detected }) => !detected).map(({ highPa }) => highPa)),
    lasting,
    inRatio: inRatioOf(lasting, errors?.[gas]),
  };
}
