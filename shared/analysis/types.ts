/**
 * What analysis takes and gives. Numbers in, numbers out: no clock, no I/O, no packages.
 * Arrays are indexed by mass unless said; pressures are in pascal and, where said, N2-equivalent.
 */
import type { ScanUnit } from '../contract/words.ts';

/** What is known about one analyser: from the fleet document, later also measured. */
export interface Calibration {
  readonly analyser: string;
  readonly principle: 'quadrupole' | 'ion trap';
  readonly massRange: readonly [number, number] | null;
  /** A/Pa for N2 on the Faraday detector; null: the sum is scaled to the total pressure. */
  readonly sensitivityAmperesPerPascal: number | null;
  readonly multiplierGain: number | null;
  /** t: the ion current at mass m is multiplied by (28/m)^t. */
  readonly transmissionExponent: number;
  /** Names what is in force, for tickets: changes whenever any of the values does. */
  readonly version: string;
  /** Standard deviation of ln(sensitivity for N2), from a certificate; absent: what a usual certificate is worth. */
  readonly sensitivityUncertainty?: number;
  /** The same of the gain and of the gauge factor, where a person has given them. */
  readonly multiplierGainUncertainty?: number;
  readonly gaugeFactorUncertainty?: number;
  /** The gauge's reading times this is the pressure at the analyser: a gauge at another port. Absent: 1. */
  readonly gaugeFactor?: number;
  /** Patterns measured on this analyser from scans that a person marked as one pure gas. Absent: the catalogue's. */
  readonly patterns?: readonly LearnedPattern[];
  /** What the analyser shows of itself, recorded by a person. */
  readonly background?: Background | null;
}

/** Fragments of one gas on one analyser, from scans of the pure gas. */
export interface LearnedPattern {
  readonly gas: string;
  /** Integer mass → height, largest = 100; masses that were measured and empty are 0. */
  readonly peaks: Readonly<Record<number, number>>;
  /** Standard deviation of ln(fragment / largest) per fragment: what repeated scans leave open. */
  readonly fragmentUncertainty: number;
  /** N2-equivalent Pa at the largest peak per Pa of the gas; null: the amount was not known. */
  readonly responseAtLargest: number | null;
  /** Standard deviation of its logarithm; null when there is none. */
  readonly responseUncertainty: number | null;
}

/** The analyser's own gas: heights that are there with the valve to the chamber closed, or beyond what a second analyser sees. */
export interface Background {
  /** Integer mass → N2-equivalent Pa with one standard deviation. */
  readonly peaks: Readonly<Record<number, { readonly heightPa: number; readonly sigmaPa: number }>>;
  /** Relative standard deviation with which it comes and goes as a whole. */
  readonly unsteadiness: number;
}

/** A stored scan as analysis sees it. `values[i]` is NaN where not measured. */
export interface AnalysisScan {
  readonly analyser: string;
  readonly id: string;
  /** Start of acquisition, milliseconds since 1970. */
  readonly atMs: number;
  readonly seconds: number;
  readonly averages: number;
  readonly masses: { readonly first: number; readonly last: number; readonly perUnit: number } | readonly number[];
  readonly values: Float64Array;
  readonly unit: ScanUnit;
  readonly detector: 'faraday' | 'multiplier' | null;
  /** Ionisation gauge, N2-equivalent; null when none came with the scan. */
  readonly totalPressurePa: number | null;
  readonly state: string;
  readonly temperatureC: number | null;
}

/** Peak heights of one scan, one per integer mass that was measured. */
export interface PeakList {
  /** Integer masses, ascending. */
  readonly masses: readonly number[];
  /** N2-equivalent pressure per mass, Pa; may be negative. NaN: not measured. */
  readonly heightPa: Float64Array;
  /** Read noise of one height, Pa (one sigma), at m/z 28; at mass m × (m/28)^transmissionExponent for ion currents. */
  readonly readNoisePa: number;
  /** Shot noise: variance = shotPa * height (Pa), at m/z 28 likewise. */
  readonly shotPa: number;
  /** Heights are pascal (true) or have no scale (false): then only ratios mean anything. */
  readonly scaled: boolean;
  readonly notes: readonly { readonly code: string; readonly text: string }[];
}

/** What earlier scans of an analyser say of it: plain JSON, only shared/analysis/instrument looks inside. */
export type InstrumentMemory = { readonly [key: string]: unknown };

