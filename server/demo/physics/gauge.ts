import { chanceFrom, driftAt, seedOf } from '../random.ts';
import { GAUGE_FACTOR, type PerGas, WORLD_GASES } from './gases.ts';

/** Spread between gauges of one make: ±15 % is the published figure for relative sensitivities; a calibrated gauge does better. */
const GAUGE_SPREAD = 0.08;
const READING_NOISE = 0.004;
const DRIFT_SHARE = 0.01;
const DRIFT_HOURS = 90;

/** What the chamber's ionisation gauge shows, as nitrogen, Pa: its own error, a slow drift and the last digit's flicker. */
export function gaugeReadingPa(chamber: string, partialPa: PerGas, atMs: number): number {
  const seed = seedOf('gauge', chamber);
  const own = Math.exp(GAUGE_SPREAD * Math.max(-2, Math.min(2, chanceFrom(seed).normal())));
  const drift = DRIFT_SHARE * driftAt(seed, atMs, DRIFT_HOURS);
  const flicker = READING_NOISE * chanceFrom(seedOf('gauge', chamber, atMs)).normal();
  const asNitrogen = WORLD_GASES.reduce((sum, gas) => sum + partialPa[gas] * GAUGE_FACTOR[gas], 0);
  return asNitrogen * own * Math.exp(drift + flicker);
}
