/**
 * How long a condition must last before it is called, in scans. Scans are the right measure while they take minutes;
 * an analyser that scans every second would be called out by whatever passes within three, so there is a least time.
 */
import type { Lane } from './nullModel.ts';
import { GROSS_ON_DELAY, HOUR, INSTRUMENT_ON_DELAY, MEAN_SHARE, OFF_DELAY, ON_DELAY } from './parameters.ts';

/** A valve that moves, a plasma that strikes and a knock on a cable are over within a minute (our choice). */
const LEAST_SECONDS = 60;
/** Something gross is worth less waiting; instruments take nothing away from the chamber. */
const LEAST_GROSS_SECONDS = 10;
const LEAST_INSTRUMENT_SECONDS = 300;
const LEAST_OFF_SECONDS = 60;
const DAY_LANE_HOURS_ON = 2;
/** Time constant of the running mean at least: gas loads move within minutes, and half a minute's mean sees no more than a scan. */
const LEAST_MEAN_SECONDS = 600;

const atLeast = (scans: number, seconds: number, periodSeconds: number): number =>
  Math.max(scans, Math.ceil(seconds / Math.max(periodSeconds, 0.01)));

export interface Delay {
  readonly lane: Lane;
  readonly instrument: boolean;
  /** Far above threshold in single scans; `witnessed`: and the gauge and several peaks say the same. */
  readonly gross: boolean;
  readonly witnessed: boolean;
  readonly periodSeconds: number;
}

export function onDelayOf({ lane, instrument, gross, witnessed, periodSeconds }: Delay): number {
  if (instrument) return atLeast(INSTRUMENT_ON_DELAY, LEAST_INSTRUMENT_SECONDS, periodSeconds);
  if (lane === 'day') return atLeast(1, DAY_LANE_HOURS_ON * HOUR, periodSeconds);
  if (lane === 'scan' && gross) return atLeast(witnessed ? 1 : GROSS_ON_DELAY, LEAST_GROSS_SECONDS, periodSeconds);
  return atLeast(ON_DELAY, LEAST_SECONDS, periodSeconds);
}

/** How long a condition must be back before it is over: what flickers within a minute is one condition. */
export const offDelayOf = (periodSeconds: number | null): number =>
  periodSeconds === null ? OFF_DELAY : atLeast(OFF_DELAY, LEAST_OFF_SECONDS, periodSeconds);

/** Share of a new scan in the running mean. */
export const meanShareOf = (periodSeconds: number | null): number =>
  periodSeconds === null ? MEAN_SHARE : Math.min(MEAN_SHARE, periodSeconds / LEAST_MEAN_SECONDS);

/**
 * A running mean that has just begun scatters more than later: with the weight w that it holds, its variance is
 * (2 − w)/w times the final one (geometric weights). The factor on its threshold.
 */
export const youngMean = (weight: number): number => Math.sqrt((2 - weight) / weight);
