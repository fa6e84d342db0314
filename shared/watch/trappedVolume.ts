/**
 * What a condition does while it stands. A trapped volume empties: its leak decays since the last vent. A leak through
 * the wall stays what it is, and so does permeation, which follows the temperature. A wet wall dries; a cooling circuit
 * does not (common practice).
 *
 * The logarithm of the amplitude is kept as means over equal times; when there are too many, pairs are merged and the
 * time doubles, so that the record always reaches back to where it began.
 */
import { theilSen } from '../analysis/fits/theilSen.ts';
import type { Frame } from './frame.ts';
import type { Memory, Standing } from './memory.ts';
import { DAY, HOUR } from './parameters.ts';

/** Mean of ln(amplitude) and of the wall's temperature over one time. */
export interface DecayPoint {
  readonly hours: number;
  readonly ln: number;
  readonly celsius: number | null;
}

export interface DecaySeries {
  readonly cause: string;
  readonly raisedAtMs: number;
  /** The vent it is counted from; null: none is known. */
  readonly ventEndedAtMs: number | null;
  readonly widthHours: number;
  readonly points: readonly DecayPoint[];
  /** The mean that is being taken: sums and their count. */
  readonly open: { readonly from: number; readonly hours: number; readonly ln: number; readonly count: number };
  readonly shape: Shape;
}

export type Shape = 'unknown' | 'decays' | 'constant';

const FIRST_WIDTH_HOURS = 1 / 3;
const MOST_POINTS = 24;
/** A tail of the vent hides in the first third of what was seen. */
const LATER_SHARE = 1 / 3;
const LEAST_POINTS = 8;
/** Nothing is said of less than six hours, nor "constant" of less than a day. */
const LEAST_HOURS = 6;
const CONSTANT_HOURS = 24;
/** It has fallen when it is a dead band lower, and is constant when it can have moved by no more than a tenth. */
const FALLEN = Math.log(1.26);
const STILL = Math.log(1.1);
const FOLLOWED: ReadonlySet<string> = new Set(['air-leak', 'gas-inleak', 'helium', 'hydrogen', 'water']);

/** Follows what stands in this scan; gives those of which something new is known. */
export function followShapes({ memory, atMs, state }: Frame): Standing[] {
  const followed = memory.standing.filter((standing) => isFollowed(standing));
  if (followed.length === 0) {
    if (memory.overTime.decays.length > 0) memory.overTime.decays = [];
    return [];
  }
  const turned: Standing[] = [];
  memory.overTime.decays = followed.map((standing) => {
    const series = seriesOf(memory, standing) ?? begin(memory, standing, atMs);
    if (standing.state !== state || standing.below > 0 || !(standing.amplitude > 0)) return series;
    const next = take(series, {
      hours: (atMs - standing.raisedAtMs) / (HOUR * 1000),
      ln: Math.log(standing.amplitude),
      celsius: memory.temperatureC,
    });
    const shape = next.points === series.points ? series.shape : shapeOf(next.points);
    // A record that has become too short to say keeps what was said.
    const told = shape === 'unknown' ? series.shape : shape;
    if (told !== series.shape) turned.push(standing);
    return { ...next, shape: told };
  });
  return turned;
}

const isFollowed = ({ signature, direction, lane }: Standing): boolean =>
  FOLLOWED.has(signature) && direction !== null && lane !== 'day';

const isSame = (series: DecaySeries, { ventEndedAtMs }: Memory, { cause, raisedAtMs }: Standing): boolean =>
  series.cause === cause && series.raisedAtMs === raisedAtMs && series.ventEndedAtMs === ventEndedAtMs;

const seriesOf = (memory: Memory, standing: Standing): DecaySeries | undefined =>
  memory.overTime.decays.find((series) => isSame(series, memory, standing));

const begin = ({ ventEndedAtMs }: Memory, { cause, raisedAtMs }: Standing, atMs: number): DecaySeries => ({
  cause,
  raisedAtMs,
  ventEndedAtMs,
  widthHours: FIRST_WIDTH_HOURS,
  points: [],
  open: { from: (atMs - raisedAtMs) / (HOUR * 1000), hours: 0, ln: 0, count: 0 },
  shape: 'unknown',
});

