/**
 * A pump-down that falls behind this chamber's own good ones is called while there is still time to do something about
 * it: pressure at equal time against the usual, slope, and when it will be there at this rate.
 *
 * With fewer than two good ones only one thing is said: a pressure that has stopped falling far above the level at rest.
 */
import { powerLawArrival } from '../analysis/fits/arrival.ts';
import { studentQuantile } from '../analysis/fits/normal.ts';
import { type PowerLaw, slopeClass } from '../analysis/fits/powerLaw.ts';
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import type { Memory } from './memory.ts';
import { HOUR, ON_DELAY } from './parameters.ts';
import type { PumpDownInput, PumpDownRun } from './pumpDown.ts';
import { followPumpDown, RESTED_FACTOR, setRun } from './pumpDown.ts';
import { lateFinding } from './pumpDownFinding.ts';
import { slopeNow, type Usual, usualAt } from './pumpDownUsual.ts';
import { end, raise, stands } from './standing.ts';
import type { WatchEvent, WatchMemory } from './types.ts';

/**
 * Behind by more than one in a thousand good ones would be, their spread being known from few (Student's t); where it
 * also falls less steeply than they do, by more than one in two hundred. A wetter day is parallel to a drier one, a leak
 * is not. Less than a factor of two is not worth a call.
 */
const LATE_SHARE = { parallel: 0.001, flatter: 0.005 } as const;
const FLATTER_BY = 0.1;
const LEAST_DECADES = 0.3;
/** Caught up: back within this share of what was too late. */
const CAUGHT_SHARE = 0.5;
const CAUGHT_SCANS = 3;
/** It must stay behind for a tenth of its age; the first minutes are roughing and valves. */
const LASTING_SHARE = 0.1;
const EARLIEST_SECONDS = 900;
/** Without examples: flat at this age, when the wall's own curve has begun, this far above the level at rest. */
const FLAT_SECONDS = 2 * HOUR;
const FLAT_FACTOR = 3;

/** Where a pump-down stands, for the alert and for people. */
export interface PumpDownNow {
  readonly fromMs: number;
  readonly source: PumpDownRun['source'];
  readonly ageSeconds: number;
  readonly pressurePa: number;
  /** At this age, median and 3-sigma-like bound above which it is late; null with fewer than two good ones. */
  readonly usualPa: number | null;
  readonly lateAbovePa: number | null;
  readonly usualDurationSeconds: number | null;
  readonly pumpDowns: number;
  /** P ~ t^−α with its interval; null while there are too few points. */
  readonly slope: PowerLaw | null;
  /** What it is going for: the level at rest, with the margin at which it counts as reached. */
  readonly targetPa: number | null;
  /** Age at which it is reached at this rate; Infinity: never. */
  readonly arrival: { readonly at: number; readonly earliest: number; readonly latest: number } | null;
}

/** Null: no pump-down is going on. */
export function pumpDownNow(memory: WatchMemory): PumpDownNow | null {
  const { overTime } = memory as unknown as Partial<Memory>;
  const run = overTime?.pumpDown.run;
  return run?.last ? nowOf(run, overTime!.pumpDown, run.last) : null;
}

type Book = Memory['overTime']['pumpDown'];

function nowOf(run: PumpDownRun, { kept, rest }: Book, last: NonNullable<PumpDownRun['last']>): PumpDownNow {
  const usual = usualAt(run, kept, last.ageSeconds);
  const slope = slopeNow(run);
  const level = rest[run.source];
  const targetPa = level === undefined ? null : RESTED_FACTOR * 10 ** level;
  const pressurePa = 10 ** last.log10;
  const now = { time: last.ageSeconds, pressure: pressurePa };
  return {
    fromMs: run.fromMs,
    source: run.source,
    ageSeconds: last.ageSeconds,
    pressurePa,
    usualPa: usual ? 10 ** usual.log10 : null,
    lateAbovePa: usual ? 10 ** (usual.log10 + lateBy(usual, slope)) : null,
    usualDurationSeconds: usual?.durationSeconds ?? null,
    pumpDowns: usual?.pumpDowns ?? 0,
    slope,
    targetPa,
    arrival: slope && targetPa !== null ? powerLawArrival(slope, now, targetPa) : null,
  };
}

