/** Readings and the latest of each analyser as rows. */
import { packEstimates } from '../shared/db/codec.ts';
import type { StoredSpectrum } from '../shared/db/tables.ts';
import type { AnalyserOutcome, Outcome } from './calculate.ts';

/** `real` columns refuse what float32 cannot hold. */
const GREATEST_FLOAT32 = 3.4e38;

const finite = (value: number | null | undefined): number | null =>
  value == null || !Number.isFinite(value) ? null : value;
const real = (value: number | null | undefined): number | null => {
  const known = finite(value);
  return known === null || Math.abs(known) > GREATEST_FLOAT32 ? null : known;
};

/** The gases that a reading lists, in order; empty when it gives no answer. */
export const gasesOf = (outcome: Outcome): string[] => (outcome.analysis?.gases ?? []).map(({ gas }) => gas);

export interface ReadingRow {
  readonly analyser: string;
  readonly at: Date;
  readonly scanId: string;
  readonly state: string;
  readonly gasList: number;
  readonly estimates: Buffer | null;
  readonly detected: Buffer | null;
  readonly gaugePa: number | null;
  readonly sumPa: number | null;
  readonly floorPa: number | null;
  readonly decades: number | null;
  readonly unexplained: number | null;
  readonly kappa: number | null;
  readonly notes: Outcome['notes'];
  readonly calibrationVersion: string;
  readonly catalogueVersion: string;
  readonly judged: boolean;
}

export const readingRow = (outcome: Outcome, gasList: number): ReadingRow => {
  const { work, analysis } = outcome;
  const packed = analysis && analysis.gases.length > 0 ? packEstimates(analysis.gases) : null;
  return {
    analyser: work.analyser,
    at: work.at,
    scanId: work.scanId,
    state: outcome.state,
    gasList,
    estimates: packed?.estimates ?? null,
    detected: packed?.detected ?? null,
    gaugePa: finite(work.scan?.totalPressurePa),
    sumPa: finite(analysis?.sumPa),
    floorPa: finite(analysis?.floorPa),
    decades: real(analysis?.decades),
    unexplained: real(analysis?.unexplained),
    kappa: real(analysis?.kappa),
    notes: outcome.notes,
    calibrationVersion: outcome.calibrationVersion,
    catalogueVersion: outcome.catalogueVersion,
    judged: outcome.judged,
  };
};

/** The peaks of an outcome with what is usual in its state beside them; null: it has none. */
export const spectrumOf = (outcome: Outcome, { baselines }: AnalyserOutcome): StoredSpectrum | null => {
  const { scan } = outcome.work;
  if (!outcome.analysis || !scan || outcome.analysis.peaks.length === 0) return null;
  const usual = baselines.find(({ state }) => state === outcome.state)?.peaks ?? {};
  return {
    scanId: scan.id,
    seconds: scan.seconds,
    averages: scan.averages,
    detector: scan.detector,
    peaks: outcome.analysis.peaks.map((peak) => ({
      mass: peak.mass,
      value: finite(peak.heightPa),
      sigma: finite(peak.sigmaPa),
      baseline: finite(usual[peak.mass]),
      parts: peak.parts.map(({ gas, share }) => ({ gas, share })),
      unexplained: peak.unexplained,
    })),
  };
};