function take(series: DecaySeries, point: DecayPoint): DecaySeries {
  const { open, widthHours, points } = series;
  if (point.hours - open.from < widthHours) {
    const { from, hours, ln, count } = open;
    return { ...series, open: { from, hours: hours + point.hours, ln: ln + point.ln, count: count + 1 } };
  }
  const fresh = { from: point.hours, hours: point.hours, ln: point.ln, count: 1 };
  if (open.count === 0) return { ...series, open: fresh };
  const closed = { hours: open.hours / open.count, ln: open.ln / open.count, celsius: point.celsius };
  const all = [...points, rounded(closed)];
  const isFull = all.length > MOST_POINTS;
  return {
    ...series,
    points: isFull ? merged(all) : all,
    widthHours: isFull ? 2 * widthHours : widthHours,
    open: fresh,
  };
}

const rounded = ({ hours, ln, celsius }: DecayPoint): DecayPoint => ({
  hours: Number(hours.toFixed(3)),
  ln: Number(ln.toFixed(4)),
  celsius: celsius === null ? null : Number(celsius.toFixed(2)),
});

function merged(points: readonly DecayPoint[]): DecayPoint[] {
  const out: DecayPoint[] = [];
  for (let i = 0; i < points.length; i += 2) {
    const [a, b] = [points[i]!, points[i + 1]];
    if (!b) out.push(a);
    else {
      const celsius = a.celsius === null || b.celsius === null ? null : (a.celsius + b.celsius) / 2;
      out.push(rounded({ hours: (a.hours + b.hours) / 2, ln: (a.ln + b.ln) / 2, celsius }));
    }
  }
  return out;
}

interface Decline {
  /** d ln(amplitude)/dt per hour, with its interval. */
  readonly perHour: number;
  readonly low: number;
  readonly high: number;
  readonly hours: number;
}

export function declineOf(points: readonly DecayPoint[]): Decline | null {
  const from = points[0] ? points[0].hours + LATER_SHARE * (points.at(-1)!.hours - points[0].hours) : 0;
  const later = points.filter(({ hours }) => hours >= from);
  if (later.length < LEAST_POINTS) return null;
  const hours = later.at(-1)!.hours - later[0]!.hours;
  const fit = theilSen(
    later.map((point) => point.hours),
    later.map(({ ln }) => ln),
  );
  return fit === null || hours < LEAST_HOURS ? null : { perHour: fit.slope, low: fit.low, high: fit.high, hours };
}

function shapeOf(points: readonly DecayPoint[]): Shape {
  const decline = declineOf(points);
  if (decline === null) return 'unknown';
  const { perHour, low, high, hours } = decline;
  if (high < 0 && -perHour * hours > FALLEN) return 'decays';
  if (hours >= CONSTANT_HOURS && low * hours > -STILL && high * hours < STILL) return 'constant';
  return 'unknown';
}

/** Kelvin that the walls must have moved before a dependence on them is looked for. */
const LEAST_KELVIN = 1.5;

/** d ln(amplitude)/dT, 1/K, where it is clear that it follows the temperature; null otherwise. */
export function warmthOf(points: readonly DecayPoint[]): { perKelvin: number; low: number; high: number } | null {
  const told = points.flatMap(({ ln, celsius }) => (celsius === null ? [] : [{ ln, celsius }]));
  if (told.length < LEAST_POINTS) return null;
  const temperatures = told.map(({ celsius }) => celsius);
  if (Math.max(...temperatures) - Math.min(...temperatures) < LEAST_KELVIN) return null;
  const fit = theilSen(
    temperatures,
    told.map(({ ln }) => ln),
  );
  return fit !== null && fit.low > 0 ? { perKelvin: fit.slope, low: fit.low, high: fit.high } : null;
}

/** What is known of the shape of a condition that stands; null: nothing yet. */
export function shapeKnown(memory: Memory, cause: string): DecaySeries | null {
  const series = memory.overTime.decays.find((entry) => entry.cause === cause);
  return series && series.shape !== 'unknown' ? series : null;
}

/** Half-life in seconds of what decays. */
export const halfLifeSeconds = ({ perHour }: Decline): number => (Math.LN2 / -perHour) * HOUR;
export const perDay = (rate: number): number => ((rate / Math.LN10) * DAY) / HOUR;
