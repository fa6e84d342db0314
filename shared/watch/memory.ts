/**
 * What the watch remembers of one analyser between two batches: plain JSON, a few thousand numbers.
 *
 * Vectors run over a channel list: channel 0 is the gauge, channel i the i-th mass of the baseline. They are never
 * changed in place: a step replaces them, so that yesterday's memory stays what it was. None holds NaN: JSON has none.
 */

import type { MaximaBook } from './blockMaxima.ts';
import { type CalmBook, emptyCalm } from './calm.ts';
import type { Settling, Standing } from './conditions.ts';
import { copyInstrumentBook, type DetectorBook, emptyInstrumentBook, type InstrumentBook } from './instrumentMemory.ts';
import type { Kept } from './kept.ts';
import { copyOverTime, emptyOverTime, type OverTimeBook } from './overTime.ts';
import type { NoiseBook } from './scanNoise.ts';
import { copyStateBook, emptyStateBook, type StateBook } from './stateMemory.ts';
import type { WatchMemory } from './types.ts';

export const MEMORY_FORMAT = 1;

export type Vector = readonly number[];
export type { Settling, Standing };

/** One gas of the chamber's own background, as the baseline shows it. */
export interface OwnGas {
  gas: string;
  /** Pressure in the baseline, catalogue sensitivity, Pa. */
  pressurePa: number;
  /** Channel at which the gas is seen best, and how many sigma it stands out there. */
  marker: number;
  clarity: number;
  /** The same for its part of a channel, whoever owns the rest. */
  presence: number;
  /** Σ relative deviation² dt and Σ dt, days; local mean of the deviation. */
  wobble: { square: number; days: number; mean: number };
  /** d ln P / dT, 1/K, with the sums of its regression. */
  slope: number;
  regression: { weight: number; x: number; y: number; xx: number; xy: number };
}

/** What people see as usual for one gas: a thinned window of log10 Pa. */
export interface GasWindow {
  /** Thousandths of a decade; with their median and median absolute deviation. */
  values: number[];
  middle: number;
  deviation: number;
  /** Of all scans so far, those in which the gas was detected. */
  detected: number;
  scans: number;
  /** Seconds between kept values; the time of the newest. */
  strideSeconds: number;
  keptAtMs: number;
}

export interface Baseline {
  masses: Vector;
  scaled: boolean;
  /** With which it was learned, and which is in use now; `variance` is of the one in use. */
  detector: string | null;
  inUse: string | null;
  detectors: { [detector: string]: DetectorBook };
  /** First scans, until there are enough; then null. */
  first: Vector[] | null;
  /** Read noise of each of them, Pa; absent once they are learned. */
  firstNoisesPa?: number[];
  scans: number;
  days: number;
  sinceMs: number;
  untilMs: number;
  mean: Vector;
  variance: Vector;
  pinned: { mean: Vector; atMs: number } | null;
  /** The pin it was taken from, and since when; absent: it was learned. */
  pin?: { id: string; atMs: number };
  day: { sum: Vector; weight: number } | null;
  hasGauge: boolean;
  /** gauge / Σ s_i P_i of the baseline. */
  kappa: number;
  /** Common relative movement of all gases. */
  common: { mean: number; square: number; days: number };
  temperatureC: number | null;
  own: OwnGas[];
  gases: { [gas: string]: GasWindow };
  /** Scans in a row that did not fit this channel list. */
  misfits: number;
  /** What its null model rests on; absent until a scan is judged. Replaced, never changed. */
  kept?: Kept;
  /** How far its statistics reach out while all is quiet; absent until a scan is judged. Replaced, never changed. */
  maxima?: MaximaBook;
  /** Noise by measuring time; absent until a scan is judged, and in memories of before. Replaced, never changed. */
  noise?: NoiseBook;
}

export interface Track {
  /** Deviations of the last three scans. */
  recent: Vector[];
  /** `noise`: where its scans were not measured alike (scanNoise.ts). */
  mean: { sum: Vector; weight: number; noise?: number } | null;
  /** Noise of the last three scans over that of the usual measuring time; absent while all are alike. */
  levels?: number[];
  /** Scans in a row above threshold, per trigger and lane. */
  counts: { [trigger: string]: number };
  /** Scans judged since the state began. */
  judged?: number;
  /** A new peak that no trigger covers: its mass and for how long. */
  peak: { mass: number; scans: number };
  /** Naming that has not decided: tries, and the scan at which it tries again. */
  pending: { scans: number; tries: number; next: number; breathing?: number } | null;
  argon: { sinceMs: number | null; low: number; on: boolean; pulses: number[]; amplitudes: number[]; peak?: number };
}

