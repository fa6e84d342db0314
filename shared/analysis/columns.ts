import type { Catalogue, CatalogueGas } from '../catalogue/types.ts';
import { catalogueFragments, type Fragments, learnedFragments } from './fragments.ts';
import { CALIBRATION_GAS } from './sensitivity.ts';
import type { LearnedPattern } from './types.ts';

/**
 * What one pascal of a gas does to the peaks: a column of the design matrix.
 *
 * Heights are N2-equivalent pressures, so a column needs no sensitivity of the analyser, only
 *
 *   a_mg = r_g · (p_mg / Σp_g) / (p_28,N2 / Σp_N2)
 *
 * with r_g the total ionisation of the gas relative to N2, p its fragment pattern and Σp the sum of all peaks of its
 * first record. Nitrogen at m/z 28 is 1 by construction.
 */
export interface Column {
  readonly id: string;
  /** Positions in the list of measured masses, ascending. */
  readonly rows: Int32Array;
  /** a_mg at those positions: N2-equivalent Pa per Pa. */
  readonly response: Float64Array;
  /** Relative standard deviation of each entry; 0 at the reference peak, whose error belongs to the sensitivity. */
  readonly relativeError: Float64Array;
  /** Largest entry. */
  readonly peakResponse: number;
  readonly referenceMass: number;
  /** Where the largest entry stands in `rows` and `response`. */
  readonly referencePlace: number;
  /** Standard deviation of ln(sensitivity). */
  readonly sensitivityError: number;
  /** The part of it that is the catalogue's. */
  readonly catalogueError: number;
  /** An ionisation gauge reads this × pressure. */
  readonly gaugeFactor: number;
  /** Model error of peaks that the records leave out, as a share of the reference peak, up to `lastRow`. */
  readonly omittedShare: number;
  readonly lastRow: number;
  /** Peaks that are there but in no record, as an error: rows, and size as a share of the reference peak. */
  readonly unlisted: readonly { readonly row: number; readonly share: number }[];
  /** Stays in every fit; others must prove themselves. */
  readonly isProtected: boolean;
  /** The gas's main peak was measured, so something can be said of it. */
  readonly reportable: boolean;
  /** Of its peaks of a tenth of the largest or more, the share that was measured: what its name rests on. */
  readonly seenShare: number;
}

/** Records of organic compounds omit peaks below about 1 %; such a peak is taken as this share of the largest. */
const OMITTED_SHARE = 0.005;
/** Isotopes reach this far above the molar mass. */
const ISOTOPE_REACH = 1.5;
/** Peaks from this share of the largest on are what a gas is named by. */
const NAMING_SHARE = 0.1;
/** A gas whose measured peaks are all smaller than this share of its base peak is not reported … */
const REPORTABLE_SHARE = 0.3;
/** … except that its main peak was measured and could not be used in this scan: then a small one must do. */
const REPORTABLE_SHARE_IN_NEED = 0.02;

export interface GasColumns {
  readonly masses: readonly number[];
  readonly columns: readonly Column[];
}

/** What is known of the analyser beyond the catalogue. */
export interface ColumnsKnown {
  /** Patterns measured on it. */
  readonly patterns?: readonly LearnedPattern[];
  /** Standard deviation of ln(sensitivity for N2). */
  readonly calibrationUncertainty?: number;
  /** Masses that were measured and cannot be used in this scan. */
  readonly leftOut?: readonly number[];
}

/** Columns of all gases that have a peak among `masses` (ascending integers), in the order of the catalogue. */
export function gasColumns(catalogue: Catalogue, masses: readonly number[], known: ColumnsKnown = {}): GasColumns {
  const base = nitrogenShare(catalogue);
  const columns = catalogue.gases
    .map((gas) => columnOf({ gas, masses, base, known, isProtected: catalogue.protectedIds.has(gas.id) }))
    .filter((column) => column !== null);
  return { masses, columns };
}

/**
 * N2-equivalent response of one gas per pascal at each of `masses`: what a height list would show if the chamber held
 * 1 Pa of it and nothing else. Zero where the gas has no peak. Throws when the catalogue lacks the gas or nitrogen.
 * Sensible use: subtract `gasResponse(catalogue, 'Ar', masses)` × pressure from the heights of a PeakList, or compare
 * ratios of two masses. `transmissionExponent` t is for heights in which the transmission (28/m)^t is still contained;
 * in a PeakList it has been undone: leave it out.
 */
