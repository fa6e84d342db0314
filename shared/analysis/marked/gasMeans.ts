import type { Catalogue } from '../../catalogue/types.ts';
import { makeAnalyser } from '../analyse.ts';
import type { AnalysisScan, Calibration, ScanAnalysis } from '../types.ts';
import { hasMoved, steadiness } from './steadiness.ts';

/** One analyser's gases over a period, for a comparison with another analyser. */
export interface AnalysedPeriod {
  readonly scans: readonly AnalysisScan[];
  readonly calibration: Calibration;
  readonly catalogue: Catalogue;
}

export interface GasMean {
  readonly valuePa: number;
  /** Noise and the other gases' patterns; the latter all scans share, so that averaging does not lessen it. */
  readonly sigmaPa: number;
  /** In more than half of the scans. */
  readonly detected: boolean;
  readonly perScanPa: readonly number[];
}

/** An undetected gas has a limit of 95 %. */
const LIMIT_IN_SIGMAS = 1.96;

export function analysePeriod({ scans, calibration, catalogue }: AnalysedPeriod): ScanAnalysis[] {
  const analyser = makeAnalyser({ ...calibration, background: null }, catalogue);
  return [...scans].sort((a, b) => a.atMs - b.atMs).map((scan) => analyser.analyse(scan).analysis);
}

export function gasMeans(analyses: readonly ScanAnalysis[]): ReadonlyMap<string, GasMean> {
  const values = new Map<string, { value: number; sigma: number; detected: boolean }[]>();
  for (const { gases } of analyses) {
    for (const { gas, valuePa, sigmaPa, highPa, detected } of gases) {
      const one = { value: valuePa, sigma: detected ? sigmaPa : highPa / LIMIT_IN_SIGMAS, detected };
      values.set(gas, [...(values.get(gas) ?? []), one]);
    }
  }
  return new Map([...values].map(([gas, list]) => [gas, meanOf(list)]));
}

function meanOf(list: readonly { value: number; sigma: number; detected: boolean }[]): GasMean {
  const mean = (of: (one: (typeof list)[number]) => number) =>
    list.reduce((sum, one) => sum + of(one), 0) / list.length;
  return {
    valuePa: mean(({ value }) => value),
    sigmaPa: Math.sqrt(mean(({ sigma }) => sigma ** 2)),
    detected: list.filter(({ detected }) => detected).length > list.length / 2,
    perScanPa: list.map(({ value }) => value),
  };
}

/** A gas from this share of the sum on tells whether the chamber stood still. */
const MAIN_SHARE = 0.05;
const STOOD_WITHIN = 1.3;

/** The main gas that moved most over the period, with its course; null: the chamber stood still. */
export function movedGas(means: ReadonlyMap<string, GasMean>): { gas: string; course: number } | null {
  const sum = [...means.values()].reduce((total, { valuePa }) => total + valuePa, 0);
  const moved = [...means]
    .filter(([, { valuePa, detected }]) => detected && valuePa > MAIN_SHARE * sum)
    .map(([gas, { perScanPa }]) => ({ gas, ...steadiness(perScanPa) }))
    .filter((found) => hasMoved(found, STOOD_WITHIN))
    .sort((a, b) => Math.abs(Math.log(b.course)) - Math.abs(Math.log(a.course)));
  return moved[0] ?? null;
}
