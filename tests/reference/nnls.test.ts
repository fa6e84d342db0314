/**
 * Non-negative least squares against outside answers.
 *
 * - Two small cases from the documentation of scipy.optimize.nnls, typed in as literals.
 * - `scipy.optimize.nnls` itself on 1,000 random weighted problems, element by element to 1e-8 of the largest element
 *   and 1e-8 of the element itself. python3 with scipy is needed (Debian: python3-scipy); without it the test fails and
 *   says so.
 */
import { describe, expect, test } from 'vitest';
import { makeNonNegativeSolver } from '../../shared/analysis/leastSquares.ts';
import { seededRandom } from '../support/instrument.ts';
import { type DenseProblem, scipyNnls, scipyVersion } from '../support/scipy.ts';

function solve({ matrix, target }: DenseProblem): Float64Array {
  const size = matrix[0]!.length;
  const hessian = new Float64Array(size * size);
  const gradient = new Float64Array(size);
  matrix.forEach((row, m) => {
    for (let i = 0; i < size; i++) {
      gradient[i]! += row[i]! * target[m]!;
      for (let k = 0; k < size; k++) hessian[i * size + k]! += row[i]! * row[k]!;
    }
  });
  const x = new Float64Array(size);
  makeNonNegativeSolver(size).solve(
    { size, hessian, gradient, free: new Uint8Array(size) },
    x,
    new Uint8Array(size),
    false,
  );
  return x;
}

describe('the documentation of scipy.optimize.nnls', () => {
  const matrix = [
    [1, 0],
    [1, 0],
    [0, 1],
  ];

  test('b = (2, 1, 1) gives x = (1.5, 1), residual norm 0.7071067811865475', () => {
    const x = solve({ matrix, target: [2, 1, 1] });
    expect(Array.from(x)).toEqual([expect.closeTo(1.5, 12), expect.closeTo(1, 12)]);
    expect(Math.hypot(2 - x[0]!, 1 - x[0]!, 1 - x[1]!)).toBeCloseTo(Math.SQRT1_2, 12);
  });

  test('b = (-1, -1, -1) gives x = (0, 0)', () => {
    expect(Array.from(solve({ matrix, target: [-1, -1, -1] }))).toEqual([0, 0]);
  });
});

/** Sparse patterns of gases with weights that span six decades, as in spectra. */
function randomProblem(seed: number): DenseProblem {
  const random = seededRandom(seed);
  const rows = 40 + Math.floor(60 * random.uniform());
  const columns = 5 + Math.floor(40 * random.uniform());
  const plain = Array.from({ length: rows }, () => new Array<number>(columns).fill(0));
  for (let j = 0; j < columns; j++) {
    const peaks = 2 + Math.floor(9 * random.uniform());
    for (let k = 0; k < peaks; k++) plain[Math.floor(rows * random.uniform())]![j] = random.decades(0.01, 1);
  }
  const truth = Array.from({ length: columns }, () => (random.uniform() < 0.45 ? random.decades(1e-4, 1) : 0));
  const matrix: number[][] = [];
  const target: number[] = [];
  for (const row of plain) {
    const clean = row.reduce((sum, response, j) => sum + response * truth[j]!, 0);
    const sigma = Math.hypot(3e-6, 0.05 * clean);
    const seen = clean + sigma * random.normal();
    matrix.push(row.map((response) => response / sigma));
    target.push(seen / sigma);
  }
  return { matrix, target };
}

describe('scipy.optimize.nnls', () => {
  test('is installed, so that the comparison is made', () => {
    expect(
      scipyVersion(),
      'python3 with scipy is missing: install it (Debian: apt-get install python3-scipy)',
    ).not.toBe(null);
  });

  test('agrees on 1,000 random weighted problems to 1e-8, element by element', () => {
    const problems = Array.from({ length: 1000 }, (_, i) => randomProblem(10_000 + i));
    const { solutions } = scipyNnls(problems);
    let worst = 0;
    problems.forEach((problem, p) => {
      const ours = solve(problem);
      const theirs = solutions[p]!;
      const largest = Math.max(...theirs);
      theirs.forEach((value, j) => {
        const difference = Math.abs(ours[j]! - value);
        expect(difference, `problem ${p}, element ${j}: ${ours[j]} against ${value}`).toBeLessThanOrEqual(
          1e-8 * Math.max(Math.abs(value), 1e-7 * largest),
        );
        worst = Math.max(worst, difference / largest);
      });
    });
    expect(worst).toBeLessThan(1e-8);
  });
});
