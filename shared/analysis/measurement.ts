import type { FoundGases } from './findings.ts';
import type { Fit } from './fit.ts';
import type { ScanHeights } from './heights.ts';
import type { Scaling } from './scaling.ts';
import { CALIBRATION_MASS } from './sensitivity.ts';
import type { AnalysisScan, Calibration, Measurement } from './types.ts';

interface Measured {
  readonly scan: AnalysisScan;
  readonly calibration: Calibration;
  readonly heights: ScanHeights;
  readonly fit: Fit | null;
  /** Pa per unit of the heights; null: they have no scale. */
  readonly factor: number | null;
  readonly scaling?: Scaling;
  /** Null without a scale. */
  readonly found: Omit<FoundGases, 'gases' | 'notes' | 'pair'> | null;
}

const NOTHING_FOUND = { groups: [], candidates: [], ownGas: [], foot: null, desorbed: [] } as const;

/** How the scan was measured. */
export function measurementOf(question: Measured): Measurement {
  const { scan, heights, factor } = question;
  const { measured } = heights;
  const { groups, candidates, ownGas, foot, desorbed } = question.found ?? NOTHING_FOUND;
  return {
    detector: scan.detector,
    responseSeconds: scan.seconds * scan.averages,
    massScale: measured.massScale,
    widthU: measured.widthU,
    readNoisePa: factor === null ? null : heights.readNoiseAt28 * factor,
    noiseFrom: measured.noiseFrom,
    gain: measured.gain,
    noisePerGasPa: noisePerGas(question),
    ...(question.scaling && question.fit
      ? { sensitivityErrors: sensitivityErrors(question.fit, question.scaling) }
      : {}),
    foot,
    desorbed,
    ownGas,
    leftOut: measured.leftOut,
    groups,
    candidates,
  };
}

/** Read noise of the reference peak over what a pascal of the gas makes there; the transmission lifts both alike. */
function noisePerGas({ scan, calibration, heights, fit, factor }: Measured): Record<string, number> {
  const out: Record<string, number> = {};
  if (fit === null || factor === null) return out;
  const { design } = fit;
  const exponent = scan.unit === 'A' || scan.unit === '1' ? calibration.transmissionExponent : 0;
  for (let j = 0; j < design.gasCount; j++) {
    const { id, peakResponse, referenceMass, reportable } = design.columns[j]!;
    const read = heights.readNoiseAt28 * factor * (referenceMass / CALIBRATION_MASS) ** exponent;
    if (reportable) out[id] = read / peakResponse;
  }
  return out;
}

/** To a hundredth of a per cent: it is stored with every newest reading. */
const short = (value: number): number => Math.round(1e4 * value) / 1e4;

function sensitivityErrors({ design }: Fit, scaling: Scaling): NonNullable<Measurement['sensitivityErrors']> {
  const out: Record<string, { absolute: number; ratio: number; catalogue: number }> = {};
  for (let j = 0; j < design.gasCount; j++) {
    const { id, reportable, sensitivityError, catalogueError } = design.columns[j]!;
    if (!reportable) continue;
    const absolute = scaling.sensitivityError(j);
    out[id] = { absolute: short(absolute), ratio: short(sensitivityError), catalogue: catalogueError };
  }
  return out;
}