export function gasResponse(
  catalogue: Catalogue,
  id: string,
  masses: readonly number[],
  transmissionExponent = 0,
): Float64Array {
  const gas = catalogue.gases.find((candidate) => candidate.id === id);
  if (gas === undefined) throw new RangeError(`gasResponse: the catalogue has no gas "${id}"`);
  const out = new Float64Array(masses.length);
  const column = columnOf({ gas, masses, base: nitrogenShare(catalogue), known: {}, isProtected: true });
  column?.rows.forEach((row, k) => {
    out[row] = column.response[k]! * (28 / masses[row]!) ** transmissionExponent;
  });
  return out;
}

/** Share of all nitrogen ions that arrive at m/z 28, from the first record. */
function nitrogenShare(catalogue: Catalogue): number {
  const nitrogen = catalogue.gases.find((gas) => gas.id === CALIBRATION_GAS);
  const peak = nitrogen?.records[0].peaks[28];
  if (nitrogen === undefined || peak === undefined) throw new RangeError('gasColumns: the catalogue has no nitrogen');
  return peak / nitrogen.primarySum;
}

interface ColumnQuestion {
  readonly gas: CatalogueGas;
  readonly masses: readonly number[];
  readonly base: number;
  readonly known: ColumnsKnown;
  readonly isProtected: boolean;
}

function columnOf({ gas, masses, base, known, isProtected }: ColumnQuestion): Column | null {
  const fragments = fragmentsOf({ gas, base, known });
  const rowOf = new Map(masses.map((mass, row) => [mass, row]));
  const measured = fragments.list
    .map((fragment) => ({ ...fragment, row: rowOf.get(fragment.mass) }))
    .filter((entry): entry is typeof entry & { row: number } => entry.row !== undefined)
    .sort((a, b) => a.row - b.row);
  if (measured.length === 0) return null;
  const reference = measured.reduce((best, entry) => (entry.response > best.response ? entry : best));
  const errors = measured.map(({ mass }) => (mass === reference.mass ? 0 : fragments.errorOf(mass, reference.mass)));
  const lastRow = lastRowUpTo(masses, (gas.molarMassGramsPerMole?.value ?? Number.POSITIVE_INFINITY) + ISOTOPE_REACH);
  return {
    id: gas.id,
    rows: Int32Array.from(measured, (entry) => entry.row),
    response: Float64Array.from(measured, (entry) => entry.response),
    relativeError: Float64Array.from(errors),
    peakResponse: reference.response,
    referenceMass: reference.mass,
    referencePlace: measured.indexOf(reference),
    sensitivityError: fragments.sensitivityErrorAt(reference.mass),
    catalogueError: fragments.catalogueError,
    gaugeFactor: gas.relativeSensitivity.value,
    omittedShare: gas.organic && !fragments.speaksOfAll(masses.slice(0, lastRow + 1)) ? OMITTED_SHARE : 0,
    lastRow,
    unlisted: unlistedOf(gas, fragments, rowOf),
    isProtected,
    reportable: isReportable(fragments, reference.response, known.leftOut ?? []),
    seenShare: seenShareOf(fragments, rowOf),
  };
}

/** A pattern of this analyser that speaks of the mass has it among its peaks. */
function unlistedOf(gas: CatalogueGas, { list }: Fragments, rowOf: ReadonlyMap<number, number>): Column['unlisted'] {
  const largest = Math.max(...Object.values(gas.records[0].peaks));
  return Object.entries(gas.unlisted?.peaks ?? {}).flatMap(([key, intensity]) => {
    const row = rowOf.get(Number(key));
    return row === undefined || list.some(({ mass }) => mass === Number(key))
      ? []
      : [{ row, share: intensity / largest }];
  });
}

function fragmentsOf({ gas, base, known }: Pick<ColumnQuestion, 'gas' | 'base' | 'known'>): Fragments {
  const published = catalogueFragments(gas, base, known.calibrationUncertainty);
  const pattern = known.patterns?.find((learned) => learned.gas === gas.id);
  return pattern === undefined ? published : (learnedFragments(published, pattern) ?? published);
}

function isReportable({ list }: Fragments, response: number, leftOut: readonly number[]): boolean {
  const largest = Math.max(...list.map((fragment) => fragment.response));
  const lost = list.some(
    (fragment) => fragment.response >= REPORTABLE_SHARE * largest && leftOut.includes(fragment.mass),
  );
  return response >= (lost ? REPORTABLE_SHARE_IN_NEED : REPORTABLE_SHARE) * largest;
}

function seenShareOf({ list }: Fragments, rowOf: ReadonlyMap<number, number>): number {
  const least = NAMING_SHARE * Math.max(...list.map((fragment) => fragment.response));
  const telling = list.filter((fragment) => fragment.response >= least);
  return telling.filter(({ mass }) => rowOf.has(mass)).length / telling.length;
}

function lastRowUpTo(masses: readonly number[], limit: number): number {
  let last = -1;
  for (let row = 0; row < masses.length; row++) if (masses[row]! <= limit) last = row;
  return last;
}
