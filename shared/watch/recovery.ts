/**
 * How fast a chamber gets rid of the gas that it was given. After each gas step or transfer the excess over the level at
 * rest falls exponentially; its time constant is kept, and lengthens when a cryopump fills or a pump slows down.
 */
import { theilSen } from '../analysis/fits/theilSen.ts';
import { gaugeReading } from '../analysis/gauge.ts';
import { sigmaFromMad } from '../analysis/robust.ts';
import { median } from './channels.ts';
import type { Memory } from './memory.ts';
import { HOUR } from './parameters.ts';
import { GAS_STATES } from './states.ts';
import type { WatchInput } from './types.ts';

export interface Recovery {
  readonly atMs: number;
  /** The state that let the gas in. */
  readonly state: string;
  /** ln of the time constant in seconds. */
  readonly ln: number;
}

export interface RecoveryBook {
  /** After the state that has just ended: seconds since its end and ln of the excess over the level at rest. */
  readonly run: {
    readonly fromMs: number;
    readonly state: string;
    readonly source: 'gauge' | 'sum';
    readonly points: readonly (readonly [number, number])[];
    /** Read off; nothing more of it is looked at. */
    readonly done: boolean;
  } | null;
  /** Since the last regeneration, oldest first. */
  readonly kept: readonly Recovery[];
}

const MOST_KEPT = 48;
const LONGEST_SECONDS = 4 * HOUR;
const MOST_POINTS = 24;
const LEAST_POINTS = 5;
/** The excess is followed from where it is clear to where the wobble of the chamber drowns it. */
const LEAST_EXCESS = 0.1;
/** It must have fallen by this much in all, natural log, and its slope be known to a third. */
const LEAST_FALL = 1;
const SLOPE_KNOWN = 0.35;
const RENEWING: ReadonlySet<string> = new Set(['regenerating', 'activating', 'maintenance', 'vented']);

/** True when a recovery has been added with this scan. */
export function followRecovery(memory: Memory, input: WatchInput): boolean {
  const { state, previousState, stateSinceMs } = memory;
  const book = memory.overTime.recovery;
  if (RENEWING.has(state)) {
    if (book.run || book.kept.length > 0) memory.overTime.recovery = { run: null, kept: [] };
    return false;
  }
  if (state !== 'base' || previousState === null || !GAS_STATES.has(previousState)) {
    if (book.run) memory.overTime.recovery = { ...book, run: null };
    return false;
  }
  const { atMs } = input.scan;
  const seconds = (atMs - stateSinceMs) / 1000;
  if (book.run === null) {
    if (memory.lastAtMs !== null && memory.lastAtMs >= stateSinceMs) return false;
    const source = gaugeReading(input.scan).kind === 'reading' ? 'gauge' : 'sum';
    memory.overTime.recovery = {
      ...book,
      run: { fromMs: stateSinceMs, state: previousState, source, points: [], done: false },
    };
  }
  const run = memory.overTime.recovery.run!;
  if (run.done) return false;
  const excess = excessOf(memory, input, run.source);
  const isOver =
    excess === null || excess < LEAST_EXCESS || seconds > LONGEST_SECONDS || run.points.length >= MOST_POINTS;
  if (!isOver) {
    const point = [Math.round(seconds), Number(Math.log(excess).toFixed(4))] as const;
    memory.overTime.recovery = { ...memory.overTime.recovery, run: { ...run, points: [...run.points, point] } };
    return false;
  }
  const ln = timeConstantOf(run.points);
  const kept = ln === null ? book.kept : [...book.kept, { atMs, state: run.state, ln }].slice(-MOST_KEPT);
  memory.overTime.recovery = { run: { ...run, points: [], done: true }, kept };
  return ln !== null;
}

/** Relative to the level at rest; null where that or a reading is missing. */
function excessOf(memory: Memory, { scan, analysis }: WatchInput, source: 'gauge' | 'sum'): number | null {
  const rest = memory.overTime.pumpDown.rest[source];
  const gauge = gaugeReading(scan);
  const pressurePa = source === 'sum' ? analysis.sumPa : gauge.kind === 'reading' ? gauge.pressurePa : null;
  return rest === undefined || pressurePa === null ? null : pressurePa / 10 ** rest - 1;
}

function timeConstantOf(points: readonly (readonly [number, number])[]): number | null {
  if (points.length < LEAST_POINTS) return null;
  const fit = theilSen(
    points.map(([seconds]) => seconds),
    points.map(([, ln]) => ln),
  );
  const fall = points[0]![1] - points.at(-1)![1];
  if (fit === null || !(fit.slope < 0) || fall < LEAST_FALL) return null;
  const isKnown = fit.high - fit.low < 2 * SLOPE_KNOWN * -fit.slope;
  return isKnown ? Number(Math.log(-1 / fit.slope).toFixed(4)) : null;
}

export interface RecoveryTrend {
  /** Seconds: at first (median of the first ones since the last regeneration) and of late. */
  readonly firstSeconds: number;
  readonly nowSeconds: number;
  /** Of late over at first, and scatter of one recovery, natural log. */
  readonly factor: number;
  readonly sigma: number;
  /** d ln τ/dt per day with its interval. */
  readonly perDay: number;
  readonly low: number;
  readonly high: number;
  readonly recoveries: number;
}

const FIRST = 6;
const LATEST = 3;
const DAY_MS = 24 * HOUR * 1000;
/** Two recoveries of one chamber differ by a tenth before anything is known. */
const LEAST_SIGMA = 0.1;

/** Of the state that has just been left; null while there are too few. */
export function recoveryTrend({ kept }: RecoveryBook, state: string): RecoveryTrend | null {
  const alike = kept.filter((one) => one.state === state);
  if (alike.length < FIRST + LATEST) return null;
  const first = alike.slice(0, FIRST).map(({ ln }) => ln);
  const latest = alike.slice(-LATEST).map(({ ln }) => ln);
  const start = alike[0]!.atMs;
  const fit = theilSen(
    alike.map(({ atMs }) => (atMs - start) / DAY_MS),
    alike.map(({ ln }) => ln),
  );
  if (fit === null) return null;
  const before = median(first);
  return {
    firstSeconds: Math.exp(before),
    nowSeconds: Math.exp(median(latest)),
    // The least lengthened of the latest: one slow recovery is none.
    factor: Math.exp(Math.min(...latest) - before),
    sigma: Math.max(LEAST_SIGMA, sigmaFromMad(first, before)),
    perDay: fit.slope,
    low: fit.low,
    high: fit.high,
    recoveries: alike.length,
  };
}
