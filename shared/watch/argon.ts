/**
 * Argon alone: an ion pump that lets go its argon pulses every few hours (common practice; plain diodes are the
 * unstable case), a line that leaks by is steady. A step that holds its height for ten minutes is a line; what wavers
 * waits an hour, and what falls is none. Three pulses at regular distances within a day are bursts.
 */
import { followFault, isAtRest } from './faults.ts';
import type { Frame } from './frame.ts';
import { ARGON_WAIT_SECONDS, DAY, HOUR } from './parameters.ts';
import type { Trigger } from './triggers.ts';
import type { WatchEvent } from './types.ts';
import { along } from './whitening.ts';
import { duration } from './wording.ts';

const ON_SIGMA = 7;
const HOLD_SIGMA = 4;
const PRESENT_SIGMA = 2;
/** Oxygen may show this share of argon's significance and still be "none". */
const OXYGEN_SHARE = 0.25;
/** Scatter of the distances between pulses against their mean. */
const REGULAR = 0.45;
const PULSES = 3;
const KEPT_PULSES = 8;
const MOST_AMPLITUDES = 12;
/** A pulse of hours' distance falls by a third within ten minutes. */
const HELD = { scans: 4, seconds: 600 } as const;
/** The last third must hold this much of the highest since it began to be steady; a pulse falls. */
const STEADY = 0.85;
/** The same after an hour, when noise has made the highest higher. */
const NOT_FALLEN = 0.5;

export interface ArgonVerdict {
  readonly bursts: boolean;
  readonly pulses: number;
  readonly meanIntervalSeconds: number | null;
  /** Long or steady enough to be a line. */
  readonly line: boolean;
}

/** `whitened`: the deviation by the model of instruments, where the lanes have it already. */
export function followArgon(frame: Frame, triggers: readonly Trigger[], whitened?: Float64Array): ArgonVerdict {
  const { memory, deviation, atMs } = frame;
  const { argon } = memory.track;
  const none = { bursts: false, pulses: 0, meanIntervalSeconds: null, line: false };
  const argonAt = placeOf(triggers, 'Ar');
  if (argonAt < 0) return none;
  const whitener = frame.whitener('scan', null);
  const by = whitened ?? whitener.apply(deviation);
  const information = whitener.informationAt(triggers, argonAt);
  const projection = along(triggers[argonAt]!.direction, by);
  const z = projection / Math.sqrt(information);
  const oxygenAt = placeOf(triggers, 'O2');
  const oxygen =
    oxygenAt < 0 ? 0 : along(triggers[oxygenAt]!.direction, by) / Math.sqrt(whitener.informationAt(triggers, oxygenAt));
  const settled = !memory.settling && atMs - memory.stateSinceMs > 2 * HOUR * 1000;
  const on = z > ON_SIGMA && oxygen < OXYGEN_SHARE * z && settled;
  if (on && !argon.on) argon.pulses = [...argon.pulses, atMs].slice(-KEPT_PULSES);
  argon.on = on || (argon.on && z > HOLD_SIGMA);
  argon.low = z > PRESENT_SIGMA ? 0 : argon.low + 1;
  if (argon.low >= 2) {
    argon.sinceMs = null;
    argon.amplitudes = [];
    argon.peak = 0;
  } else if (z > PRESENT_SIGMA) {
    argon.sinceMs ??= atMs;
    const amplitude = projection / information;
    argon.amplitudes = [...argon.amplitudes, amplitude].slice(-MOST_AMPLITUDES);
    argon.peak = Math.max(argon.peak ?? 0, amplitude);
  }
  return { ...regularity(argon.pulses.filter((t) => atMs - t < DAY * 1000)), line: isLine(argon, atMs) };
}

function placeOf(triggers: readonly Trigger[], cause: string): number {
  for (let i = 0; i < triggers.length; i++) if (triggers[i]!.cause.id === cause) return i;
  return -1;
}

/**
 * A step that has held its height for ten minutes; after an hour also what wavers, unless it has fallen. Where argon has
 * pulsed before, the next pulse gets the hour.
 */
function isLine({ sinceMs, amplitudes, peak, pulses }: Frame['memory']['track']['argon'], atMs: number): boolean {
  if (sinceMs === null || amplitudes.length < HELD.scans) return false;
  const late = amplitudes.slice(-Math.ceil(amplitudes.length / 3));
  const share = late.reduce((sum, a) => sum + a, 0) / late.length / Math.max(peak ?? 0, ...amplitudes);
  const seconds = (atMs - sinceMs) / 1000;
  if (seconds >= ARGON_WAIT_SECONDS) return share >= NOT_FALLEN;
  const pulsedBefore = pulses.some((t) => t < sinceMs && atMs - t < DAY * 1000);
  return !pulsedBefore && seconds >= HELD.seconds && share >= STEADY;
}

function regularity(pulses: readonly number[]): Omit<ArgonVerdict, 'line'> {
  if (pulses.length < PULSES) return { bursts: false, pulses: pulses.length, meanIntervalSeconds: null };
  const intervals = pulses.slice(1).map((t, i) => (t - pulses[i]!) / 1000);
  const mean = intervals.reduce((sum, x) => sum + x, 0) / intervals.length;
  const scatter = Math.sqrt(intervals.reduce((sum, x) => sum + (x - mean) ** 2, 0) / intervals.length);
  return { bursts: scatter / mean < REGULAR, pulses: pulses.length, meanIntervalSeconds: mean };
}

export function burstEvents(frame: Frame, argon: ArgonVerdict, triggers: readonly Trigger[]): WatchEvent[] {
  const { memory, atMs } = frame;
  if (isAtRest(memory, argon.bursts)) return [];
  const last = memory.track.argon.pulses.at(-1);
  return followFault(memory, atMs, {
    signature: 'argon-bursts',
    on: argon.bursts && !memory.standing.some(({ cause }) => cause === 'Ar'),
    off: last === undefined || atMs - last > 48 * HOUR * 1000,
    sureness: 'nearly certain',
    gases: ['Ar'],
    direction: triggers.find(({ cause }) => cause.id === 'Ar')?.direction.dense ?? null,
    amplitude: Math.max(0, ...memory.track.argon.amplitudes),
    summary: `Argon comes alone and in regular bursts, every ${duration(argon.meanIntervalSeconds ?? 0)}: an ion pump lets it go, nothing leaks. Nearly certain.`,
    evidence: [
      {
        name: 'Pulses within a day',
        value: argon.pulses,
        unit: '1',
        expected: 'none',
        expectedHigh: 0,
        verdict: 'regular',
      },
      {
        name: 'Distance between pulses',
        value: argon.meanIntervalSeconds,
        unit: 's',
        expected: null,
        verdict: 'regular',
      },
    ],
  });
}
