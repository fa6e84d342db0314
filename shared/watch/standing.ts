/**
 * Conditions that stand: raised once, followed until they return, each by its own shape.
 */

import type { Priority, Signature } from '../contract/words.ts';
import { amplitudeOf } from './amplitude.ts';
import { type Before, emptyCalm } from './calm.ts';
import { plain, typed } from './channels.ts';
import type { Frame } from './frame.ts';
import { emptyKappaBook, emptyMassScaleBook } from './instrumentMemory.ts';
import type { Memory, Standing, Vector } from './memory.ts';
import { offDelayOf } from './onDelay.ts';
import type { Finding, WatchEvent } from './types.ts';

/** Below this share of what was worth a call, or of a peak up to three times that, the condition is over. */
const OFF_SHARE = 0.6;
const OFF_PEAK_SHARE = 0.2;
/** What has fallen to this share of its peak is over, however little was worth a call; what is left is called anew. */
const GONE_SHARE = 0.05;
const OFF_SIGMA = 2;
/** Variance of a median of three against one scan's. */
const MIDDLE_VARIANCE = 0.45;
/** A change worth writing down, decades, and for how many scans. */
const UPDATE_DECADES = 0.15;
const UPDATE_SCANS = 3;
/** Small moves are told once in so many scans. */
const UPDATE_PAUSE = 20;
const SETTLING_SCANS = 3;

export interface Condition {
  readonly signature: Signature;
  readonly cause: string;
  readonly gases: readonly string[];
  readonly priority: Priority;
  readonly finding: Finding;
  readonly lane: string;
  readonly direction: Float64Array | null;
  readonly observed: Float64Array | null;
  readonly amplitude: number;
  /** How the spectrum stood just before; left out where it is not known. */
  readonly before?: Before | null;
  readonly leastAmplitude: number;
}

export const stands = (memory: Memory, signature: Signature): boolean =>
  memory.standing.some((standing) => standing.signature === signature);

/** Everything that this analyser has standing under one signature is one alert: its gases are the union. */
export function gasesOf(memory: Memory, signature: string): string[] {
  return [...new Set(memory.standing.filter((s) => s.signature === signature).flatMap((s) => s.gases))];
}

export function raise(memory: Memory, atMs: number, condition: Condition): WatchEvent {
  const { signature, priority, finding } = condition;
  const known = stands(memory, signature);
  const standing: Standing = {
    signature,
    cause: condition.cause,
    gases: [...condition.gases],
    priority,
    state: memory.state,
    lane: condition.lane,
    raisedAtMs: atMs,
    direction: condition.direction ? plain(condition.direction) : null,
    observed: condition.observed ? plain(condition.observed) : null,
    observedAmplitude: condition.amplitude,
    before: condition.before ?? null,
    amplitude: condition.amplitude,
    raisedAmplitude: condition.amplitude,
    peakAmplitude: condition.amplitude,
    leastAmplitude: condition.leastAmplitude,
    below: 0,
    moved: 0,
    reportedAmplitude: condition.amplitude,
    reportedAtMs: atMs,
    reportedScans: 0,
    sureness: finding.sureness,
    scans: 0,
    held: false,
  };
  memory.standing = [...memory.standing, standing];
  restartLanes(memory);
  return { kind: known ? 'updated' : 'raised', atMs, signature, gases: gasesOf(memory, signature), priority, finding };
}

/** Averages that held the fault must not raise it once more. */
function restartLanes(memory: Memory): void {
  memory.track.mean = null;
  memory.track.counts = {};
  memory.track.pending = null;
  // What was quiet with or without it is no "before" of what comes next.
  memory.calm = emptyCalm();
}

/** Ends what `over` picks; one event per signature of which nothing stands any longer. */
export function end(memory: Memory, atMs: number, over: (standing: Standing) => boolean): WatchEvent[] {
  const ended = memory.standing.filter(over);
  if (ended.length === 0) return [];
  memory.standing = memory.standing.filter((standing) => !ended.includes(standing));
  restartLanes(memory);
  for (const baseline of Object.values(memory.baselines)) baseline.day = null;
  return [...new Set(ended.map(({ signature }) => signature as Signature))]
    .filter((signature) => !stands(memory, signature))
    .map((signature) => ({ kind: 'returned', atMs, signature }));
}

