import type { Catalogue } from '../../catalogue/types.ts';
import { type Artefact, artefacts } from '../artefacts.ts';
import { type Column, gasColumns } from '../columns.ts';
import { joinColumns } from '../design.ts';
import { type Fit, makeFitter } from '../fit.ts';
import { FRAGMENT_ERROR } from '../fragments.ts';
import type { Calibration } from '../types.ts';
import { hiddenVariance } from './hidden.ts';
import { isForeign, type OwnMasses } from './ownMasses.ts';

/**
 * What else was there while a pure gas was let in: water, hydrogen, the analyser's foot and zero.
 *
 * The gases that any chamber may hold are fitted at masses where the pure gas cannot have ions, and what they add below
 * its peaks is taken off. (Others would come and go with the noise of a scan; they show as an impurity.) Fitting all peaks together would not do: where the analyser's fragment of nitrogen at 14 is weaker than in the
 * records, the fit would call a part of m/z 28 carbon monoxide, and just this is to be learned.
 */
export interface Rest {
  /** Other gases and the analyser's foot and zero, by the mass list. */
  readonly height: Float64Array;
  /** One sigma of that, and of what may hide below the pure gas's peaks. */
  readonly sigma: Float64Array;
  /** Of `height`, what is gas. */
  readonly gas: Float64Array;
  /** Gases that were found, with their amount in the scale of the heights. */
  readonly amounts: ReadonlyMap<string, number>;
}

export interface RestFitter {
  /** Masses at which the pure gas cannot show. */
  readonly foreign: readonly number[];
  /** Protected gases that show at the pure gas's peaks only: nothing tells them from it. */
  readonly hidden: readonly string[];
  /** Another protected gas or an artefact has a peak at the mass. */
  isClaimed(mass: number): boolean;
  rest(heights: Float64Array, variance: Float64Array): Rest;
}

/** A gas with less than this share of its largest peak away from the pure gas's masses is not told by it. */
const TELLING_SHARE = 0.02;
/** What stands below this many standard deviations is not taken off: it would only add noise. */
const TAKEN_SIGMAS = 3;

export interface RestQuestion {
  readonly gas: string;
  readonly catalogue: Catalogue;
  readonly calibration: Calibration;
  readonly masses: readonly number[];
  readonly own: OwnMasses;
}

export function makeRestFitter({ gas, catalogue, calibration, masses, own }: RestQuestion): RestFitter {
  const { principle } = calibration;
  const known = { patterns: calibration.patterns ?? [] };
  const foreign = masses.filter((mass) => isForeign(own, mass));
  const rows = foreign.map((mass) => masses.indexOf(mass));
  const ofAnalyser = artefacts(masses, principle);
  const columns = gasColumns(catalogue, masses, known).columns.filter(({ id }) => id !== gas);
  const whole = new Map([...columns, ...ofAnalyser.map(({ column }) => column)].map((column) => [column.id, column]));
  const doubtful = new Set(
    ofAnalyser.filter(isDesorbed).flatMap(({ column }) => [...column.rows].map((row) => masses[row]!)),
  );
  const tells = ({ id, rows: places, response }: Column) =>
    places.some(
      (place, k) => !doubtful.has(foreign[place]!) && response[k]! >= TELLING_SHARE * whole.get(id)!.peakResponse,
    );
  const others = gasColumns(catalogue, foreign, known).columns.filter(
    (column) => column.isProtected && column.id !== gas && tells(column),
  );
  const seen = artefacts(foreign, principle).filter(({ column, free }) => free || footTells(column));
  const fitter = makeFitter(joinColumns(foreign, others, seen));
  const told = new Set(others.map(({ id }) => id));
  const hidden = columns.filter(({ id, isProtected }) => isProtected && !told.has(id));
  const claims = [
    ...columns.filter(({ isProtected }) => isProtected),
    ...ofAnalyser.filter(({ free }) => !free).map(({ column }) => column),
  ];
  const claimed = new Set(claims.flatMap((column) => [...column.rows].map((row) => masses[row]!)));
  return {
    foreign,
    hidden: hidden.map(({ id }) => id),
    isClaimed: (mass) => claimed.has(mass),
    rest(heights, variance) {
      const largest = masses.reduce((top, mass, row) => (own.listed.has(mass) ? Math.max(top, heights[row]!) : top), 0);
      const fit = fitter.fit(
        Float64Array.from(rows, (row) => heights[row]!),
        Float64Array.from(rows, (row, k) => variance[row]! + ((own.near.get(foreign[k]!) ?? 0) * largest) ** 2),
      );
      const { seenVariance, ...found } = addUp(fit, whole, masses.length);
      const mayHide = hiddenVariance({ masses, own, principle, hidden, largest, gas: found.gas });
      return { ...found, sigma: seenVariance.map((value, row) => Math.sqrt(value + mayHide[row]!)) };
    },
  };
}

/** Ions from surfaces stand at their mass alone: a gas that is told there only, such as oxygen at 16, is not told. */
const isDesorbed = ({ column }: Artefact): boolean => column.id.startsWith('desorbed-');

/** An exponential foot that is seen from afar only would be drawn out of nothing at m/z 1. */
const footTells = ({ response }: Column): boolean => response.length > 0 && Math.max(...response) >= TELLING_SHARE;

function addUp(
  fit: Fit,
  whole: ReadonlyMap<string, Column>,
  count: number,
): Omit<Rest, 'sigma'> & { seenVariance: Float64Array } {
  const height = new Float64Array(count);
  const gas = new Float64Array(count);
  const seenVariance = new Float64Array(count);
  const amounts = new Map<string, number>();
  fit.design.columns.forEach(({ id }, j) => {
    const place = fit.placeOf[j]!;
    const amount = fit.amounts[j]!;
    if (place < 0 || amount === 0) return;
    const sigma = Math.sqrt(fit.covariance[place * fit.covarianceColumns.length + place]!);
    const isGas = j < fit.design.gasCount;
    if (isGas && amount < TAKEN_SIGMAS * sigma) return;
    if (isGas) amounts.set(id, amount);
    const column = whole.get(id)!;
    column.rows.forEach((row, k) => {
      const part = column.response[k]! * amount;
      height[row]! += part;
      if (isGas) gas[row]! += part;
      const patternError = fit.design.free[j] ? 0 : FRAGMENT_ERROR * part;
      seenVariance[row]! += patternError ** 2 + (column.response[k]! * sigma) ** 2;
    });
  });
  return { height, gas, amounts, seenVariance };
}
