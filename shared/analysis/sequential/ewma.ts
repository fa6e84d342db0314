/**
 * Exponentially weighted moving averages: S. W. Roberts, Technometrics 1 (1959) 239. Average run lengths by the integral
 * equation of S. V. Crowder, Technometrics 29 (1987) 401, for independent normal values and fixed limits.
 */
import { gaussLegendre, solveForOnes } from './integralEquation.ts';
import { normalDensity } from './normal.ts';

export interface EwmaDesign {
  /** λ: weight of the newest value, 0 < λ ≤ 1. */
  readonly weight: number;
  /** L: half width of the limits in standard deviations of the average. */
  readonly width: number;
}

export const advanceEwma = (average: number, value: number, { weight }: EwmaDesign): number =>
  weight * value + (1 - weight) * average;

/**
 * Distance of a limit from the target, in the standard deviation of one value.
 *
 * @param values since the start; absent: the limit after many
 */
export function ewmaLimit({ weight, width }: EwmaDesign, values = Number.POSITIVE_INFINITY): number {
  return width * Math.sqrt((weight / (2 - weight)) * (1 - (1 - weight) ** (2 * values)));
}

const NODES = 90;

/**
 * Mean number of values to a signal on either side, limits fixed from the start, average started at the target.
 *
 * @param shift mean of the values, in standard deviations
 */
export function averageRunLengthOfEwma(design: EwmaDesign, shift: number): number {
  const { weight } = design;
  const limit = ewmaLimit(design);
  const { nodes, weights } = gaussLegendre(NODES, -limit, limit);
  const chance = (from: number, to: number) => normalDensity((to - (1 - weight) * from) / weight - shift) / weight;
  const kernel = new Float64Array(NODES * NODES);
  for (let i = 0; i < NODES; i++) {
    for (let j = 0; j < NODES; j++) kernel[i * NODES + j] = weights[j]! * chance(nodes[i]!, nodes[j]!);
  }
  const lengths = solveForOnes(kernel, NODES);
  return lengths.reduce((sum, length, j) => sum + weights[j]! * chance(0, nodes[j]!) * length, 1);
}
