/**
 * Argon alone: an ion pump that lets go its argon pulses every few hours (common practice; plain diodes are the
 * unstable case), a line that leaks by is steady. A step that holds its height for a few scans is a line; a pulse that
 * falls, or that pauses, waits an hour. Three pulses at regular distances within a day are bursts.
 */
import type { Frame } from './frame.ts';
import { ARGON_STEADY_SCANS, ARGON_WAIT_SECONDS, DAY, HOUR } from './parameters.ts';
import type { Trigger } from './triggers.ts';
import { along } from './whitening.ts';

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
/** The last third must hold this much of the highest to be steady; a pulse falls. */
const STEADY = 0.85;

export interface ArgonVerdict {
  readonly bursts: boolean;
  readonly pulses: number;
  readonly meanIntervalSeconds: number | null;
  /** Long or steady enough to be a line. */
  readonly line: boolean;
}

export function followArgon(frame: Frame, triggers: readonly Trigger[]): ArgonVerdict {
  const { memory, deviation, atMs } = frame;
  const { argon } = memory.track;
  const none = { bursts: false, pulses: 0, meanIntervalSeconds: null, line: false };
  const argonTrigger = triggers.find(({ cause }) => cause.id === 'Ar');
  if (!argonTrigger) return none;
  const whitener = frame.whitener('scan', null);
  const whitened = whitener.apply(deviation);
  const significance = (trigger: Trigger) =>
    along(trigger.direction, whitened) / Math.sqrt(whitener.information(trigger.direction));
  const z = significance(argonTrigger);
  const oxygenTrigger = triggers.find(({ cause }) => cause.id === 'O2');
  const oxygen = oxygenTrigger ? significance(oxygenTrigger) : 0;
  const settled = !memory.settling && atMs - memory.stateSinceMs > 2 * HOUR * 1000;
  const on = z > ON_SIGMA && oxygen < OXYGEN_SHARE * z && settled;
  if (on && !argon.on) argon.pulses = [...argon.pulses, atMs].slice(-KEPT_PULSES);
  argon.on = on || (argon.on && z > HOLD_SIGMA);
  argon.low = z > PRESENT_SIGMA ? 0 : argon.low + 1;
  if (argon.low >= 2) {
    argon.sinceMs = null;
    argon.amplitudes = [];
  } else if (z > PRESENT_SIGMA) {
    argon.sinceMs ??= atMs;
    const amplitude = along(argonTrigger.direction, whitened) / whitener.information(argonTrigger.direction);
    argon.amplitudes = [...argon.amplitudes, amplitude].slice(-MOST_AMPLITUDES);
  }
  return { ...regularity(argon.pulses.filter((t) => atMs - t < DAY * 1000)), line: isLine(argon, atMs) };
}

function isLine({ sinceMs, amplitudes }: Frame['memory']['track']['argon'], atMs: number): boolean {
  if (sinceMs === null) return false;
  if (atMs - sinceMs >= ARGON_WAIT_SECONDS * 1000) return true;
  if (amplitudes.length < ARGON_STEADY_SCANS) return false;
  const late = amplitudes.slice(-Math.ceil(amplitudes.length / 3));
  const lateMean = late.reduce((sum, a) => sum + a, 0) / late.length;
  return lateMean >= STEADY * Math.max(...amplitudes);
}

function regularity(pulses: readonly number[]): Omit<ArgonVerdict, 'line'> {
  if (pulses.length < PULSES) return { bursts: false, pulses: pulses.length, meanIntervalSeconds: null };
  const intervals = pulses.slice(1).map((t, i) => (t - pulses[i]!) / 1000);
  const mean = intervals.reduce((sum, x) => sum + x, 0) / intervals.length;
  const scatter = Math.sqrt(intervals.reduce((sum, x) => sum + (x - mean) ** 2, 0) / intervals.length);
  return { bursts: scatter / mean < REGULAR, pulses: pulses.length, meanIntervalSeconds: mean };
}
