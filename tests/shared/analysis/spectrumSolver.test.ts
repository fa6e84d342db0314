/**
 * The solver for spectra (spectrumSolver.ts with spectrumRoom.ts, spectrumCandidates.ts, spectrumExchange.ts and
 * growingFactor.ts) against the dense one and against the conditions that define the answer. scipy: tests/reference.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Column } from '../../../shared/analysis/columns.ts';
import { type Design, joinColumns } from '../../../shared/analysis/design.ts';
import {
  appendColumn,
  completeFactor,
  makeGrowingFactor,
  solveBack,
  takeOut,
} from '../../../shared/analysis/growingFactor.ts';
import { makeNonNegativeSolver } from '../../../shared/analysis/leastSquares.ts';
import { assemble, planAssembly, type WeightedHeights } from '../../../shared/analysis/normalEquations.ts';
import { chooseCandidates, choosePassive } from '../../../shared/analysis/spectrumCandidates.ts';
import { exchangeBlocks } from '../../../shared/analysis/spectrumExchange.ts';
import { makeSpectrumRoom, weigh } from '../../../shared/analysis/spectrumRoom.ts';
import { makeSpectrumSolver } from '../../../shared/analysis/spectrumSolver.ts';
import { type Random, seededRandom } from '../../support/instrument.ts';

const columnOf = (id: string, entries: readonly (readonly [row: number, response: number])[]): Column =>
  ({
    id,
    rows: Int32Array.from(entries, ([row]) => row),
    response: Float64Array.from(entries, ([, response]) => response),
    relativeError: new Float64Array(entries.length),
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
  }) as Column;

function randomDesign(random: Random, size: number, rows: number, freeLast: boolean): Design {
  const columns = Array.from({ length: size }, (_, j) => {
    const chosen = Array.from({ length: rows }, (_, m) => m).filter(() => random.uniform() < 0.2);
    return columnOf(
      String(j),
      (chosen.length > 0 ? chosen : [j % rows]).map((m) => [m, random.decades(0.01, 1)] as const),
    );
  });
  const masses = Array.from({ length: rows }, (_, m) => m + 1);
  const last = columns.at(-1) as Column;
  return joinColumns(masses, columns.slice(0, -1), [{ column: last, free: freeLast }]);
}

const everything = (design: Design) =>
  planAssembly(
    design,
    Int32Array.from(design.columns, (_, j) => j),
  );

function spectrumOf(random: Random, rows: number): WeightedHeights {
  return {
    heights: Float64Array.from({ length: rows }, () => random.normal() * random.decades(1e-4, 1)),
    variance: Float64Array.from({ length: rows }, () => random.decades(1e-8, 1e-2)),
  };
}

function denseAnswer(design: Design, spectrum: WeightedHeights) {
  const size = design.columns.length;
  const plan = everything(design);
  const hessian = new Float64Array(size * size);
  const gradient = new Float64Array(size);
  assemble(plan, spectrum, hessian, gradient);
  const x = new Float64Array(size);
  const passive = new Uint8Array(size);
  makeNonNegativeSolver(size).solve({ size, hessian, gradient, free: plan.free }, x, passive, false);
  return { x, passive };
}

describe('solver for spectra', () => {
  test('gives the answer of the dense solver, cold and warm from anywhere', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 2, max: 40 }),
        fc.boolean(),
        (seed, size, freeLast) => {
          const random = seededRandom(seed);
          const design = randomDesign(random, size, 2 * size + 5, freeLast);
          const spectrum = spectrumOf(random, 2 * size + 5);
          const expected = denseAnswer(design, spectrum);
          const largest = Math.max(1e-6, ...expected.x.map(Math.abs));
          const solver = makeSpectrumSolver(size);
          const starts = [null, Float64Array.from({ length: size }, () => random.normal()), expected.x];
          for (const start of starts) {
            const x = start?.slice() ?? new Float64Array(size).fill(7);
            const passive = new Uint8Array(size);
            solver.solve(everything(design), spectrum, x, { passive, warm: start !== null });
            expected.x.forEach((value, i) => {
              expect(Math.abs(x[i]! - value)).toBeLessThan(1e-8 * largest);
            });
            expect(Array.from(passive)).toEqual(Array.from(expected.passive));
          }
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });

  test('a start that is not a number is forgotten', () => {
    const random = seededRandom(3);
    const design = randomDesign(random, 12, 40, false);
    const spectrum = spectrumOf(random, 40);
    const x = new Float64Array(12).fill(Number.NaN);
    makeSpectrumSolver(12).solve(everything(design), spectrum, x, { passive: new Uint8Array(12), warm: true });
    denseAnswer(design, spectrum).x.forEach((value, i) => {
      expect(x[i]).toBeCloseTo(value, 9);
    });
  });

  test('one solver serves plans of all sizes: nothing stays behind', () => {
    const solver = makeSpectrumSolver(30);
    for (const size of [30, 4, 17, 2, 29]) {
      const random = seededRandom(size);
      const design = randomDesign(random, size, 50, false);
      const spectrum = spectrumOf(random, 50);
      const x = new Float64Array(30);
      solver.solve(everything(design), spectrum, x, { passive: new Uint8Array(30), warm: false });
      denseAnswer(design, spectrum).x.forEach((value, i) => {
        expect(x[i]).toBeCloseTo(value, 9);
      });
    }
  });

  test('two identical columns share and do not explode; a column without response stays out', () => {
    const twin: [number, number][] = [
      [0, 1],
      [1, 0.5],
    ];
    const columns = [columnOf('a', twin), columnOf('b', twin), columnOf('c', [[2, 0]])];
    const design = joinColumns([1, 2, 3], columns, []);
    const x = new Float64Array(3);
    const spectrum = { heights: Float64Array.of(2, 1, 0.3), variance: Float64Array.of(1e-4, 1e-4, 1e-4) };
    makeSpectrumSolver(3).solve(everything(design), spectrum, x, { passive: new Uint8Array(3), warm: false });
    expect(x[0]! + x[1]!).toBeCloseTo(2, 6);
    expect(Math.min(x[0]!, x[1]!)).toBeGreaterThanOrEqual(0);
    expect(x[2]).toBe(0);
  });

  test('scaling heights and their deviations scales the answer, over sixty decades', () => {
    const random = seededRandom(9);
    const design = randomDesign(random, 15, 40, false);
    const spectrum = spectrumOf(random, 40);
    const expected = denseAnswer(design, spectrum).x;
    for (const factor of [1e-30, 1e-12, 1e30]) {
      const x = new Float64Array(15);
      const scaled = {
        heights: spectrum.heights.map((height) => height * factor),
        variance: spectrum.variance.map((variance) => variance * factor ** 2),
      };
      makeSpectrumSolver(15).solve(everything(design), scaled, x, { passive: new Uint8Array(15), warm: false });
      expected.forEach((value, i) => {
        expect(x[i]! / factor).toBeCloseTo(value, 9);
      });
    }
  });

  test('blocks are exchanged until the conditions hold, however bad the first guess', () => {
    let ended = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const random = seededRandom(seed);
      const design = randomDesign(random, 20, 60, false);
      const plan = everything(design);
      const spectrum = spectrumOf(random, 60);
      const room = makeSpectrumRoom(20);
      weigh(plan, spectrum, room);
      chooseCandidates(plan, room, new Float64Array(20).fill(1));
      choosePassive(plan, room);
      if (!exchangeBlocks(plan, spectrum.heights, room)) continue;
      ended++;
      const { x } = denseAnswer(design, spectrum);
      for (let k = 0; k < room.factor.count; k++) {
        expect(room.trial[k]).toBeCloseTo(x[room.seatPlace[room.factor.order[k]!]!]!, 8);
      }
      expect(room.factor.count).toBe(x.filter((value) => value > 0).length);
    }
    // What gives up goes to the sure method; that is rare.
    expect(ended).toBeGreaterThan(50);
  });
});

test('a factor that grows and shrinks solves what remains', () => {
  const random = seededRandom(21);
  const n = 18;
  const rows = Array.from({ length: 40 }, () =>
    Array.from({ length: n }, () => (random.uniform() < 0.3 ? random.normal() : 0)),
  );
  const hessian = new Float64Array(n * n);
  for (const row of rows)
    for (let i = 0; i < n; i++) for (let k = 0; k < n; k++) hessian[i * n + k]! += row[i]! * row[k]!;
  for (let i = 0; i < n; i++) hessian[i * n + i]! += 0.1;
  const vector = Float64Array.from({ length: n }, () => random.normal());
  const factor = makeGrowingFactor(n);
  const solution = new Float64Array(n);
  const check = () => {
    completeFactor(factor, { hessian, stride: n, vector });
    solveBack(factor, solution);
    for (let i = 0; i < factor.count; i++) {
      const at = factor.order[i]!;
      let sum = 0;
      for (let k = 0; k < factor.count; k++) sum += hessian[at * n + factor.order[k]!]! * solution[k]!;
      expect(sum).toBeCloseTo(vector[at]!, 10);
    }
  };
  for (let i = 0; i < n; i += 2) appendColumn(factor, i);
  check();
  takeOut(
    factor,
    Uint8Array.from({ length: n }, (_, i) => (i % 6 === 0 ? 1 : 0)),
  );
  check();
  for (let i = 1; i < n; i += 2) appendColumn(factor, i);
  takeOut(
    factor,
    Uint8Array.from({ length: n }, (_, i) => (i === 2 ? 1 : 0)),
  );
  check();
  expect(Array.from(factor.order.subarray(0, factor.count))).toEqual([4, 8, 10, 14, 16, 1, 3, 5, 7, 9, 11, 13, 15, 17]);
});
