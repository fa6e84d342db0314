/**
 * Every pump-down is followed on the gauge, or else on the sum of partial pressures, from the end of the vent until the
 * chamber is back at its own rest level or is used again. Of each a few points in steps of log time are kept, so that
 * the next one can be held against it at equal time.
 */
import { gaugeReading } from '../analysis/gauge.ts';
import { median } from './channels.ts';
import type { Memory } from './memory.ts';
import { DAY, HOUR } from './parameters.ts';
import { learnRest } from './pumpDownRest.ts';
import { SHORT_STATES } from './states.ts';
import type { WatchContext, WatchInput } from './types.ts';

export type PressureSource = 'gauge' | 'sum';

export interface PumpDownRun {
  readonly fromMs: number;
  /** False: told by the gap before it alone; its beginning is that of the scans. */
  readonly declared: boolean;
  readonly source: PressureSource;
  /** With which a sum was calculated: another one is another scale. */
  readonly calibration: string;
  /** log10 Pa at the grid times, oldest first from index `first`. */
  readonly first: number;
  readonly log10: readonly number[];
  /** The last three readings, log10 Pa; the middle one and its age at the last scan. */
  readonly recent: readonly number[];
  readonly last: { readonly ageSeconds: number; readonly log10: number } | null;
  /** Age since which it has been late, and scans since it no longer is. */
  readonly lateSince: number | null;
  readonly caught: number;
  /** It has been called, or another alert was: never an example of a good one. */
  readonly marred: boolean;
}

/** A good one, for the next to be held against. */
export interface KeptPumpDown
  extends Pick<PumpDownRun, 'fromMs' | 'declared' | 'source' | 'calibration' | 'first' | 'log10'> {
  readonly durationSeconds: number;
}

export interface PumpDownBook {
  readonly run: PumpDownRun | null;
  /** Oldest first. */
  readonly kept: readonly KeptPumpDown[];
  /** log10 Pa at rest, per source, slowly followed. */
  readonly rest: { readonly gauge?: number; readonly sum?: number };
}

const GRID_START_SECONDS = 120;
const GRID_PER_OCTAVE = 3;
const GRID_POINTS = 40;
/** Of the ages at two scans in a row: the pressure has moved on, or its course between them is not known. */
const RECENT_RATIO = 2 ** (1 / GRID_PER_OCTAVE);
const UNSEEN_RATIO = 2;
export const gridSeconds = (k: number): number => GRID_START_SECONDS * 2 ** (k / GRID_PER_OCTAVE);

const KEPT_PUMP_DOWNS = 8;
/** Back at rest: within half of the usual level. */
export const RESTED_FACTOR = 1.5;
/** Given up after so long in base: what it has reached by then is its level. */
const LONGEST_SECONDS = 3 * DAY;
/** A good one that was not followed to its rest level has come at least this near. */
const NEAR_FACTOR = 3;
const LEAST_SECONDS = HOUR;

const PUMPING: ReadonlySet<string> = new Set(['roughing', 'pump-down']);
/** Nothing can be held against the usual while the chamber is heated; a bake is where the pump-down was going. */
const HEATED: ReadonlySet<string> = new Set(['bake', 'cool-down', 'activating']);
/** Pressure here is not that of the pumps; the pump-down goes on after it. */
const PAUSED: ReadonlySet<string> = new Set(['leak-check', 'calibration']);

export interface PumpDownInput {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
}

/** What this scan is to a pump-down. `ended` holds one that is over with it. */
export interface PumpDownStep {
  readonly run: PumpDownRun | null;
  readonly ended: PumpDownRun | null;
  /** This scan moved it. */
  readonly fresh: boolean;
}

export function followPumpDown({ memory, context, input }: PumpDownInput): PumpDownStep {
  const { state } = memory;
  const book = memory.overTime.pumpDown;
  const { atMs } = input.scan;
  const ended = book.run !== null && (!belongs(state) || startsAnew(memory, book.run)) ? book.run : null;
  if (ended) keep(memory, ended, HEATED.has(state) || SHORT_STATES.has(state) ? 'released' : 'broken off');
  const run = ended ? null : book.run;
  const declared = isBeginning(memory);
  if (run === null && !declared && !isToldByGap(memory, input)) {
    learnRest(memory, input);
    return { run: null, ended, fresh: false };
  }
  if (PAUSED.has(state)) return { run, ended, fresh: false };
  const seen = pressureOf(input, run?.source ?? null);
  if (seen === null) return { run, ended, fresh: false };
  const before =
    run ?? begin(declared ? memory.stateSinceMs : atMs, declared, seen.source, context.calibration.version);
  if (before.source === 'sum' && before.calibration !== context.calibration.version) {
    setRun(memory, null);
    return { run: null, ended: before, fresh: false };
  }
  const marred = before.marred || hasAlert(memory, before);
  const next = advance({ ...before, marred }, (atMs - before.fromMs) / 1000, Math.log10(seen.pressurePa));
  if (isAtRest(memory, next)) {
    keep(memory, next, 'rested');
    return { run: null, ended: next, fresh: false };
  }
  setRun(memory, next);
  return { run: next, ended, fresh: true };
}

const belongs = (state: string): boolean => PUMPING.has(state) || PAUSED.has(state) || state === 'base';

/** A pump-down is declared, or base follows a vent directly. */
const isBeginning = ({ state, previousState, stateSinceMs, lastAtMs }: Memory): boolean =>
  PUMPING.has(state) ||
  (state === 'base' && previousState === 'vented' && (lastAtMs === null || lastAtMs < stateSinceMs));

