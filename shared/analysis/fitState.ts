import { type CovarianceWorkspace, invertSubset, makeCovarianceWorkspace } from './covariance.ts';
import type { Design } from './design.ts';
import { modelVariance } from './modelVariance.ts';
import { type AssemblyPlan, assemble, planAssembly } from './normalEquations.ts';
import type { ScoreQuestion } from './score.ts';
import { makeSpectrumSolver, type SpectrumSolver } from './spectrumSolver.ts';

/** A fit in progress: the columns taken in, their amounts, and room for the matrices. */
export interface FitState {
  readonly design: Design;
  readonly solver: SpectrumSolver;
  readonly work: CovarianceWorkspace;
  readonly plans: Map<string, AssemblyPlan>;
  readonly hessian: Float64Array;
  readonly gradient: Float64Array;
  readonly solution: Float64Array;
  readonly passive: Uint8Array;
  readonly amounts: Float64Array;
  /** Passive set by column of the design, kept over changes of the set. */
  readonly positive: Uint8Array;
  readonly variance: Float64Array;
  readonly residual: Float64Array;
  readonly scratch: Float64Array;
  readonly overlap: Float64Array;
  readonly covariance: Float64Array;
  readonly placeOf: Int32Array;
  plan: AssemblyPlan;
  heights: Float64Array;
  noiseVariance: Float64Array;
}

/** Plans of recently seen sets of columns that are kept. */
const PLANS_KEPT = 64;

export function makeFitState(design: Design, always: readonly number[]): FitState {
  const n = design.columns.length;
  const rows = design.masses.length;
  return {
    design,
    solver: makeSpectrumSolver(n),
    work: makeCovarianceWorkspace(n),
    plans: new Map(),
    hessian: new Float64Array(n * n),
    gradient: new Float64Array(n),
    solution: new Float64Array(n),
    passive: new Uint8Array(n),
    amounts: new Float64Array(n),
    positive: new Uint8Array(n),
    variance: new Float64Array(rows),
    residual: new Float64Array(rows),
    scratch: new Float64Array(rows),
    overlap: new Float64Array(n),
    covariance: new Float64Array(n * n),
    placeOf: new Int32Array(n),
    plan: planAssembly(design, Int32Array.from(always)),
    heights: new Float64Array(rows),
    noiseVariance: new Float64Array(rows),
  };
}

/** Which columns take part from now on (ascending). */
export function choose(state: FitState, included: readonly number[]): void {
  const key = included.join();
  let plan = state.plans.get(key);
  if (plan === undefined) {
    plan = planAssembly(state.design, Int32Array.from(included));
    if (state.plans.size >= PLANS_KEPT) state.plans.delete(state.plans.keys().next().value as string);
    state.plans.set(key, plan);
  }
  state.plan = plan;
}

/** Fits with the variances as they stand. */
export function solveOnce(state: FitState, warm: boolean): void {
  const { plan, solution, passive, positive, amounts } = state;
  const size = plan.active.length;
  if (warm) for (let i = 0; i < size; i++) solution[i] = amounts[plan.active[i]!]!;
  state.solver.solve(plan, state, solution, { passive, warm });
  for (let i = 0; i < size; i++) {
    amounts[plan.active[i]!] = solution[i]!;
    positive[plan.active[i]!] = passive[i]!;
  }
}

/** Variances from the answer, fit again. */
export function reweight(state: FitState, times: number): void {
  for (let k = 0; k < times; k++) {
    modelVariance(state.design, state.amounts, state.noiseVariance, state.variance, state.scratch);
    solveOnce(state, true);
  }
}

export function writeResidual({ design, heights, amounts, residual }: FitState): void {
  for (let row = 0; row < heights.length; row++) {
    let rest = heights[row]!;
    for (let e = design.rowStart[row]!; e < design.rowStart[row + 1]!; e++) {
      rest -= design.entryResponse[e]! * amounts[design.entryColumn[e]!]!;
    }
    residual[row] = rest;
  }
}

/** Covariance of the free set; with `protectedAtZero` also of protected gases that the bound holds at zero. */
export function covarianceOf(state: FitState, protectedAtZero: boolean): number[] {
  const { plan, positive, placeOf, design } = state;
  const places: number[] = [];
  placeOf.fill(-1);
  for (let i = 0; i < plan.active.length; i++) {
    const j = plan.active[i]!;
    const held = protectedAtZero && j < design.gasCount && design.columns[j]!.isProtected;
    if (!positive[j] && !held) continue;
    placeOf[j] = places.length;
    places.push(i);
  }
  assemble(plan, state, state.hessian, state.gradient);
  invertSubset(state.hessian, plan.active.length, places, state.work, state.covariance);
  return places.map((i) => plan.active[i]!);
}

/** What the evidence for columns outside the fit is asked of, after `writeResidual` and `covarianceOf`. */
export const evidenceQuestion = (state: FitState, covarianceSize: number): ScoreQuestion => ({
  design: state.design,
  residual: state.residual,
  variance: state.variance,
  placeOf: state.placeOf,
  covariance: state.covariance,
  covarianceSize,
  overlap: state.overlap,
});
