import type { NonNegativeProblem } from './leastSquares.ts';
import { solvePassive, TOLERANCE, type Workspace } from './passiveSet.ts';

/**
 * Lawson–Hanson: one column in at a time, and back along the line to the first bound when one would go negative.
 * C. L. Lawson and R. J. Hanson, Solving Least Squares Problems (1974; SIAM 1995), chapter 23.
 */
export function lawsonHanson({ size, free }: NonNegativeProblem, work: Workspace, passive: Uint8Array): void {
  const { solution, trial, gradient, index, scale } = work;
  solution.fill(0, 0, size);
  for (let i = 0; i < size; i++) passive[i] = free[i] && scale[i]! > 0 ? 1 : 0;
  for (let outer = 0; outer < 3 * size + 3; outer++) {
    let q = solvePassive(work, passive);
    for (let guard = 0; guard < 3 * size; guard++) {
      let step = 1;
      let leaving = -1;
      for (let k = 0; k < q; k++) {
        const i = index[k]!;
        if (free[i] || trial[k]! > 0) continue;
        const fall = solution[i]! - trial[k]!;
        const share = fall > 0 ? solution[i]! / fall : 0;
        if (leaving < 0 || share < step) {
          step = Math.min(step, share);
          leaving = i;
        }
      }
      if (leaving < 0) break;
      for (let k = 0; k < q; k++) {
        const i = index[k]!;
        solution[i]! += step * (trial[k]! - solution[i]!);
        if (!free[i] && trial[k]! <= 0 && (i === leaving || solution[i]! <= 0)) {
          solution[i] = 0;
          passive[i] = 0;
        }
      }
      q = solvePassive(work, passive);
    }
    for (let k = 0; k < q; k++) solution[index[k]!] = trial[k]!;
    let best = -1;
    let steepest = TOLERANCE;
    for (let i = 0; i < size; i++) {
      if (passive[i] || scale[i] === 0) continue;
      if (gradient[i]! > steepest) {
        steepest = gradient[i]!;
        best = i;
      }
    }
    if (best < 0) return;
    passive[best] = 1;
  }
}