/** High above rest after a gap in base: a tail has just been granted to a pump-down that nobody declared. */
function isToldByGap({ state, settling, overTime }: Memory, input: WatchInput): boolean {
  if (state !== 'base' || !settling || settling.short || settling.atMs !== input.scan.atMs) return false;
  const seen = pressureOf(input, null);
  const rest = seen ? overTime.pumpDown.rest[seen.source] : undefined;
  return seen !== null && rest !== undefined && seen.pressurePa > NEAR_FACTOR * 10 ** rest;
}

/** Declared once more out of base: the chamber has been opened in between, or it is another attempt. */
const startsAnew = ({ state, previousState, stateSinceMs }: Memory, run: PumpDownRun): boolean =>
  PUMPING.has(state) &&
  !PUMPING.has(previousState ?? '') &&
  !PAUSED.has(previousState ?? '') &&
  stateSinceMs > run.fromMs;

const begin = (fromMs: number, declared: boolean, source: PressureSource, calibration: string): PumpDownRun => ({
  fromMs,
  declared,
  source,
  calibration,
  first: 0,
  log10: [],
  recent: [],
  last: null,
  lateSince: null,
  caught: 0,
  marred: false,
});

/** The gauge where it reads, else the sum where it has a scale; once begun, what it began with. */
function pressureOf(
  { scan, analysis, peaks }: WatchInput,
  source: PressureSource | null,
): { source: PressureSource; pressurePa: number } | null {
  const gauge = gaugeReading(scan);
  if (source !== 'sum' && gauge.kind === 'reading') return { source: 'gauge', pressurePa: gauge.pressurePa };
  const { sumPa, gases } = analysis;
  // With the emission off the sum is noise, positive every other time.
  if (source === 'gauge' || !peaks.scaled || !gases.some(({ detected }) => detected)) return null;
  if (sumPa === null || !(sumPa > 0)) return null;
  return { source: 'sum', pressurePa: sumPa };
}

/**
 * The middle of three readings, written down at the grid times that lie between the last scan and this one. A gap is drawn
 * straight while it is short; over a longer one nobody saw how the pressure fell, and the course begins anew.
 */
function advance(run: PumpDownRun, ageSeconds: number, log10: number): PumpDownRun {
  const { last } = run;
  const passed = last === null ? 1 : ageSeconds / Math.max(last.ageSeconds, GRID_START_SECONDS);
  // Before a gap the pressure was another: no middle with it.
  const recent = [...(passed > RECENT_RATIO ? [] : run.recent.slice(-2)), short(log10)];
  const now = { ageSeconds, log10: recent.length < 3 ? short(log10) : median(recent) };
  if (last === null || passed > UNSEEN_RATIO) {
    const first = nextGrid(ageSeconds);
    return { ...run, recent, last: now, first, log10: [] };
  }
  const values = [...run.log10];
  for (let k = run.first + values.length; k < GRID_POINTS && gridSeconds(k) <= ageSeconds; k++) {
    values.push(short(between(last, now, gridSeconds(k))));
  }
  return { ...run, recent, last: now, log10: values };
}

const short = (value: number): number => Math.round(value * 1000) / 1000;

const nextGrid = (ageSeconds: number): number =>
  Math.max(0, Math.ceil(GRID_PER_OCTAVE * Math.log2(Math.max(ageSeconds, 1) / GRID_START_SECONDS)));

type Point = NonNullable<PumpDownRun['last']>;

/** Straight in log pressure over log time. */
function between(a: Point, b: Point, seconds: number): number {
  const span = Math.log(b.ageSeconds / Math.max(a.ageSeconds, 1));
  const share = span > 0 ? Math.log(seconds / Math.max(a.ageSeconds, 1)) / span : 1;
  return a.log10 + Math.min(1, Math.max(0, share)) * (b.log10 - a.log10);
}

function isAtRest(memory: Memory, { last, source, fromMs }: PumpDownRun): boolean {
  if (memory.state !== 'base' || last === null) return false;
  const rest = memory.overTime.pumpDown.rest[source];
  const reached = rest !== undefined && last.log10 <= rest + Math.log10(RESTED_FACTOR);
  return reached || last.ageSeconds > LONGEST_SECONDS + (memory.stateSinceMs - fromMs) / 1000;
}

/** Something about the vacuum has been called since it began. */
const hasAlert = ({ standing }: Memory, { fromMs }: PumpDownRun): boolean =>
  standing.some(
    ({ raisedAtMs, direction, signature }) =>
      raisedAtMs >= fromMs && (direction !== null || signature === 'pump-down-late'),
  );

/** Good: it ended where pump-downs end (at rest, or where people went on to bake or to work), without an alert. */
function keep(memory: Memory, run: PumpDownRun, how: 'rested' | 'released' | 'broken off'): void {
  const book = memory.overTime.pumpDown;
  const { last, marred, source, fromMs, declared, calibration, first, log10 } = run;
  const rest = book.rest[source];
  const isNear = last !== null && (rest === undefined || last.log10 <= rest + Math.log10(NEAR_FACTOR));
  const hasArrived = how === 'released' || (how === 'rested' && isNear);
  const isGood = hasArrived && !marred && (last?.ageSeconds ?? 0) >= LEAST_SECONDS && log10.length > 0;
  const kept = {
    fromMs,
    declared,
    source,
    calibration,
    first,
    log10,
    durationSeconds: Math.round(last?.ageSeconds ?? 0),
  };
  memory.overTime.pumpDown = {
    ...book,
    run: null,
    kept: isGood ? [...book.kept, kept].slice(-KEPT_PUMP_DOWNS) : book.kept,
  };
}

export function setRun(memory: Memory, run: PumpDownRun | null): void {
  memory.overTime.pumpDown = { ...memory.overTime.pumpDown, run };
}
