import { AIR_RATIOS } from '../../catalogue/air.ts';
import { sayShare } from '../say.ts';
import type { OwnMasses } from './ownMasses.ts';
import type { PooledScan } from './pooledScans.ts';
import type { Rest } from './restGas.ts';

/**
 * Was it the pure gas? Judged by its share of the ion signal, in every scan: a marked period easily takes in the minute
 * before the valve was opened. Dry air passes as nitrogen: oxygen and argon in the ratio of air have peaks of their own
 * and leave those of nitrogen alone.
 */
export interface Purity {
  /** Of the whole ion signal without foot and zero. */
  readonly share: number;
  /** Oxygen and argon stand to nitrogen as in air. */
  readonly air: boolean;
}

/** Less than this and somebody marked the wrong scans, or the dose was too small to learn from. */
export const LEAST_SHARE = 0.9;
/** A peak without a known gas counts from here on. */
const SEEN_SIGMAS = 3;
/** Pumps and filaments take oxygen, sensitivities differ: the ratios of air are met within this factor. */
const AIR_WITHIN = 2;
/** Oxygen below this share of nitrogen is a trace, not air. */
const LEAST_OXYGEN = 0.05;

export interface PurityQuestion {
  readonly gas: string;
  /** What a pascal of the gas gives at its largest peak, N2-equivalent. */
  readonly response: number;
  readonly masses: readonly number[];
  readonly own: OwnMasses;
}

export function purityOf({ heights, variance }: PooledScan, rest: Rest, question: PurityQuestion): Purity {
  const { masses, own } = question;
  const largest = masses.reduce(
    (top, mass, row) => (own.listed.has(mass) ? Math.max(top, heights[row]! - rest.height[row]!) : top),
    0,
  );
  const air = question.gas === 'N2' && isAir(rest.amounts, largest / question.response);
  let gas = 0;
  let others = 0;
  masses.forEach((mass, row) => {
    const foreignPart = heights[row]! - (rest.height[row]! - rest.gas[row]!);
    if (own.listed.has(mass)) {
      gas += Math.max(0, heights[row]! - rest.height[row]!);
      others += rest.gas[row]!;
    } else if (foreignPart > SEEN_SIGMAS * Math.sqrt(variance[row]!)) {
      const allowed = (own.near.get(mass) ?? (mass < own.silentBelow ? Number.POSITIVE_INFINITY : 0)) * largest;
      others += Math.max(0, foreignPart - allowed);
    }
  });
  if (air) others -= ofAir(masses, heights, rest);
  const whole = gas + Math.max(0, others);
  return { share: whole > 0 ? gas / whole : 0, air };
}

function isAir(amounts: ReadonlyMap<string, number>, nitrogen: number): boolean {
  const oxygen = (amounts.get('O2') ?? 0) / nitrogen;
  const argon = (amounts.get('Ar') ?? 0) / nitrogen;
  const near = (value: number, expected: number) => value > expected / AIR_WITHIN && value < expected * AIR_WITHIN;
  return (
    oxygen > LEAST_OXYGEN &&
    oxygen < AIR_WITHIN / AIR_RATIOS.nitrogenToOxygen &&
    near(argon, AIR_RATIOS.argonToNitrogen)
  );
}

/** Peaks of oxygen and argon away from those of nitrogen. */
const AIR_PEAKS = [16, 20, 32, 34, 36, 40];
function ofAir(masses: readonly number[], heights: Float64Array, rest: Rest): number {
  return masses.reduce(
    (sum, mass, row) => (AIR_PEAKS.includes(mass) ? sum + Math.min(heights[row]!, rest.gas[row]!) : sum),
    0,
  );
}

/** A sentence when the gas is not pure in some of the scans; null when it is in all. */
export function impurity(name: string, found: readonly Purity[], largestOther: string | null): string | null {
  const poor = found.filter(({ share }) => share < LEAST_SHARE).length;
  if (poor === 0) return null;
  const least = Math.min(...found.map(({ share }) => share));
  const where = poor === found.length ? 'in all scans' : `in ${poor} of ${found.length} scans`;
  const beside = largestOther === null ? '' : `, beside ${largestOther}`;
  return `This is not pure ${name}: it makes less than ${sayShare(LEAST_SHARE)} of the signal ${where} (down to ${sayShare(least)}${beside}). Mark only scans in which the gas was let in and stood far above everything else.`;
}
