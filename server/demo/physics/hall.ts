import { driftAt, seedOf } from '../random.ts';

export interface HallClimate {
  readonly seed: string;
  readonly meanCelsius: number;
  /** Half of the swing between the warmest and the coldest hour of a day. */
  readonly dailyKelvin: number;
  /** Weather and people: a slow wander on top. */
  readonly wanderKelvin: number;
}

const DAY_MS = 86_400_000;
/** The warmest hour, UTC. */
const WARMEST_HOUR = 15.5;
const WANDER_HOURS = 30;

/** Air temperature of a hall. */
export function hallCelsius(climate: HallClimate, atMs: number): number {
  return temperature(climate, atMs, 0);
}

/**
 * Temperature of a chamber wall, which follows the air with a first-order lag: the daily swing is damped by
 * 1/√(1 + (ωτ)²) and comes atan(ωτ)/ω later.
 */
export function wallCelsius(climate: HallClimate, atMs: number, lagHours: number): number {
  return temperature(climate, atMs, lagHours);
}

function temperature(climate: HallClimate, atMs: number, lagHours: number): number {
  const angularPerHour = (2 * Math.PI) / 24;
  const phase = angularPerHour * lagHours;
  const hours = (atMs % DAY_MS) / 3_600_000;
  const daily = Math.cos(angularPerHour * (hours - WARMEST_HOUR) - Math.atan(phase)) / Math.hypot(1, phase);
  const wander = driftAt(seedOf('hall', climate.seed), atMs - lagHours * 3_600_000, WANDER_HOURS);
  return climate.meanCelsius + climate.dailyKelvin * daily + climate.wanderKelvin * wander;
}
