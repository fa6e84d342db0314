/**
 * Cumulative sums against a reference value: E. S. Page, Biometrika 41 (1954) 100; with a head start so that a fault
 * which is there from the beginning is seen early: J. M. Lucas and R. B. Crosier, Technometrics 24 (1982) 199.
 *
 * Average run lengths solve an integral equation with an atom at zero (Page; D. A. Evans and K. W. Brook, Biometrika 59
 * (1972) 539 take a Markov chain instead). They hold for independent normal values of unit variance. Values that remember
 * each other give several times the false alarms: see `simulatedRunLength`.
 */
import { gaussLegendre, solveForOnes } from './integralEquation.ts';
import { normalCumulative, normalDensity } from './normal.ts';

/** In the units of the values; for run lengths in their standard deviations. */
export interface CusumDesign {
  /** k: half of the shift that is to be found soonest. */
  readonly reference: number;
  /** h: a sum beyond it signals. */
  readonly interval: number;
  /** Where the sums begin; 0 when absent. h / 2 is the usual head start. */
  readonly headStart?: number;
}

export interface CusumSums {
  readonly high: number;
  readonly low: number;
}

export const startCusum = ({ headStart = 0 }: CusumDesign): CusumSums => ({ high: headStart, low: headStart });

/** @param deviation value minus target */
export const advanceCusum = ({ high, low }: CusumSums, deviation: number, { reference }: CusumDesign): CusumSums => ({
  high: Math.max(0, high + deviation - reference),
  low: Math.max(0, low - deviation - reference),
});

export const cusumSignals = ({ high, low }: CusumSums, { interval }: CusumDesign): boolean =>
  high > interval || low > interval;

/** Enough for 9 digits with intervals up to 15. */
const NODES = 90;

/**
 * Mean number of values to a signal of the upper sum alone.
 *
 * @param shift mean of the values, in standard deviations
 */
export function averageRunLengthOfCusum({ reference, interval, headStart = 0 }: CusumDesign, shift: number): number {
  const { nodes, weights } = gaussLegendre(NODES, 0, interval);
  const size = NODES + 1;
  const drift = reference - shift;
  const from = (at: number) => (at === 0 ? 0 : nodes[at - 1]!);
  const kernel = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    kernel[i * size] = normalCumulative(drift - from(i));
    for (let j = 1; j < size; j++) {
      kernel[i * size + j] = weights[j - 1]! * normalDensity(nodes[j - 1]! + drift - from(i));
    }
  }
  const lengths = solveForOnes(kernel, size);
  if (headStart === 0) return lengths[0]!;
  let sum = 1 + lengths[0]! * normalCumulative(drift - headStart);
  for (let j = 0; j < NODES; j++) sum += weights[j]! * normalDensity(nodes[j]! + drift - headStart) * lengths[j + 1]!;
  return sum;
}

/**
 * Mean number of values to a signal of either sum. From the two one-sided schemes, which is exact as long as both
 * cannot be above zero and near a signal at once: Lucas and Crosier 1982, equation for head starts; without one it is
 * 1/ARL = 1/ARL⁺ + 1/ARL⁻ (C. Kemp 1961, quoted there).
 */
export function averageRunLengthOfTwoSidedCusum(design: CusumDesign, shift: number): number {
  const plain = { ...design, headStart: 0 };
  const up = averageRunLengthOfCusum(plain, shift);
  const down = averageRunLengthOfCusum(plain, -shift);
  if (!design.headStart) return 1 / (1 / up + 1 / down);
  const upFast = averageRunLengthOfCusum(design, shift);
  const downFast = averageRunLengthOfCusum(design, -shift);
  return (upFast * down + downFast * up - up * down) / (up + down);
}