/** The middle of few is itself uncertain. */
function lateBy({ sigmaDecades, pumpDowns, degreesOfFreedom, exponent }: Usual, slope: PowerLaw | null): number {
  const isFlatter = slope !== null && exponent !== null && slope.high < exponent - FLATTER_BY;
  const share = isFlatter ? LATE_SHARE.flatter : LATE_SHARE.parallel;
  const sigmas = studentQuantile(1 - share, degreesOfFreedom);
  return Math.max(LEAST_DECADES, sigmas * sigmaDecades * Math.sqrt(1 + 1 / pumpDowns));
}

export function judgePumpDown(step: PumpDownInput): WatchEvent[] {
  const { memory, input } = step;
  const { run, ended, fresh } = followPumpDown(step);
  const { atMs } = input.scan;
  const events: WatchEvent[] = [];
  if (ended && run === null) events.push(...over(memory, atMs));
  if (!run?.last || !fresh) return events;
  const now = nowOf(run, memory.overTime.pumpDown, run.last);
  const standing = stands(memory, 'pump-down-late');
  const isLate = now.usualPa === null ? run.declared && isFlat(memory, now) : now.pressurePa > now.lateAbovePa!;
  const lateSince = isLate ? (run.lateSince ?? now.ageSeconds) : null;
  const caught = hasCaughtUp(now) ? run.caught + 1 : 0;
  setRun(memory, { ...run, lateSince, caught });
  if (standing) return caught >= CAUGHT_SCANS ? [...events, ...over(memory, atMs)] : events;
  if (lateSince === null || isSaid(memory, run) || !isLasting(now, lateSince, memory.periodSeconds ?? 60))
    return events;
  return [...events, call(step, now)];
}

const over = (memory: Memory, atMs: number): WatchEvent[] =>
  end(memory, atMs, ({ signature }) => signature === 'pump-down-late');

/** Far above the level at rest and no longer falling. */
function isFlat({ state }: Memory, { slope, ageSeconds, targetPa, pressurePa }: PumpDownNow): boolean {
  if (slope === null || state === 'roughing' || ageSeconds < FLAT_SECONDS || slopeClass(slope) !== 'flat') return false;
  return targetPa !== null && pressurePa > (FLAT_FACTOR / RESTED_FACTOR) * targetPa;
}

function hasCaughtUp({ usualPa, lateAbovePa, pressurePa, slope }: PumpDownNow): boolean {
  if (usualPa === null) return slope !== null && slopeClass(slope) !== 'flat' && slope.low > 0.3;
  return pressurePa < usualPa * (lateAbovePa! / usualPa) ** CAUGHT_SHARE;
}

/** A cause that has been named since it began says why. */
const isSaid = (memory: Memory, { fromMs }: PumpDownRun): boolean =>
  memory.standing.some(({ direction, raisedAtMs }) => direction !== null && raisedAtMs >= fromMs);

const isLasting = ({ ageSeconds }: PumpDownNow, lateSince: number, periodSeconds: number): boolean =>
  ageSeconds >= EARLIEST_SECONDS &&
  ageSeconds - lateSince >= Math.max(LASTING_SHARE * lateSince, (ON_DELAY - 1) * periodSeconds);

function call({ memory, input }: PumpDownInput, now: PumpDownNow): WatchEvent {
  return raise(memory, input.scan.atMs, {
    signature: 'pump-down-late',
    cause: 'pump-down-late',
    gases: [],
    priority: SIGNATURES_BY_ID['pump-down-late'].priority.usual,
    finding: lateFinding(now, input.analysis.gases),
    lane: 'scan',
    direction: null,
    observed: null,
    amplitude: now.pressurePa,
    leastAmplitude: now.lateAbovePa ?? now.targetPa ?? now.pressurePa,
  });
}
