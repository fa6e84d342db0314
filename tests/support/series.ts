/**
 * Many scans of one simulated analyser: detector, gain, saturation, lost values, a state, and noise that grows. The
 * chamber and the analyser's patterns stay those of tests/support/instrument.ts.
 */

import type { Answer } from '../../shared/analysis/analyse.ts';
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import type { AnalysisScan, Calibration, InstrumentMemory } from '../../shared/analysis/types.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import {
  type Composition,
  type Random,
  type ScanSettings,
  type SimulatedAnalyser,
  simulateScan,
} from './instrument.ts';

export interface SeriesScan {
  readonly truth: Composition;
  readonly settings: ScanSettings;
  readonly atMs: number;
  readonly detector?: 'faraday' | 'multiplier';
  /** True gain of the multiplier. */
  readonly gain?: number;
  /** The noise at the electrometer stays; the multiplier lifts the ions above it. */
  readonly gaugePa?: number | null;
  readonly state?: string;
  /** Masses whose value is lost and written as zero. */
  readonly lost?: readonly number[];
  /** Values end here, in the unit of the scan. */
  readonly fullScale?: number;
}

export function seriesScan(random: Random, analyser: SimulatedAnalyser, wanted: SeriesScan): AnalysisScan {
  const { scan } = simulateScan(random, analyser, wanted.truth, wanted.settings);
  const lift = wanted.detector === 'multiplier' ? (wanted.gain ?? 1) : 1;
  const first = 'perUnit' in scan.masses ? scan.masses.first : 0;
  const perUnit = 'perUnit' in scan.masses ? scan.masses.perUnit : 1;
  const values = scan.values.map((value, i) => {
    if (wanted.lost?.includes(Math.round(first + i / perUnit))) return 0;
    return Math.min(value * lift, wanted.fullScale ?? Number.POSITIVE_INFINITY);
  });
  return {
    ...scan,
    id: String(wanted.atMs),
    atMs: wanted.atMs,
    values,
    detector: wanted.detector ?? scan.detector,
    totalPressurePa: wanted.gaugePa ?? null,
    state: wanted.state ?? 'base',
  };
}

/** Each scan with the memory that the one before left, as workers do it. */
export function analyseSeries(
  scans: readonly AnalysisScan[],
  calibration: Calibration,
  begin: InstrumentMemory | null = null,
): { answers: Answer[]; memory: InstrumentMemory | null } {
  const analyser = makeAnalyser(calibration, catalogueFor([]));
  const answers: Answer[] = [];
  let memory = begin;
  for (const scan of scans) {
    const answer = analyser.analyse(scan, memory);
    memory = answer.instrument;
    answers.push(answer);
  }
  return { answers, memory };
}

export const calibrationOf = (changes: Partial<Calibration> = {}): Calibration => ({
  analyser: 'simulated',
  principle: 'quadrupole',
  massRange: null,
  sensitivityAmperesPerPascal: 6e-7,
  multiplierGain: 1e4,
  transmissionExponent: 0,
  version: 'simulated',
  ...changes,
});
