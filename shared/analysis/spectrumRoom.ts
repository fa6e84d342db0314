import { type GrowingFactor, makeGrowingFactor } from './growingFactor.ts';
import { makeNonNegativeSolver, type NonNegativeSolver } from './leastSquares.ts';
import type { AssemblyPlan, WeightedHeights } from './normalEquations.ts';
import { TOLERANCE } from './passiveSet.ts';

/** The problem of one spectrum with its weights in, and sweeps over its sparse columns. */

/** Steps somewhat too long need fewer sweeps (successive over-relaxation; D. M. Young 1954, from memory). */
export const OVER_RELAXATION = 1.1;

/**
 * "Place" is the position of a column in `plan.active`, "seat" its position among the candidates: those of which H is
 * assembled.
 */
export interface SpectrumRoom {
  readonly capacity: number;
  readonly factor: GrowingFactor;
  readonly sure: NonNegativeSolver;
  /** H of the candidates, symmetric, by seat; rows are `capacity` apart. */
  readonly hessian: Float64Array;
  readonly seatPlace: Int32Array;
  readonly placeSeat: Int32Array;
  seats: number;
  readonly seatVector: Float64Array;
  readonly seatAmount: Float64Array;
  readonly seatGradient: Float64Array;
  /** 0 at zero; 2 in the factor; 1 about to go from it to zero. */
  readonly seatState: Uint8Array;
  readonly diagonal: Float64Array;
  readonly inverseDiagonal: Float64Array;
  readonly vector: Float64Array;
  /** A gradient g with g² / H_ii below this breaks no condition. */
  flat: number;
  readonly trial: Float64Array;
  /** Per entry of the plan, response × weight. */
  weighted: Float64Array;
  /** Per row, height − A x. */
  rest: Float64Array;
}

export function makeSpectrumRoom(capacity: number): SpectrumRoom {
  const floats = () => new Float64Array(capacity);
  return {
    capacity,
    factor: makeGrowingFactor(capacity),
    sure: makeNonNegativeSolver(capacity),
    hessian: new Float64Array(capacity * capacity),
    seatPlace: new Int32Array(capacity),
    placeSeat: new Int32Array(capacity),
    seats: 0,
    seatVector: floats(),
    seatAmount: floats(),
    seatGradient: floats(),
    seatState: new Uint8Array(capacity),
    diagonal: floats(),
    inverseDiagonal: floats(),
    vector: floats(),
    flat: 0,
    trial: floats(),
    weighted: new Float64Array(0),
    rest: new Float64Array(0),
  };
}

/** Entries times the weight of their row; the diagonal of H, b, and what a gradient may be without being one. */
export function weigh(plan: AssemblyPlan, { heights, variance }: WeightedHeights, room: SpectrumRoom): void {
  const { columnStart, entryRow, entryResponse, rowCount, weight } = plan;
  if (room.rest.length < rowCount) room.rest = new Float64Array(rowCount);
  if (room.weighted.length < entryRow.length) room.weighted = new Float64Array(entryRow.length);
  const { weighted, rest, diagonal, inverseDiagonal, vector } = room;
  for (let row = 0; row < rowCount; row++) {
    weight[row] = 1 / variance[row]!;
    rest[row] = heights[row]!;
  }
  let steepest = 0;
  const size = plan.active.length;
  for (let i = 0; i < size; i++) {
    let square = 0;
    let product = 0;
    const end = columnStart[i + 1]!;
    for (let e = columnStart[i]!; e < end; e++) {
      const row = entryRow[e]!;
      const response = entryResponse[e]!;
      const entry = response * weight[row]!;
      weighted[e] = entry;
      square += entry * response;
      product += entry * rest[row]!;
    }
    const inverse = square > 0 ? 1 / square : 0;
    diagonal[i] = square;
    inverseDiagonal[i] = inverse;
    vector[i] = product;
    steepest = Math.max(steepest, product * product * inverse);
  }
  room.flat = TOLERANCE * TOLERANCE * steepest;
}

export function startFrom(plan: AssemblyPlan, room: SpectrumRoom, x: Float64Array): void {
  const { free, columnStart, entryRow, entryResponse } = plan;
  const { rest } = room;
  for (let i = 0; i < plan.active.length; i++) {
    if (!Number.isFinite(x[i]!) || room.diagonal[i] === 0 || (x[i]! < 0 && !free[i])) x[i] = 0;
    const amount = x[i]!;
    if (amount === 0) continue;
    const end = columnStart[i + 1]!;
    for (let e = columnStart[i]!; e < end; e++) rest[entryRow[e]!]! -= amount * entryResponse[e]!;
  }
}

/**
 * One sweep of coordinate descent (Gauss–Seidel with a bound). Loops are written out here and below: as functions
 * of a column they would take twice the time.
 */
export function descend(plan: AssemblyPlan, room: SpectrumRoom, x: Float64Array): void {
  const { free, columnStart, entryRow, entryResponse } = plan;
  const { inverseDiagonal, weighted, rest } = room;
  const size = plan.active.length;
  for (let i = 0; i < size; i++) {
    const old = x[i]!;
    const start = columnStart[i]!;
    const end = columnStart[i + 1]!;
    let slope = 0;
    for (let e = start; e < end; e++) slope += rest[entryRow[e]!]! * weighted[e]!;
    let next = old + OVER_RELAXATION * slope * inverseDiagonal[i]!;
    if (next < 0 && free[i] === 0) next = 0;
    const step = next - old;
    if (step === 0) continue;
    x[i] = next;
    for (let e = start; e < end; e++) rest[entryRow[e]!]! -= step * entryResponse[e]!;
  }
}
