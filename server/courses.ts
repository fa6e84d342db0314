/**
 * Slow courses as people read them: a pump-down with the time to go, parts that wear with the day they are due.
 * Sentences are in Pa, as those of alerts: the page writes them in the unit of the reader.
 */
import type { LifeForecast, PumpDown } from '../shared/contract/courses.ts';
import type { PressureUnit } from '../shared/contract/words.ts';
import { fromPascal } from '../shared/units.ts';
import type { StoredArrival, StoredLife, StoredPumpDown } from '../shared/watch/coursesView.ts';
import { FORESEEABLE_SECONDS } from '../shared/watch/parameters.ts';
import { duration, pascal } from '../shared/watch/wording.ts';
import { iso } from './instant.ts';
import { rounded } from './present.ts';

const DAY_MS = 86_400_000;
/** Beyond this nobody plans by it. */
const FAR_DAYS = 730;

const MINUTE = 60;
const HOUR = 3600;
const DAY = 86_400;
/** Steps that people count in, seconds. */
const STEPS = [MINUTE, 5 * MINUTE, 10 * MINUTE, 15 * MINUTE, 30 * MINUTE, HOUR, 6 * HOUR, DAY];
/** An interval is written as finely as it needs to have two different ends, and no finer. */
const STEPS_IN_INTERVAL = 4;

const stepFor = (seconds: number): number => STEPS.findLast((step) => step <= seconds / STEPS_IN_INTERVAL) ?? MINUTE;

const NBSP = '\u00a0';
const two = (large: number, largeUnit: string, small: number, smallUnit: string): string =>
  `${large}${NBSP}${largeUnit}${small > 0 ? ` ${small}${NBSP}${smallUnit}` : ''}`;

/** `50 min`, `1 h 50 min`, `30 h`, `3 d 6 h`: rounded to `step` seconds. */
const written = (seconds: number, step: number): string => {
  const whole = Math.max(step, Math.round(seconds / step) * step);
  if (whole < HOUR) return `${whole / MINUTE}${NBSP}min`;
  if (whole < 2 * DAY) return two(Math.floor(whole / HOUR), 'h', Math.round((whole % HOUR) / MINUTE), 'min');
  return two(Math.floor(whole / DAY), 'd', Math.round((whole % DAY) / HOUR), 'h');
};

const FORESEEABLE = written(FORESEEABLE_SECONDS, DAY);

/** `About 1 h 50 min to go (1 h 35 min to 2 h 10 min).` */
function leftToGo(at: number, earliest: number, latest: number | null): string {
  const step = stepFor(latest === null || latest > FORESEEABLE_SECONDS ? at : latest - earliest);
  const [about, from] = [written(at, step), written(earliest, step)];
  if (latest === null) return `About ${about} to go (${from} or never).`;
  if (latest > FORESEEABLE_SECONDS) return `About ${about} to go (${from} to more than ${FORESEEABLE}).`;
  const to = written(latest, step);
  return from === to ? `About ${about} to go.` : `About ${about} to go (${from} to ${to}).`;
}

function toGo({ arrival, ageSeconds }: StoredPumpDown): string {
  if (!arrival) return 'Too early to say how long it will take.';
  const left = (at: number | null) => (at === null ? null : Math.max(0, at - ageSeconds));
  const [at, earliest, latest] = [left(arrival.at), left(arrival.earliest), left(arrival.latest)];
  if (at === null) return 'At this rate it does not get there: it has stopped falling.';
  if (at === 0) return 'It is there.';
  if (at > FORESEEABLE_SECONDS) return `At this rate it is not there within ${FORESEEABLE}.`;
  return leftToGo(at, earliest ?? at, latest);
}

function compared({ pressurePa, usualPa, lateAbovePa, pumpDowns }: StoredPumpDown): string {
  if (usualPa === null) return pumpDowns === 0 ? '' : ' Too few good pump-downs to compare with.';
  if (lateAbovePa !== null && pressurePa > lateAbovePa) return ' It is late against its own good pump-downs.';
  const factor = pressurePa / usualPa;
  if (factor > 1.3) return ` ${factor.toFixed(1)} times its usual pressure at this age, within its spread.`;
  return ' As its good pump-downs.';
}

export const presentPumpDown = (run: StoredPumpDown, unit: PressureUnit): PumpDown => {
  const pressure = (pascal: number) => rounded(fromPascal(pascal, unit));
  const maybe = (pascal: number | null) => (pascal === null ? null : pressure(pascal));
  const began = `Pumped for ${duration(run.ageSeconds)}, now ${pascal(run.pressurePa)}.`;
  return {
    from: iso(new Date(run.fromMs)),
    at: iso(new Date(run.fromMs + run.ageSeconds * 1000)),
    ageSeconds: run.ageSeconds,
    pressure: pressure(run.pressurePa),
    usual: maybe(run.usualPa),
    lateAbove: maybe(run.lateAbovePa),
    usualDurationSeconds: run.usualDurationSeconds,
    examples: run.pumpDowns,
    exponent: run.exponent,
    target: maybe(run.targetPa),
    arrival: run.arrival,
    say: `${began} ${toGo(run)}${compared(run)}`,
  };
};

const WHAT: Record<StoredLife['kind'], { part: string; end: string }> = {
  gain: { part: 'The gain of the multiplier', end: 'half of what it began with' },
  sensitivity: { part: 'The sensitivity against the gauge', end: 'half of what it began with' },
  floor: { part: 'The detection floor', end: 'ten times what it began with' },
};

const day = (at: Date): string => iso(at).slice(0, 10);

export const presentLife = (life: StoredLife, from: Date): LifeForecast => {
  const date = (days: number | null) =>
    days === null || days > FAR_DAYS ? null : new Date(from.getTime() + days * DAY_MS);
  const { at, earliest, latest }: StoredArrival = life.arrival;
  const [due, first, last] = [date(at), date(earliest), date(latest)];
  const { part, end } = WHAT[life.kind];
  const steady = `${part} holds: from ${life.points} days it cannot be said to come to ${end} within two years.`;
  const soonest = first ? `not before ${day(first)}` : 'not soon';
  const falls =
    due && first
      ? `${part} will come to ${end} about ${day(due)}, at this rate (${day(first)} to ${last ? day(last) : 'never'}).`
      : first
        ? `${part} changes little: it comes to ${end} ${soonest}, and perhaps never.`
        : steady;
  return {
    of: life.kind,
    gone: rounded(life.gone),
    dueAt: due && iso(due),
    earliest: first && iso(first),
    latest: last && iso(last),
    days: life.points,
    say: falls,
  };
};
