/**
 * Non-negative least squares on the normal equations.
 *
 * Minimise ½ xᵀH x − bᵀx with x_i ≥ 0 (columns marked free may take any sign), H = AᵀWA, b = AᵀWy. The answer is the
 * x for which every positive x_i has gradient zero and every zero x_i would have to go negative to improve
 * (Karush–Kuhn–Tucker conditions).
 *
 * Two methods share the work:
 *  - block principal pivoting: solve for the passive set, exchange every index that breaks a condition at once.
 *    L. F. Portugal, J. J. Júdice, L. N. Vicente, Math. Comp. 63 (1994) 625; J. Kim and H. Park, SIAM J. Sci. Comput.
 *    33 (2011) 3261. Usually two to four solves whatever the size of the problem.
 *  - Lawson–Hanson active set (Solving Least Squares Problems, 1974; SIAM 1995, chapter 23) when exchanging blocks
 *    stops making progress: slower, but sure to end.
 *
 * Columns are scaled to unit diagonal before anything is factored, so that gases whose sensitivities lie decades
 * apart are treated alike.
 */
import { lawsonHanson } from './lawsonHanson.ts';
import { makeWorkspace, solvePassive, TOLERANCE, type Workspace } from './passiveSet.ts';

/** Block exchanges without progress before the sure method takes over; 3 as in Portugal et al. */
const PATIENCE = 3;
/** Sweeps of coordinate descent before the first solve: what was fastest on simulated spectra. */
const COLD_SWEEPS = 6;
const WARM_SWEEPS = 3;
/** Steps a quarter too long need fewer sweeps (successive over-relaxation; D. M. Young 1954, from memory). */
const OVER_RELAXATION = 1.25;

export interface NonNegativeProblem {
  /** Number of columns. */
  readonly size: number;
  /** H, row after row; the lower triangle is read. Length ≥ size². */
  readonly hessian: Float64Array;
  readonly gradient: Float64Array;
  /** 1: may take any sign. */
  readonly free: Uint8Array;
}

/** Workspace for problems of up to `capacity` columns; holds no state that changes an answer. */
export interface NonNegativeSolver {
  /**
   * Writes the solution into `x` and its passive set into `passive` (1: positive or free). With `warm`, the search begins
   * at what `x` holds, for instance the answer to a similar problem; the answer is the same, only sooner.
   */
  solve(problem: NonNegativeProblem, x: Float64Array, passive: Uint8Array, warm: boolean): void;
}

export function makeNonNegativeSolver(capacity: number): NonNegativeSolver {
  const work = makeWorkspace(capacity);
  return {
    solve(problem, x, passive, warm) {
      scaleProblem(problem, work);
      if (warm) startFrom(problem, work, x);
      else startFromZero(work);
      guessPassiveSet(problem, work, passive, warm ? WARM_SWEEPS : COLD_SWEEPS);
      if (!exchangeBlocks(problem, work, passive)) lawsonHanson(problem, work, passive);
      for (let i = 0; i < problem.size; i++) x[i] = passive[i] ? work.solution[i]! * work.scale[i]! : 0;
    },
  };
}

/** Unit diagonal: H'_ij = H_ij s_i s_j with s_i = 1/√H_ii. A column of zeros gets s = 0 and never enters. */
function scaleProblem({ size, hessian, gradient }: NonNegativeProblem, work: Workspace): void {
  const { scale, matrix, vector } = work;
  work.size = size;
  for (let i = 0; i < size; i++) {
    const diagonal = hessian[i * size + i]!;
    scale[i] = diagonal > 0 ? 1 / Math.sqrt(diagonal) : 0;
  }
  let largest = 0;
  for (let i = 0; i < size; i++) {
    const s = scale[i]!;
    const row = i * size;
    for (let k = 0; k <= i; k++) {
      const entry = hessian[row + k]! * s * scale[k]!;
      matrix[row + k] = entry;
      matrix[k * size + i] = entry;
    }
    vector[i] = gradient[i]! * s;
    largest = Math.max(largest, Math.abs(vector[i]!));
  }
  // The problem is homogeneous in b: bring it to order one, so that the tolerances mean the same for every scan.
  const unit = largest > 0 ? 1 / largest : 0;
  for (let i = 0; i < size; i++) vector[i]! *= unit;
  if (largest > 0) for (let i = 0; i < size; i++) scale[i]! *= largest;
}

