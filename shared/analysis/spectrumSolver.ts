import { type AssemblyPlan, assemble, type WeightedHeights } from './normalEquations.ts';
import { chooseCandidates, choosePassive, descendCandidates } from './spectrumCandidates.ts';
import { exchangeBlocks } from './spectrumExchange.ts';
import { descend, makeSpectrumRoom, type SpectrumRoom, startFrom, weigh } from './spectrumRoom.ts';

/**
 * Weighted non-negative least squares for spectra: leastSquares.ts for a matrix of which nine tenths are zeros.
 *
 *   1. Coordinate descent on the residual: a column costs its own few peaks, and most of the passive set is found.
 *   2. Columns that are away from zero become candidates; H is assembled for them alone, and a few more sweeps cost one
 *      row of it per step.
 *   3. Block principal pivoting (sources in leastSquares.ts) on a factor that is mended where it changed
 *      (growingFactor.ts); at the end the gradients of all columns from the residual.
 * When exchanging stops making progress, leastSquares.ts solves the whole with its sure method.
 */
export interface SpectrumSolver {
  /**
   * Writes the amounts into `x` and the passive set into `passive` (1: positive or free), by place in `plan.active`.
   * With `warm`, the search begins at what `x` holds; the answer is the same, only sooner.
   */
  solve(plan: AssemblyPlan, spectrum: WeightedHeights, x: Float64Array, start: Start): void;
}
export interface Start {
  readonly passive: Uint8Array;
  readonly warm: boolean;
}

/** Sweeps over all columns, then over the candidates alone: what was fastest on simulated spectra. */
const COLD = { sweeps: 3, candidateSweeps: 4 };
const WARM = { sweeps: 1, candidateSweeps: 1 };

/** Workspace for spectra of up to `capacity` columns; holds no state that changes an answer. */
export function makeSpectrumSolver(capacity: number): SpectrumSolver {
  const room = makeSpectrumRoom(capacity);
  return {
    solve(plan, spectrum, x, { passive, warm }) {
      weigh(plan, spectrum, room);
      if (warm) startFrom(plan, room, x);
      else x.fill(0, 0, plan.active.length);
      const { sweeps, candidateSweeps } = warm ? WARM : COLD;
      for (let sweep = 0; sweep < sweeps; sweep++) descend(plan, room, x);
      chooseCandidates(plan, room, x);
      for (let sweep = 0; sweep < candidateSweeps; sweep++) descendCandidates(plan, room);
      choosePassive(plan, room);
      if (exchangeBlocks(plan, spectrum.heights, room)) writeSolution(plan, room, x, passive);
      else solveSurely(plan, spectrum, { room, x, passive });
    },
  };
}

function writeSolution(
  { active }: AssemblyPlan,
  { factor, seatPlace, trial }: SpectrumRoom,
  x: Float64Array,
  passive: Uint8Array,
): void {
  x.fill(0, 0, active.length);
  passive.fill(0, 0, active.length);
  for (let k = 0; k < factor.count; k++) {
    const i = seatPlace[factor.order[k]!]!;
    x[i] = trial[k]!;
    passive[i] = 1;
  }
}

function solveSurely(
  plan: AssemblyPlan,
  spectrum: WeightedHeights,
  { room, x, passive }: { room: SpectrumRoom; x: Float64Array; passive: Uint8Array },
): void {
  const size = plan.active.length;
  assemble(plan, spectrum, room.hessian, room.vector);
  room.sure.solve({ size, hessian: room.hessian, gradient: room.vector, free: plan.free }, x, passive, false);
}
