/** Readings and the latest of each analyser as rows. */
import type { ScanAnalysis } from '../shared/analysis/types.ts';
import { packEstimates } from '../shared/db/codec.ts';
import type { StoredMeasurement, StoredSpectrum } from '../shared/db/tables.ts';
import type { AnalyserOutcome, Outcome } from './outcome.ts';

const finite = (value: number | null | undefined): number | null =>
  value == null || !Number.isFinite(value) ? null : value;
/** `real` columns refuse what float32 cannot hold, the too great as the too small: no answer, and zero. */
const real = (value: number | null | undefined): number | null => finite(value == null ? null : Math.fround(value));

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
  readonly chiSquarePerDof: number | null;
  readonly detector: string | null;
  readonly massOffsetU: number | null;
  readonly widthU: number | null;
  readonly readNoisePa: number | null;
  readonly gain: number | null;
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
    chiSquarePerDof: real(analysis?.chiSquarePerDof),
    detector: work.scan?.detector ?? null,
    massOffsetU: real(analysis?.measurement?.massScale?.offsetU),
    widthU: real(analysis?.measurement?.widthU?.half),
    readNoisePa: finite(analysis?.measurement?.readNoisePa),
    gain: real(analysis?.measurement?.gain?.value),
    notes: outcome.notes,
    calibrationVersion: outcome.calibrationVersion,
    catalogueVersion: outcome.catalogueVersion,
    judged: outcome.judged,
  };
};

/** @param usual mass → N2-equivalent Pa */
export const peaksOf = (
  { peaks }: Pick<ScanAnalysis, 'peaks'>,
  usual: Readonly<Record<string, number>>,
): StoredSpectrum['peaks'] =>
  peaks.map((peak) => ({
    mass: peak.mass,
    value: finite(peak.heightPa),
    sigma: finite(peak.sigmaPa),
    baseline: finite(usual[peak.mass]),
    parts: peak.parts.map(({ gas, share }) => ({ gas, share })),
    unexplained: peak.unexplained,
    residual: finite(peak.residualPa),
  }));

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
    peaks: peaksOf(outcome.analysis, usual),
  };
};

/** How the scan was measured, with its fit beside it; null: it has no answer. */
export const measurementOf = ({ analysis }: Outcome): StoredMeasurement | null =>
  analysis?.measurement ? { ...analysis.measurement, chiSquarePerDof: finite(analysis.chiSquarePerDof) } : null;