/** A person has closed these: forget them, so that what still stands is raised again after its on-delay. */
export function forget(memory: Memory, closed: readonly Signature[]): void {
  const gone = (standing: Standing) => (closed as readonly string[]).includes(standing.signature);
  if (!memory.standing.some(gone)) return;
  memory.standing = memory.standing.filter((standing) => !gone(standing));
  restartLanes(memory);
  if (closed.includes('limit')) memory.limits = {};
  if (closed.includes('impossible-pressure')) memory.impossible = { ...memory.impossible, above: 0, below: 0 };
  memory.quality = { ...memory.quality, repeats: 0, shared: 0, topRepeats: 0, noisy: 0, empty: 0 };
  forgetInstrument(memory.instrument, closed);
}

/** Counts begin anew; a place of the peaks or a relation to the gauge that a person has accepted is the usual one. */
function forgetInstrument(book: Memory['instrument'], closed: readonly Signature[]): void {
  book.cutOff = 0;
  if (closed.includes('mass-shift')) book.massScale = emptyMassScaleBook();
  if (closed.includes('noise')) book.dropOuts = [];
  if (!closed.includes('sensitivity-drift')) return;
  book.kappa = emptyKappaBook();
  book.gain = { ...book.gain, scans: 0 };
}

/** Measures every condition of this state in the present scan; returns those whose numbers have moved. */
export function followStanding(frame: Frame, day: Float64Array | null): { moved: Standing[]; over: Set<Standing> } {
  const { memory, baseline, state, middle, periodSeconds } = frame;
  const moved: Standing[] = [];
  const over = new Set<Standing>();
  for (const standing of memory.standing) {
    // Bursts pause by nature: their own book-keeping ends them.
    if (standing.signature === 'argon-bursts') continue;
    if (!standing.direction || standing.state !== state || standing.direction.length !== middle.length) continue;
    const slow = standing.lane === 'day';
    const change = slow ? day : middle;
    if (!change) continue;
    const { value: amplitude, noise } = amplitudeOf({
      change,
      shape: shapeOf(standing, standing.direction),
      sigma: (m) => Math.sqrt(MIDDLE_VARIANCE * baseline.variance[m]!),
      seenAmplitude: standing.observedAmplitude,
    });
    standing.scans++;
    const least = standing.leastAmplitude;
    const peak = standing.peakAmplitude;
    const off = Math.max(OFF_PEAK_SHARE * Math.min(peak, 3 * least), OFF_SHARE * least, GONE_SHARE * peak);
    standing.below = amplitude < off || amplitude < OFF_SIGMA * noise ? standing.below + 1 : 0;
    if (standing.below >= offDelayOf(periodSeconds)) over.add(standing);
    if (amplitude > 0) standing.amplitude = amplitude;
    // Naming and following weigh peaks differently: what is compared later is measured alike.
    if (standing.scans <= SETTLING_SCANS && amplitude > off) {
      standing.raisedAmplitude = amplitude;
      standing.reportedAmplitude = amplitude;
      standing.peakAmplitude = amplitude;
    }
    standing.peakAmplitude = Math.max(standing.peakAmplitude, amplitude);
    const decades = Math.abs(Math.log10(Math.max(amplitude, off) / standing.reportedAmplitude));
    standing.moved = standing.below === 0 && decades > UPDATE_DECADES ? standing.moved + 1 : 0;
    const restless = standing.scans - standing.reportedScans < UPDATE_PAUSE && decades < 2 * UPDATE_DECADES;
    if (standing.moved >= UPDATE_SCANS && !restless) moved.push(standing);
  }
  return { moved, over };
}

/**
 * The fault per unit amplitude as this instrument showed it. Measured along the catalogue's pattern instead, peaks that
 * the fault does not have would pull its amplitude about.
 */
function shapeOf({ observed, observedAmplitude }: Standing, fallback: Vector): Float64Array {
  if (!observed || !(observedAmplitude > 0)) return typed(fallback);
  return typed(observed).map((value) => value / observedAmplitude);
}
