/**
 * When a multiplier, an emission or a detection floor will have come to the end of its use, from its course so far.
 * Daily values, a robust trend, and the day at which it reaches a stated level, with the interval of the slope.
 */
import { type Arrival, trendArrival } from '../analysis/fits/arrival.ts';
import { theilSen } from '../analysis/fits/theilSen.ts';
import { median } from './channels.ts';
import type { Memory } from './memory.ts';
import type { WatchInput, WatchMemory } from './types.ts';

/** Days since 1970, and a value: natural log of a gain or a sensitivity, log10 Pa of a floor. */
export type LifePoint = readonly [day: number, value: number];

export interface LifeBook {
  readonly gain: readonly LifePoint[];
  /** −ln κ: what the analyser shows of what the gauge reads. */
  readonly sensitivity: readonly LifePoint[];
  readonly floor: readonly LifePoint[];
  /** Of the day that goes on: −ln κ and log10 floor, a few of each, and when the last was taken. */
  readonly open?: {
    readonly day: number;
    readonly atMs: number;
    readonly sensitivity: readonly number[];
    readonly floor: readonly number[];
  };
  /** When the gain that was written down last was measured. */
  readonly gainAtMs?: number;
}

export type LifeKind = 'gain' | 'sensitivity' | 'floor';

const DAY_MS = 86_400_000;
const MOST_POINTS = 60;
const PER_DAY = 6;
const LEAST_PER_DAY = 3;
const LEAST_POINTS = 8;
const LEAST_DAYS = 7;
/** What a level is measured from: the median of the first ones. */
const FIRST_POINTS = 5;
/** End of use: half of the gain or sensitivity that it began with; a floor ten times as high. */
const FALL_TO = -Math.LN2;
const FLOOR_DECADES = 1;

export interface Forecast {
  /** Per day, with its 95 % interval. */
  readonly perDay: number;
  readonly low: number;
  readonly high: number;
  /** On the line through the last day, and where it began. */
  readonly now: number;
  readonly first: number;
  readonly level: number;
  /** Days from the last point on; Infinity: never at this rate. */
  readonly days: Arrival;
  readonly points: number;
}

/** Null with fewer than eight values or a week. `level`: value at which it is at its end. */
export function forecastOf(points: readonly LifePoint[], level: number): Forecast | null {
  const last = points.at(-1);
  if (!last || points.length < LEAST_POINTS || last[0] - points[0]![0] < LEAST_DAYS) return null;
  const fit = theilSen(
    points.map(([day]) => day - last[0]),
    points.map(([, value]) => value),
  );
  if (fit === null) return null;
  const now = fit.intercept;
  return {
    perDay: fit.slope,
    low: fit.low,
    high: fit.high,
    now,
    first: median(points.slice(0, FIRST_POINTS).map(([, value]) => value)),
    level,
    days: trendArrival(fit, { x: 0, y: now }, level),
    points: points.length,
  };
}

/** The three forecasts for people; null where there is too little of one. */
export function lifeNow(memory: WatchMemory): Readonly<Record<LifeKind, Forecast | null>> {
  const { overTime } = memory as unknown as Partial<Memory>;
  return forecastsOf(overTime?.life ?? { gain: [], sensitivity: [], floor: [] });
}

/** Share of the way to its end, from the middles of the first and of the last values; 0 with too few. */
export function wayGone(points: readonly LifePoint[], kind: LifeKind): number {
  if (points.length < LEAST_POINTS) return 0;
  const middle = (some: readonly LifePoint[]) => median(some.map(([, value]) => value));
  const gone = middle(points.slice(-FIRST_POINTS)) - middle(points.slice(0, FIRST_POINTS));
  return gone / (kind === 'floor' ? FLOOR_DECADES : FALL_TO);
}

export function forecastsOf({ gain, sensitivity, floor }: LifeBook): Readonly<Record<LifeKind, Forecast | null>> {
  const from = (points: readonly LifePoint[], step: number) =>
    forecastOf(points, median(points.slice(0, FIRST_POINTS).map(([, value]) => value)) + step);
  return { gain: from(gain, FALL_TO), sensitivity: from(sensitivity, FALL_TO), floor: from(floor, FLOOR_DECADES) };
}

/** Writes down what this scan tells; true when a day has been closed or a gain measured. */
export function followLife(memory: Memory, { analysis, scan }: WatchInput): boolean {
  const { life } = memory.overTime;
  const { gain } = analysis.measurement ?? {};
  const isMeasured = gain?.from === 'pair' && gain.atMs !== null && gain.atMs !== (life.gainAtMs ?? null);
  if (isMeasured) {
    const day = gain.atMs! / DAY_MS;
    memory.overTime.life = {
      ...life,
      gain: added(life.gain, [Math.floor(day), Math.log(gain.value)]),
      gainAtMs: gain.atMs!,
    };
  }
  if (memory.state !== 'base' || memory.settling) return isMeasured;
  return closeDay(memory, scan.atMs, analysis.kappa, analysis.floorPa) || isMeasured;
}

/** One value per day: the latest. */
function added(points: readonly LifePoint[], [day, value]: LifePoint): LifePoint[] {
  const before = points.filter(([other]) => other !== day);
  return [...before, [day, Number(value.toFixed(4))] as const].slice(-MOST_POINTS);
}

function closeDay(memory: Memory, atMs: number, kappa: number | null, floorPa: number | null): boolean {
  const { life } = memory.overTime;
  const day = Math.floor(atMs / DAY_MS);
  const open = life.open?.day === day ? life.open : null;
  if (open && atMs - open.atMs < DAY_MS / PER_DAY) return false;
  const also = (values: readonly number[], value: number | null) =>
    value === null ? values : [...values, Number(value.toFixed(4))];
  const next = {
    day,
    atMs,
    sensitivity: also(open?.sensitivity ?? [], kappa !== null && kappa > 0 ? -Math.log(kappa) : null),
    floor: also(open?.floor ?? [], floorPa !== null && floorPa > 0 ? Math.log10(floorPa) : null),
  };
  const closed = open === null ? (life.open ?? null) : null;
  const withDay = (points: readonly LifePoint[], values: readonly number[]) =>
    closed === null || values.length < LEAST_PER_DAY ? points : added(points, [closed.day, median(values)]);
  memory.overTime.life = {
    ...life,
    sensitivity: withDay(life.sensitivity, closed?.sensitivity ?? []),
    floor: withDay(life.floor, closed?.floor ?? []),
    open: next,
  };
  return closed !== null;
}
