import type { ScanAnalysis } from '../types.ts';
import { short } from './memory.ts';

/**
 * A gas that keeps a constant share of a larger one whose peaks it overlaps, while that one moves, may be no gas: a
 * fragment that is stronger on this analyser than in the records makes the same phantom in every scan, for ever. A gas
 * that really comes with another one cannot be told from it by this; it is a remark, and the gas stays reported.
 */
export interface LookAlikeMemory {
  readonly scans: number;
  readonly pairs: readonly PairMemory[];
}

interface PairMemory {
  readonly gas: string;
  readonly parent: string;
  /** Scans since the two were first seen together, and those in which the gas was detected. */
  readonly scans: number;
  readonly seen: number;
  /** ln(gas / parent): mean and variance. */
  readonly mean: number;
  readonly variance: number;
  /** ln(parent): mean, variance, and the range of its smoothed course. */
  readonly parentMean: number;
  readonly parentVariance: number;
  readonly level: number;
  readonly low: number;
  readonly high: number;
}

export interface LookAlike {
  readonly gas: string;
  readonly parent: string;
  /** Usual share of the parent. */
  readonly ratio: number;
  readonly scans: number;
}

/** Gases that are in every residual gas: their presence needs no such doubt. */
const EVERYWHERE: ReadonlySet<string> = new Set(['H2', 'He', 'CH4', 'NH3', 'H2O', 'CO', 'N2', 'O2', 'Ar', 'CO2']);
const PAIRS_KEPT = 8;
/** Share of a peak that must be the gas's, and the parent's, for the two to overlap there. */
const GAS_SHARE = 0.05;
const PARENT_SHARE = 0.02;
const SCANS_REMEMBERED = 500;
const SCANS_NEEDED = 60;
const SEEN_SHARE = 0.7;
const FORGET_SHARE = 0.4;
/** The parent must have moved by half, and the ratio held within a fifth and within half of the parent's own movement. */
const PARENT_RANGE = Math.log(1.5);
const RATIO_SPREAD = 0.2;
const SPREAD_OF_PARENT = 0.5;
const LEVEL_SHARE = 0.3;

export function learnLookAlikes(memory: LookAlikeMemory, { gases, peaks }: ScanAnalysis): LookAlikeMemory {
  const amounts = new Map<string, number>();
  for (const { gas, valuePa, detected } of gases) if (detected && valuePa > 0) amounts.set(gas, valuePa);
  const known = memory.pairs.map((pair) => followed(pair, amounts));
  const pairs = known.filter(({ scans, seen }) => scans < SCANS_NEEDED || seen >= FORGET_SHARE * scans);
  for (const [gas, amount] of amounts) {
    if (EVERYWHERE.has(gas)) continue;
    for (const parent of overlapping(gas, peaks)) {
      const larger = amounts.get(parent);
      if (larger === undefined || larger <= amount || pairs.length >= PAIRS_KEPT) continue;
      if (pairs.some((pair) => pair.gas === gas && pair.parent === parent)) continue;
      pairs.push(begin(gas, parent, Math.log(amount / larger), Math.log(larger)));
    }
  }
  return { scans: memory.scans + 1, pairs };
}

function overlapping(gas: string, peaks: ScanAnalysis['peaks']): Set<string> {
  const parents = new Set<string>();
  for (const { parts } of peaks) {
    if (!parts.some((part) => part.gas === gas && part.share >= GAS_SHARE)) continue;
    for (const part of parts) if (part.gas !== gas && part.share >= PARENT_SHARE) parents.add(part.gas);
  }
  return parents;
}

const begin = (gas: string, parent: string, ratio: number, level: number): PairMemory => ({
  gas,
  parent,
  scans: 1,
  seen: 1,
  mean: short(ratio, 6),
  variance: 0,
  parentMean: short(level, 7),
  parentVariance: 0,
  level: short(level, 7),
  low: short(level, 7),
  high: short(level, 7),
});

function followed(pair: PairMemory, amounts: ReadonlyMap<string, number>): PairMemory {
  const aged = pair.scans >= 2 * SCANS_REMEMBERED ? 0.5 : 1;
  const counted = { ...pair, scans: Math.round(pair.scans * aged) + 1, seen: Math.round(pair.seen * aged) };
  const amount = amounts.get(pair.gas);
  const larger = amounts.get(pair.parent);
  if (amount === undefined || larger === undefined) return counted;
  const share = 1 / Math.min(counted.seen + 1, SCANS_REMEMBERED);
  const ratio = Math.log(amount / larger) - pair.mean;
  const parent = Math.log(larger) - pair.parentMean;
  const level = pair.level + LEVEL_SHARE * (Math.log(larger) - pair.level);
  return {
    ...counted,
    seen: counted.seen + 1,
    mean: short(pair.mean + share * ratio, 6),
    variance: short((1 - share) * (pair.variance + share * ratio ** 2), 5),
    parentMean: short(pair.parentMean + share * parent, 7),
    parentVariance: short((1 - share) * (pair.parentVariance + share * parent ** 2), 5),
    level: short(level, 7),
    low: short(Math.min(pair.low, level), 7),
    high: short(Math.max(pair.high, level), 7),
  };
}

export const knownLookAlikes = ({ pairs }: LookAlikeMemory): LookAlike[] =>
  pairs
    .filter(({ scans, seen, variance, parentVariance, low, high }) => {
      const spread = Math.sqrt(variance);
      const often = seen >= SCANS_NEEDED && seen >= SEEN_SHARE * scans;
      const moved = high - low >= PARENT_RANGE;
      return often && moved && spread <= RATIO_SPREAD && spread <= SPREAD_OF_PARENT * Math.sqrt(parentVariance);
    })
    .map(({ gas, parent, mean, seen }) => ({ gas, parent, ratio: short(Math.exp(mean), 4), scans: seen }));