function startFromZero({ size, solution, gradient, vector }: Workspace): void {
  for (let i = 0; i < size; i++) {
    solution[i] = 0;
    gradient[i] = vector[i]!;
  }
}

function startFrom({ size, free }: NonNegativeProblem, work: Workspace, x: Float64Array): void {
  startFromZero(work);
  const { solution, scale } = work;
  for (let i = 0; i < size; i++) {
    const value = scale[i]! > 0 ? x[i]! / scale[i]! : 0;
    if (value > 0 || (free[i] && value !== 0)) moveTo(work, i, value);
  }
  for (let i = 0; i < size; i++) if (!Number.isFinite(solution[i]!)) startFromZero(work);
}

/** Sets one element and keeps the gradient b − H x up to date. */
function moveTo({ size, matrix, solution, gradient }: Workspace, i: number, value: number): void {
  const step = value - solution[i]!;
  if (step === 0) return;
  solution[i] = value;
  const row = i * size;
  for (let k = 0; k < size; k++) gradient[k]! -= step * matrix[row + k]!;
}

/**
 * A few sweeps of coordinate descent (Gauss–Seidel with a bound) find most of the passive set at little cost: a column
 * that does not move costs nothing.
 */
function guessPassiveSet(problem: NonNegativeProblem, work: Workspace, passive: Uint8Array, sweeps: number): void {
  const { size, free } = problem;
  const { solution, gradient, scale } = work;
  for (let sweep = 0; sweep < sweeps; sweep++) {
    for (let i = 0; i < size; i++) {
      if (scale[i] === 0) continue;
      const next = solution[i]! + OVER_RELAXATION * gradient[i]!;
      moveTo(work, i, next > 0 || free[i] ? next : 0);
    }
  }
  for (let i = 0; i < size; i++) passive[i] = scale[i]! > 0 && (free[i] || solution[i]! > 0) ? 1 : 0;
}

/** Block principal pivoting. True when the conditions hold; false when it gives up. */
function exchangeBlocks({ size, free }: NonNegativeProblem, work: Workspace, passive: Uint8Array): boolean {
  const { solution, trial, index } = work;
  let fewest = size + 1;
  let patience = PATIENCE;
  for (let round = 0; round < 5 * size + 10; round++) {
    const q = solvePassive(work, passive);
    let wrong = 0;
    for (let k = 0; k < q; k++) if (trial[k]! <= 0 && !free[index[k]!]) wrong++;
    const entering = markEntering(work, passive);
    if (wrong + entering === 0) {
      solution.fill(0, 0, size);
      for (let k = 0; k < q; k++) solution[index[k]!] = trial[k]!;
      return true;
    }
    if (wrong + entering < fewest) {
      fewest = wrong + entering;
      patience = PATIENCE;
    } else if (patience-- <= 0) {
      clearMarks(passive, size);
      return false;
    }
    for (let k = 0; k < q; k++) if (trial[k]! <= 0 && !free[index[k]!]) passive[index[k]!] = 0;
    for (let i = 0; i < size; i++) if (passive[i] === ENTERING) passive[i] = 1;
  }
  return false;
}

const ENTERING = 2;
function markEntering({ size, scale, gradient }: Workspace, passive: Uint8Array): number {
  let count = 0;
  for (let i = 0; i < size; i++) {
    if (!passive[i] && gradient[i]! > TOLERANCE && scale[i]! > 0) {
      passive[i] = ENTERING;
      count++;
    }
  }
  return count;
}

function clearMarks(passive: Uint8Array, size: number): void {
  for (let i = 0; i < size; i++) if (passive[i] === ENTERING) passive[i] = 0;
}
