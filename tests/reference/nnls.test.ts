/**
 * Non-negative least squares against outside answers.
 *
 * - Two small cases from the documentation of scipy.optimize.nnls, typed in as literals.
 * - `scipy.optimize.nnls` itself on 1,000 random weighted problems, element by element to 1e-8 of the element (of 1e-7 of
 *   the largest where an element is smaller than that), for both of our solvers. python3 with scipy is needed (Debian:
 *   python3-scipy); without it the test fails and says so. Every version that is found is asked.
 */
import { describe, expect, test } from 'vitest';
import type { Column } from '../../shared/analysis/columns.ts';
import { joinColumns } from '../../shared/analysis/design.ts';
import { makeNonNegativeSolver } from '../../shared/analysis/leastSquares.ts';
import { planAssembly } from '../../shared/analysis/normalEquations.ts';
import { makeSpectrumSolver } from '../../shared/analysis/spectrumSolver.ts';
import { seededRandom } from '../support/instrument.ts';
import { type DenseProblem, scipyNnls, scipys } from '../support/scipy.ts';

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

interface WeightedProblem extends DenseProblem {
  /** The same before weights: rows of responses, heights, and one standard deviation per row. */
  readonly responses: readonly (readonly number[])[];
  readonly heights: readonly number[];
  readonly sigmas: readonly number[];
}

/** The solver for spectra, which is given the weights apart. */
function solveSpectrum({ responses, heights, sigmas }: WeightedProblem, warm: boolean): Float64Array {
  const columns = responses[0]!.map((_, j): Column => {
    const rows = responses.flatMap((row, m) => (row[j]! > 0 ? [m] : []));
    return {
      id: String(j),
      rows: Int32Array.from(rows),
      response: Float64Array.from(rows, (m) => responses[m]![j]!),
      relativeError: new Float64Array(rows.length),
      peakResponse: 1,
      referenceMass: 1,
      referencePlace: 0,
      sensitivityError: 0,
      gaugeFactor: 1,
      omittedShare: 0,
      lastRow: -1,
      unlisted: [],
      catalogueError: 0,
      isProtected: false,
      reportable: true,
      seenShare: 1,
    } as Column;
  });
  const design = joinColumns(
    heights.map((_, m) => m + 1),
    columns,
    [],
  );
  const plan = planAssembly(
    design,
    Int32Array.from(columns, (_, j) => j),
  );
  const x = new Float64Array(columns.length).fill(warm ? 0.01 : 0);
  const spectrum = { heights: Float64Array.from(heights), variance: Float64Array.from(sigmas, (sigma) => sigma ** 2) };
  makeSpectrumSolver(columns.length).solve(plan, spectrum, x, { passive: new Uint8Array(columns.length), warm });
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
function randomProblem(seed: number): WeightedProblem {
  const random = seededRandom(seed);
  const rows = 40 + Math.floor(60 * random.uniform());
  const columns = 5 + Math.floor(40 * random.uniform());
  const plain = Array.from({ length: rows }, () => new Array<number>(columns).fill(0));
  for (let j = 0; j < columns; j++) {
    const peaks = 2 + Math.floor(9 * random.uniform());
    for (let k = 0; k < peaks; k++) plain[Math.floor(rows * random.uniform())]![j] = random.decades(0.01, 1);
  }
  const truth = Array.from({ length: columns }, () => (random.uniform() < 0.45 ? random.decades(1e-4, 1) : 0));
  const clean = plain.map((row) => row.reduce((sum, response, j) => sum + response * truth[j]!, 0));
  const sigmas = clean.map((height) => Math.hypot(3e-6, 0.05 * height));
  const heights = clean.map((height, m) => height + sigmas[m]! * random.normal());
  return {
    responses: plain,
    heights,
    sigmas,
    matrix: plain.map((row, m) => row.map((response) => response / sigmas[m]!)),
    target: heights.map((height, m) => height / sigmas[m]!),
  };
}

/** Largest difference of an element, relative to it or to 1e-7 of the largest. */
function worstOf(ours: Float64Array, theirs: readonly number[]): number {
  const largest = Math.max(...theirs);
  return Math.max(
    ...theirs.map((value, j) => Math.abs(ours[j]! - value) / Math.max(Math.abs(value), 1e-7 * largest, 1e-300)),
  );
}

const problems = Array.from({ length: 1000 }, (_, i) => randomProblem(10_000 + i));

describe('scipy.optimize.nnls', () => {
  test('is installed, so that the comparison is made', () => {
    expect(scipys(), 'python3 with scipy is missing: install it (Debian: apt-get install python3-scipy)').not.toEqual(
      [],
    );
  });

  test('agrees on 1,000 random weighted problems to 1e-8, element by element', () => {
    for (const scipy of scipys()) {
      const { solutions } = scipyNnls(problems, 0, scipy);
      problems.forEach((problem, p) => {
        const theirs = solutions[p]!;
        expect(worstOf(solve(problem), theirs), `scipy ${scipy.version}, problem ${p}`).toBeLessThanOrEqual(1e-8);
        for (const warm of [false, true]) {
          const worst = worstOf(solveSpectrum(problem, warm), theirs);
          expect(worst, `spectra, scipy ${scipy.version}, problem ${p}, warm ${warm}`).toBeLessThanOrEqual(1e-8);
        }
      });
    }
  });
});
