/** What is remembered of conditions: the tail of a state, and what stands until it is over. Plain JSON. */
import type { Before } from './calm.ts';
import type { Vector } from './memory.ts';

export interface Settling {
  atMs: number;
  /** Seconds over which a tail halves at first. */
  scaleSeconds: number;
  short: boolean;
  /** Height of the tail now; excess over the baseline granted at the start; baseline at the start. */
  envelope: Vector;
  granted: Vector;
  /** What of the grants is left now; absent at the start and in memories of before. */
  room?: Vector;
  start: Vector;
  /** What stood out at the start: a direction that explains nothing but the tail. */
  direction: Vector;
  recent: Vector[];
  /** After a short state: how far each channel stood above base in it; null when it was not seen. */
  letIn: Vector | null;
  /** Channels of which is known how much is left of what was let in, with the share of it that an hour leaves (usualTail.ts). */
  known?: Readonly<Record<string, number>>;
  /** The state it came from, how long after it and with how much over the usual; until it is learned from (usualTail.ts). */
  began?: { state: string; seconds: number; excess: Vector };
  /** A longer settling underneath a short one. */
  under: Settling | null;
}

/** An open condition that stands in the spectrum (or, without a direction, in the data). */
export interface Standing {
  signature: string;
  cause: string;
  gases: string[];
  priority: string;
  state: string;
  lane: string;
  raisedAtMs: number;
  /** Cause per unit amplitude, the change as it was seen, amplitude now, at the raise, at its peak, and the least worth a call. */
  direction: Vector | null;
  observed: Vector | null;
  /** Amplitude that belongs to `observed`. */
  observedAmplitude: number;
  /** How the spectrum stood just before; absent in memories of before. */
  before?: Before | null;
  amplitude: number;
  raisedAmplitude: number;
  peakAmplitude: number;
  leastAmplitude: number;
  /** Scans in a row below, and scans in a row far from what was last reported. */
  below: number;
  moved: number;
  reportedAmplitude: number;
  reportedAtMs: number;
  /** `scans` at the last report. */
  reportedScans: number;
  sureness: string;
  scans: number;
  /** The baseline it was judged against is gone: only a person ends it. */
  held: boolean;
}
