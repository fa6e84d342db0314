/** What the watch remembers of the analyser itself, beside what it remembers of the chamber. Plain JSON. */
import type { Vector } from './memory.ts';
import type { Scale } from './scale.ts';

/** One detector of the analyser, against a baseline. */
export interface DetectorBook {
  /** Scan-to-scan variance with this detector while another is in use; null: it is in use. */
  variance: Vector | null;
  /** What this detector shows over what the baseline has of the same gas. */
  trim: number;
  /** By which its currents were divided, null: none; and whether that was measured from a pair of scans. */
  gain: number | null;
  measured: boolean;
  /** Scans with it, and days of quiet with it. */
  scans: number;
  days: number;
}

/** What a switch between detectors has shown of the multiplier. */
export interface GainSeen {
  /** Multiplier over Faraday detector, same gas. */
  readonly ratio: number;
  /** Clear peaks, and those of them that stepped alike. */
  readonly peaks: number;
  readonly alike: number;
  /** Gauge after over gauge before; null: none. */
  readonly gauge: number | null;
  readonly gainOnRecord: number | null;
}

/** Where the peaks of profiles stand: position error at mass m is `zero + slope · m`, u. */
export interface MassScaleBook {
  /** The last positions, newest last; the middle one of three is judged. */
  recent: { zero: number; slope: number }[];
  usual: { zero: number; slope: number; scans: number } | null;
  beyond: number;
  within: number;
}

/** κ over days: the reference moves with a month's time constant and stands still while an alert about it does. */
export interface KappaBook {
  /** Natural logarithms: κ, gauge and the gauge's equivalent of the partial pressures, when all was well. */
  usual: { kappa: number; gauge: number; sum: number } | null;
  /** Running means of about 25 scans, and their weight. */
  now: { kappa: number; gauge: number; sum: number; weight: number };
  /** Scatter of the running mean about a day's mean: Σ square, seconds. */
  local: number;
  square: number;
  seconds: number;
  scans: number;
  above: number;
  below: number;
}

export interface InstrumentBook {
  /** What the heights rest on; null: a memory from before this was kept. */
  scale: Scale | null;
  massScale: MassScaleBook;
  kappa: KappaBook;
  /** Scans with drop-outs among the latest, by the count of scans. */
  dropOuts: { scan: number; masses: number[] }[];
  /** Scans in a row with a peak that was cut off. */
  cutOff: number;
  /** What the last switch of the detector has shown of a gain on record, and for how many scans that has stood. */
  gain: { seen: GainSeen | null; scans: number };
  /** The last spectra on the detector that is not in use. */
  aside: { detector: string; lastTwo: Vector[]; atMs: number } | null;
}

export const emptyKappaBook = (): KappaBook => ({
  usual: null,
  now: { kappa: 0, gauge: 0, sum: 0, weight: 0 },
  local: 0,
  square: 0,
  seconds: 0,
  scans: 0,
  above: 0,
  below: 0,
});

export const emptyMassScaleBook = (): MassScaleBook => ({ recent: [], usual: null, beyond: 0, within: 0 });

export const emptyInstrumentBook = (): InstrumentBook => ({
  scale: null,
  massScale: emptyMassScaleBook(),
  kappa: emptyKappaBook(),
  dropOuts: [],
  cutOff: 0,
  gain: { seen: null, scans: 0 },
  aside: null,
});

/** Copied is what a step changes in place. */
export const copyInstrumentBook = (book: InstrumentBook): InstrumentBook => ({
  ...book,
  massScale: { ...book.massScale },
  kappa: { ...book.kappa },
});
