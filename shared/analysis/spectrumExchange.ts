import { appendColumn, completeFactor, solveBack, takeOut } from './growingFactor.ts';
import type { AssemblyPlan } from './normalEquations.ts';
import { PASSIVE, seat } from './spectrumCandidates.ts';
import type { SpectrumRoom } from './spectrumRoom.ts';

/** Block exchanges without progress before the sure method takes over; 3 as in Portugal et al. */
const PATIENCE = 3;
const LEAVING = 1;

/** Block principal pivoting. True when the conditions hold; false when it gives up. */
export function exchangeBlocks(plan: AssemblyPlan, heights: Float64Array, room: SpectrumRoom): boolean {
  const { factor, seatState, trial } = room;
  const system = { stride: room.capacity, hessian: room.hessian, vector: room.seatVector };
  let fewest = plan.active.length + 1;
  let patience = PATIENCE;
  for (;;) {
    completeFactor(factor, system);
    solveBack(factor, trial);
    const leaving = markLeaving(plan, room);
    const entering = enterSeated(room);
    const wrong = leaving + (leaving + entering > 0 ? entering : enterUnseated(plan, heights, room));
    if (wrong === 0) return true;
    if (wrong < fewest) {
      fewest = wrong;
      patience = PATIENCE;
    } else if (patience-- <= 0) return false;
    if (leaving > 0) {
      takeOut(factor, seatState);
      for (let s = 0; s < room.seats; s++) if (seatState[s] === LEAVING) seatState[s] = 0;
    }
  }
}

function markLeaving({ free }: AssemblyPlan, { factor, seatPlace, seatState, trial }: SpectrumRoom): number {
  const { order, count } = factor;
  let wrong = 0;
  for (let k = 0; k < count; k++) {
    const s = order[k]!;
    if (trial[k]! > 0 || free[seatPlace[s]!] === 1) continue;
    seatState[s] = LEAVING;
    wrong++;
  }
  return wrong;
}

/** Candidates at zero whose gradient says that they should not be. Their elements of H are at hand. */
function enterSeated(room: SpectrumRoom): number {
  const { capacity, factor, hessian, seats, seatPlace, seatState, seatVector, trial, flat, inverseDiagonal } = room;
  const { order, count } = factor;
  let wrong = 0;
  for (let s = 0; s < seats; s++) {
    if (seatState[s] !== 0) continue;
    let slope = seatVector[s]!;
    const from = s * capacity;
    for (let k = 0; k < count; k++) slope -= trial[k]! * hessian[from + order[k]!]!;
    if (!(slope > 0 && slope * slope * inverseDiagonal[seatPlace[s]!]! > flat)) continue;
    seatState[s] = PASSIVE;
    appendColumn(factor, s);
    wrong++;
  }
  return wrong;
}

/** The same for the columns that are not candidates, from the residual. */
function enterUnseated(plan: AssemblyPlan, heights: Float64Array, room: SpectrumRoom): number {
  const { columnStart, entryRow, entryResponse, rowCount } = plan;
  const { weighted, factor, placeSeat, seatPlace, trial, rest, flat, inverseDiagonal } = room;
  for (let row = 0; row < rowCount; row++) rest[row] = heights[row]!;
  for (let k = 0; k < factor.count; k++) {
    const i = seatPlace[factor.order[k]!]!;
    const amount = trial[k]!;
    const end = columnStart[i + 1]!;
    for (let e = columnStart[i]!; e < end; e++) rest[entryRow[e]!]! -= amount * entryResponse[e]!;
  }
  let wrong = 0;
  const size = plan.active.length;
  for (let i = 0; i < size; i++) {
    if (placeSeat[i]! >= 0 || room.diagonal[i] === 0) continue;
    let slope = 0;
    const end = columnStart[i + 1]!;
    for (let e = columnStart[i]!; e < end; e++) slope += rest[entryRow[e]!]! * weighted[e]!;
    if (!(slope > 0 && slope * slope * inverseDiagonal[i]! > flat)) continue;
    seat(plan, room, i);
    const s = placeSeat[i]!;
    room.seatState[s] = PASSIVE;
    appendColumn(factor, s);
    wrong++;
  }
  return wrong;
}
