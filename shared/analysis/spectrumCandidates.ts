import { appendColumn, emptyFactor } from './growingFactor.ts';
import type { AssemblyPlan } from './normalEquations.ts';
import { OVER_RELAXATION, type SpectrumRoom } from './spectrumRoom.ts';

/** The candidates for the passive set: few enough that H is assembled for them. */

export const PASSIVE = 2;

/** Seats every column that the sweeps left away from zero; amounts and gradients by seat. */
export function chooseCandidates(plan: AssemblyPlan, room: SpectrumRoom, x: Float64Array): void {
  const { free, columnStart, entryRow, sparseFirst } = plan;
  const { weighted, rest, placeSeat, seatAmount, seatGradient } = room;
  const size = plan.active.length;
  room.seats = 0;
  for (let at = 0; at < size; at++) {
    const i = sparseFirst[at]!;
    placeSeat[i] = -1;
    if (room.diagonal[i] === 0 || (x[i] === 0 && free[i] === 0)) continue;
    let slope = 0;
    const end = columnStart[i + 1]!;
    for (let e = columnStart[i]!; e < end; e++) slope += rest[entryRow[e]!]! * weighted[e]!;
    seatAmount[room.seats] = x[i]!;
    seatGradient[room.seats] = slope;
    seat(plan, room, i);
  }
}

/** Makes a column a candidate: assembles its elements of H with those that are already seated. */
export function seat(plan: AssemblyPlan, room: SpectrumRoom, i: number): void {
  const { pairStart, productRow, product, weight } = plan;
  const { capacity, hessian, seatPlace, seats } = room;
  for (let other = 0; other < seats; other++) {
    const k = seatPlace[other]!;
    const pair = k < i ? (i * (i + 1)) / 2 + k : (k * (k + 1)) / 2 + i;
    let sum = 0;
    const end = pairStart[pair + 1]!;
    for (let e = pairStart[pair]!; e < end; e++) sum += product[e]! * weight[productRow[e]!]!;
    hessian[seats * capacity + other] = sum;
    hessian[other * capacity + seats] = sum;
  }
  hessian[seats * capacity + seats] = room.diagonal[i]!;
  room.seatVector[seats] = room.vector[i]!;
  seatPlace[seats] = i;
  room.placeSeat[i] = seats;
  room.seats = seats + 1;
}

/** A sweep of coordinate descent over the candidates, two at a time: H is there, so gradients are kept up to date. */
export function descendCandidates(plan: AssemblyPlan, room: SpectrumRoom): void {
  const { capacity, hessian, seats, seatGradient } = room;
  for (let s = 0; s < seats; s += 2) {
    const from = s * capacity;
    const first = stepOf(plan, room, s);
    let second = 0;
    if (s + 1 < seats) {
      seatGradient[s + 1]! -= first * hessian[from + s + 1]!;
      second = stepOf(plan, room, s + 1);
      seatGradient[s + 1]! += first * hessian[from + s + 1]!;
    }
    if (first === 0 && second === 0) continue;
    const next = from + capacity;
    for (let k = 0; k < seats; k++) seatGradient[k]! -= first * hessian[from + k]! + second * hessian[next + k]!;
  }
}

/** Moves one candidate and says how far; the gradients stay as they are. */
function stepOf({ free }: AssemblyPlan, room: SpectrumRoom, s: number): number {
  const { seatPlace, seatAmount, seatGradient, inverseDiagonal } = room;
  const i = seatPlace[s]!;
  const old = seatAmount[s]!;
  const next = old + OVER_RELAXATION * seatGradient[s]! * inverseDiagonal[i]!;
  seatAmount[s] = next < 0 && free[i] === 0 ? 0 : next;
  return seatAmount[s]! - old;
}

/** Candidates above zero make the first passive set. */
export function choosePassive(
  { free }: AssemblyPlan,
  { factor, seats, seatPlace, seatAmount, seatState }: SpectrumRoom,
): void {
  emptyFactor(factor);
  for (let s = 0; s < seats; s++) {
    const chosen = seatAmount[s]! > 0 || free[seatPlace[s]!] === 1;
    seatState[s] = chosen ? PASSIVE : 0;
    if (chosen) appendColumn(factor, s);
  }
}
