/** The conditions that define the answer (Karush, Kuhn, Tucker), whatever the method. scipy: tests/reference. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lawsonHanson } from '../../../shared/analysis/lawsonHanson.ts';
import { makeNonNegativeSolver, type NonNegativeProblem } from '../../../shared/analysis/leastSquares.ts';
import { makeWorkspace } from '../../../shared/analysis/passiveSet.ts';
import { seededRandom } from '../../support/instrument.ts';

function problemOf(seed: number, size: number, rows: number, freeLast = false): NonNegativeProblem {
  const random = seededRandom(seed);
  const hessian = new Float64Array(size * size);
  const gradient = new Float64Array(size);
  for (let m = 0; m < rows; m++) {
    const row = Array.from({ length: size }, () => (random.uniform() < 0.4 ? random.uniform() : 0));
    const y = random.normal();
    for (let i = 0; i < size; i++) {
      gradient[i]! += row[i]! * y;
      for (let k = 0; k < size; k++) hessian[i * size + k]! += row[i]! * row[k]!;
    }
  }
  const free = new Uint8Array(size);
  if (freeLast) free[size - 1] = 1;
  return { size, hessian, gradient, free };
}

function checkConditions({ size, hessian, gradient, free }: NonNegativeProblem, x: Float64Array): void {
  for (let i = 0; i < size; i++) {
    let g = gradient[i]!;
    for (let k = 0; k < size; k++) g -= hessian[i * size + k]! * x[k]!;
    if (free[i] || x[i]! > 0) expect(Math.abs(g)).toBeLessThan(1e-8);
    else {
      expect(x[i]).toBe(0);
      expect(g).toBeLessThan(1e-8);
    }
  }
}

describe('non-negative least squares', () => {
  test('meets the conditions for any problem, and a warm start changes nothing', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 1, max: 30 }),
        fc.boolean(),
        (seed, size, free) => {
          const problem = problemOf(seed, size, 2 * size + 3, free);
          const solver = makeNonNegativeSolver(size);
          const cold = new Float64Array(size);
          const passive = new Uint8Array(size);
          solver.solve(problem, cold, passive, false);
          checkConditions(problem, cold);
          const random = seededRandom(seed + 1);
          const guess = new Uint8Array(size);
          const warm = Float64Array.from({ length: size }, () => 10 * random.normal());
          solver.solve(problem, warm, guess, true);
          const largest = Math.max(1, ...cold.map(Math.abs));
          warm.forEach((value, i) => {
            expect(Math.abs(value - cold[i]!)).toBeLessThan(1e-9 * largest);
          });
          expect(Array.from(guess)).toEqual(Array.from(passive));
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });

  test('the sure method alone gives the same answer', () => {
    for (let seed = 1; seed <= 50; seed++) {
      const problem = problemOf(seed, 20, 40);
      const x = new Float64Array(20);
      makeNonNegativeSolver(20).solve(problem, x, new Uint8Array(20), false);
      const work = makeWorkspace(20);
      work.size = 20;
      work.scale.fill(1);
      for (let i = 0; i < 20; i++) work.scale[i] = 1 / Math.sqrt(problem.hessian[i * 20 + i]!);
      for (let i = 0; i < 20; i++) {
        work.vector[i] = problem.gradient[i]! * work.scale[i]!;
        for (let k = 0; k < 20; k++) {
          work.matrix[i * 20 + k] = problem.hessian[i * 20 + k]! * work.scale[i]! * work.scale[k]!;
        }
      }
      const passive = new Uint8Array(20);
      lawsonHanson(problem, work, passive);
      for (let i = 0; i < 20; i++) expect(work.solution[i]! * work.scale[i]!).toBeCloseTo(x[i]!, 9);
    }
  });

  test('two identical columns share and do not explode; a column of zeros stays out', () => {
    const size = 3;
    const hessian = Float64Array.of(2, 2, 0, 2, 2, 0, 0, 0, 0);
    const x = new Float64Array(size);
    makeNonNegativeSolver(size).solve(
      { size, hessian, gradient: Float64Array.of(4, 4, 0), free: new Uint8Array(size) },
      x,
      new Uint8Array(size),
      false,
    );
    expect(x[0]! + x[1]!).toBeCloseTo(2, 6);
    expect(Math.min(x[0]!, x[1]!)).toBeGreaterThanOrEqual(0);
    expect(x[2]).toBe(0);
  });

  test('columns whose scales lie twelve decades apart are treated alike', () => {
    const problem = problemOf(3, 10, 30);
    const plain = new Float64Array(10);
    makeNonNegativeSolver(10).solve(problem, plain, new Uint8Array(10), false);
    const scale = Float64Array.from({ length: 10 }, (_, i) => 10 ** (i - 6));
    const scaled = {
      ...problem,
      hessian: problem.hessian.map((h, at) => h * scale[Math.floor(at / 10)]! * scale[at % 10]!),
      gradient: problem.gradient.map((g, i) => g * scale[i]!),
    };
    const x = new Float64Array(10);
    makeNonNegativeSolver(10).solve(scaled, x, new Uint8Array(10), false);
    for (let i = 0; i < 10; i++) expect(x[i]! * scale[i]!).toBeCloseTo(plain[i]!, 9);
  });
});
