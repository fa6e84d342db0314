/**
 * Two simpler ways, given the same heights and the same catalogue:
 *
 * - plain: non-negative least squares over all candidate gases with every mass alike, no weights, no artefacts;
 * - single peak: each gas from its own largest measured peak, as if nothing else were there.
 *
 * Both take the background off when there is one, and neither has an interval. What lies above three standard deviations
 * of the read noise they would show as found.
 */
import { gasColumns } from '../../shared/analysis/columns.ts';
import { type Design, joinColumns } from '../../shared/analysis/design.ts';
import { makeNonNegativeSolver } from '../../shared/analysis/leastSquares.ts';
import { assemble, planAssembly } from '../../shared/analysis/normalEquations.ts';
import type { Background, PeakList } from '../../shared/analysis/types.ts';
import type { Catalogue } from '../../shared/catalogue/types.ts';

export interface RivalAnswer {
  /** Gas → Pa. */
  readonly amounts: ReadonlyMap<string, number>;
  readonly found: ReadonlySet<string>;
}

export interface Question {
  readonly peaks: PeakList;
  readonly catalogue: Catalogue;
  readonly background: Background | null | undefined;
  /** N2-equivalent Pa that the pressures are to add up to when the heights have no scale; null: they have one. */
  readonly scaleToPa: number | null;
}

const SHOWN_SIGMAS = 3;

export function rivals(question: Question): { readonly plain: RivalAnswer; readonly single: RivalAnswer } {
  const { peaks, catalogue, background } = question;
  const rows = peaks.masses.flatMap((_, row) => (Number.isFinite(peaks.heightPa[row]!) ? [row] : []));
  const masses = rows.map((row) => peaks.masses[row]!);
  const heights = Float64Array.from(
    rows,
    (row) => peaks.heightPa[row]! - (background?.peaks[peaks.masses[row]!]?.heightPa ?? 0),
  );
  const design = joinColumns(masses, gasColumns(catalogue, masses).columns, []);
  const answer = (amounts: Float64Array) => named(design, amounts, question);
  return { plain: answer(plainAmounts(design, heights)), single: answer(singleAmounts(design, heights)) };
}

function plainAmounts(design: Design, heights: Float64Array): Float64Array {
  const size = design.columns.length;
  const plan = planAssembly(
    design,
    Int32Array.from({ length: size }, (_, i) => i),
  );
  const hessian = new Float64Array(size * size);
  const gradient = new Float64Array(size);
  const top = heights.reduce((a, b) => Math.max(a, b), 0);
  assemble(
    plan,
    { heights: heights.map((height) => height / top), variance: new Float64Array(heights.length).fill(1) },
    hessian,
    gradient,
  );
  const x = new Float64Array(size);
  makeNonNegativeSolver(size).solve({ size, hessian, gradient, free: plan.free }, x, new Uint8Array(size), false);
  return x.map((amount) => amount * top);
}

const singleAmounts = ({ columns }: Design, heights: Float64Array): Float64Array =>
  Float64Array.from(columns, ({ rows, referencePlace, peakResponse }) =>
    Math.max(0, heights[rows[referencePlace]!]! / peakResponse),
  );

function named({ columns }: Design, amounts: Float64Array, { peaks, scaleToPa }: Question): RivalAnswer {
  const sum = columns.reduce((total, { gaugeFactor }, j) => total + gaugeFactor * amounts[j]!, 0);
  const factor = scaleToPa === null ? 1 : scaleToPa / sum;
  const least = SHOWN_SIGMAS * peaks.readNoisePa;
  return {
    amounts: new Map(columns.map(({ id }, j) => [id, amounts[j]! * factor])),
    found: new Set(columns.filter(({ peakResponse }, j) => amounts[j]! * peakResponse > least).map(({ id }) => id)),
  };
}
