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
  /** Names what is in force, for tickets: changes whenever any of the above does. */
  readonly version: string;
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
}