export interface Memory {
  format: typeof MEMORY_FORMAT;
  calibration: string;
  lastAtMs: number | null;
  periodSeconds: number | null;
  /** The last gaps between scans, s: their median is the period. */
  gaps: number[];
  scans: number;
  state: string;
  stateSinceMs: number;
  previousState: string | null;
  /** End of the last vent, for the age of a pump-down tail. */
  ventEndedAtMs: number | null;
  /** The chamber lets gas in at times: a gap may hide that. */
  gasSeen: boolean;
  temperatureC: number | null;
  baselines: { [state: string]: Baseline };
  settling: Settling | null;
  carried: Settling | null;
  /** Largest spectrum of the short state that the chamber is in, and the masses it is given on. */
  visit: { masses: Vector; highest: Vector } | null;
  track: Track;
  standing: Standing[];
  quality: {
    /** Short digest of the last scan's values and how many scans repeated it. */
    digest: number;
    repeats: number;
    shared: number;
    top: number;
    topRepeats: number;
    /** Scans since the top height fell at once, ten at most; absent in memories of before. */
    sinceFall?: number;
    /** Lowest and highest of the second highest peak meanwhile; absent in memories of before. */
    second?: [number, number];
    /** Most repeats of one scan that ended by themselves; scans in a row without a value. Absent in memories of before. */
    usualRepeats?: number;
    empty?: number;
    /** Scans that differed from the one before: this source shows noise. */
    varied: number;
    scatter: number;
    noisy: number;
    lastTwo: Vector[];
    /** Their measuring times, s; absent while all are alike. */
    lastSeconds?: number[];
  };
  /** Latest estimates, newest last, for leak rates and sentences: [value, low, high] per gas. */
  estimates: { atMs: number; gases: { [gas: string]: [number, number, number, number] } }[];
  limits: { [gas: string]: { above: number; below: number } };
  instrument: InstrumentBook;
  calm: CalmBook;
  states: StateBook;
  overTime: OverTimeBook;
  /** `kappa`: what it usually is in base; in other states at rest: absent until they have been seen. */
  impossible: {
    above: number;
    below: number;
    kappa: number | null;
    scans: number;
    others?: { [state: string]: { kappa: number | null; scans: number } };
  };
}

export const emptyTrack = (): Track => ({
  recent: [],
  mean: null,
  counts: {},
  peak: { mass: 0, scans: 0 },
  pending: null,
  argon: { sinceMs: null, low: 0, on: false, pulses: [], amplitudes: [] },
});

export const emptyMemory = (calibration: string, state: string, atMs: number): Memory => ({
  format: MEMORY_FORMAT,
  calibration,
  lastAtMs: null,
  periodSeconds: null,
  gaps: [],
  scans: 0,
  state,
  stateSinceMs: atMs,
  previousState: null,
  ventEndedAtMs: null,
  gasSeen: false,
  temperatureC: null,
  baselines: {},
  settling: null,
  carried: null,
  visit: null,
  track: emptyTrack(),
  standing: [],
  quality: { digest: 0, repeats: 0, shared: 0, top: 0, topRepeats: 0, varied: 0, scatter: 1, noisy: 0, lastTwo: [] },
  estimates: [],
  limits: {},
  instrument: emptyInstrumentBook(),
  calm: emptyCalm(),
  states: emptyStateBook(),
  overTime: emptyOverTime(),
  impossible: { above: 0, below: 0, kappa: null, scans: 0 },
});

/** A memory that was written before detectors were followed holds no books of them. */
const copyBaseline = (baseline: Baseline): Baseline => ({
  ...baseline,
  inUse: baseline.inUse ?? baseline.detector,
  detectors: { ...baseline.detectors },
  common: { ...baseline.common },
});

/**
 * A draft of what was remembered, free to be changed; null when it is of another format (the watch starts anew).
 * Copied is what a step changes in place; vectors, windows and tails are replaced instead, so they are shared.
 */
export function draftOf(memory: WatchMemory | null): Memory | null {
  if (memory === null || memory.format !== MEMORY_FORMAT) return null;
  const m = memory as unknown as Memory;
  const { track } = m;
  const baselines: Memory['baselines'] = {};
  for (const state of Object.keys(m.baselines)) baselines[state] = copyBaseline(m.baselines[state]!);
  return {
    ...m,
    baselines,
    track: { ...track, pending: track.pending && { ...track.pending }, argon: { ...track.argon } },
    standing: m.standing.map((standing) => ({ ...standing })),
    quality: { ...m.quality },
    limits: { ...m.limits },
    instrument: m.instrument ? copyInstrumentBook(m.instrument) : emptyInstrumentBook(),
    calm: m.calm ?? emptyCalm(),
    states: copyStateBook(m.states),
    overTime: copyOverTime(m.overTime),
    impossible: { ...m.impossible },
  };
}

export const sealed = (memory: Memory): WatchMemory => memory as unknown as WatchMemory;
