/** Small peaks that the records leave out. */

/** From here on a peak that no record shows is one, and not noise. */
const OMITTED_SIGMAS = 3;
/** What a gas that is let in makes beside its records is in the spectrum of the state already, and grows with it: so many times. */
const GROWN = 3;

export interface Left {
  readonly rest: Float64Array;
  readonly variance: Float64Array;
  readonly dense: Float64Array;
  /** Of the background only peaks count as left out that none of its gases owns. */
  readonly isOwn: boolean;
  readonly amplitude: number;
  /** What is usual at each mass, where the state lets gas in; null: it does not. */
  readonly letIn: Float64Array | null;
}

/**
 * Only those that are there are allowed for, each at its own cost: a freedom given to every empty mass would cost a gas
 * more than it saves. `most`: what is left out is smaller.
 */
export function allowOmitted(omitted: Float64Array, left: Left, most: number): void {
  const { rest, variance, dense, isOwn, amplitude, letIn } = left;
  for (let m = 1; m < rest.length; m++) {
    if (isOwn && dense[m] !== 0) continue;
    const square = rest[m]! ** 2;
    const room = isOwn && letIn ? Math.min(most, GROWN * amplitude * Math.max(0, letIn[m]!)) : most;
    if (square > OMITTED_SIGMAS ** 2 * variance[m]! && Math.abs(rest[m]!) < room) omitted[m] = square;
  }
}