/** How one scan was measured: what a health page shows of the analyser, and what a reading rests on. */
export interface Measurement {
  readonly detector: 'faraday' | 'multiplier' | null;
  /** seconds × averages: changes faster than this are not seen. */
  readonly responseSeconds: number;
  /** Peaks stand at mass + offset + slope · (mass − pivot); null: bars, or no peak to tell by. */
  readonly massScale: { readonly offsetU: number; readonly slope: number; readonly pivot: number } | null;
  /** Full width of a peak at 50, 10 and 5 % of its height, u; null as above. */
  readonly widthU: { readonly half: number; readonly tenth: number; readonly twentieth: number } | null;
  /** One standard deviation of a height at m/z 28, N2-equivalent Pa; null without a scale. */
  readonly readNoisePa: number | null;
  readonly noiseFrom: 'earlier scans' | 'empty masses' | 'steps' | 'assumed';
  /** Gain that was used for a multiplier scan. */
  readonly gain: {
    readonly value: number;
    /** Standard deviation of its logarithm. */
    readonly uncertainty: number;
    readonly from: 'pair' | 'record';
    /** When the pair was measured. */
    readonly atMs: number | null;
  } | null;
  /** Noise alone, per gas: the pressure whose reference peak is one standard deviation high, Pa. */
  readonly noisePerGasPa: Readonly<Record<string, number>>;
  /**
   * Standard deviations of ln(pressure) per gas that no noise and no pattern enters: in the absolute pressure; in its
   * ratio to another gas of the same analyser, where gain and scale drop out; and the part of the latter that is the
   * catalogue's and the same on every analyser.
   */
  readonly sensitivityErrors?: Readonly<
    Record<string, { readonly absolute: number; readonly ratio: number; readonly catalogue: number }>
  >;
  /** Low-mass foot: what was taken off m/z 2, N2-equivalent Pa, and its share of that peak. */
  readonly foot: { readonly removedPa: number; readonly share: number } | null;
  /** Ions from surfaces, without a gas: N2-equivalent Pa at their mass, and share of that peak. */
  readonly desorbed: readonly {
    readonly ion: string;
    readonly mass: number;
    readonly heightPa: number;
    readonly share: number;
  }[];
  /** The analyser's own part of each gas that its background holds, 0 to 1. */
  readonly ownGas: readonly { readonly gas: string; readonly share: number }[];
  /** Masses that were not used, and why. */
  readonly leftOut: readonly { readonly mass: number; readonly why: 'cut off' | 'drop-out' }[];
  /** Gases of which only the sum is known. */
  readonly groups: readonly {
    readonly gases: readonly string[];
    readonly sumPa: number;
    readonly lowPa: number;
    readonly highPa: number;
    readonly correlation: number;
  }[];
  /** Unexplained peaks and gases of the whole catalogue that would give them, best first. */
  readonly candidates: readonly { readonly mass: number; readonly share: number; readonly gases: readonly string[] }[];
}

/** What has been learned of an analyser over its scans, for people. */
export interface InstrumentView {
  readonly gain: {
    readonly value: number;
    readonly uncertainty: number;
    readonly atMs: number;
    readonly pairs: number;
  } | null;
  readonly massScale: {
    readonly offsetU: number;
    readonly usualOffsetU: number;
    readonly slope: number;
    readonly atMs: number;
  } | null;
  /** From differences of successive scans, at m/z 28. */
  readonly noise: { readonly sigmaPa: number; readonly scans: number } | null;
  /** gauge / Σ s P: median-like centre, standard deviation of its logarithm, and whether it has stood still. */
  readonly kappa: {
    readonly usual: number;
    readonly spread: number;
    readonly scans: number;
    readonly sinceMs: number;
    readonly atMs: number;
    readonly steady: boolean;
  } | null;
  /** Allan deviation of heights: `sigmaPa[k]` for averages of `scans[k]` scans; null: not yet known. */
  readonly allan: {
    readonly periodSeconds: number;
    readonly averages: number;
    readonly sinceMs: number;
    readonly scans: readonly number[];
    readonly masses: readonly { readonly mass: number; readonly sigmaPa: readonly (number | null)[] }[];
  } | null;
  /** Gases that have moved in step with another one for long: perhaps a fragment of it that is stronger here. */
  readonly lookAlikes: readonly {
    readonly gas: string;
    readonly parent: string;
    readonly ratio: number;
    readonly scans: number;
  }[];
}

export interface GasEstimate {
  readonly gas: string;
  /** Best estimate, Pa; 0 is possible, and then `detected` is false. */
  readonly valuePa: number;
  readonly lowPa: number;
  readonly highPa: number;
  readonly detected: boolean;
  /** One sigma of a *change* of this gas in its own scale (noise and the other gases' patterns), Pa. */
  readonly sigmaPa: number;
}

/** The analysis of one scan. `gases` is empty only when nothing could be said: see `notes`. */
export interface ScanAnalysis {
  readonly gases: readonly GasEstimate[];
  /** Sum of partial pressures, Pa. */
  readonly sumPa: number | null;
  /** Minimum detectable partial pressure, N2-equivalent, 3 sigma, Pa. */
  readonly floorPa: number | null;
  /** log10(largest peak / floor). */
  readonly decades: number | null;
  /** Share of the signal that no gas explains. */
  readonly unexplained: number | null;
  /**
   * gauge / sum of P_i s_i, with the gauge's gas factors; null without a gauge, and null when the pressures were scaled
   * to the gauge (it would be 1 by construction).
   */
  readonly kappa: number | null;
  readonly chiSquarePerDof: number | null;
  /** Peaks with what explains them, for spectra. Shares follow `partGases`. */
  readonly peaks: readonly {
    readonly mass: number;
    readonly heightPa: number;
    readonly sigmaPa: number;
    readonly parts: readonly { readonly gas: string; readonly share: number }[];
    readonly unexplained: number;
    /** Height minus all that explains it, N2-equivalent Pa. */
    readonly residualPa?: number;
  }[];
  readonly notes: readonly { readonly code: string; readonly text: string }[];
  /** N2 and CO of which only the sum is known in this scan (note `cannot-separate`); absent when they can be told apart. */
  readonly inseparable?: {
    readonly gases: readonly [string, string];
    readonly sumPa: number;
    readonly lowPa: number;
    readonly highPa: number;
    readonly correlation: number;
  };
  /** Absent only where a test makes an analysis by hand. */
  readonly measurement?: Measurement;
}
