/**
 * What a control room would do without the watch: a chart per gas on the logarithm of its partial pressure. The gases come
 * from the same analysis, three scans in a row by their median, in base only and not in its first hour; centre and
 * spread from the first three days. A chart's reading is the largest over its gases, in whatever it counts; its
 * threshold is set afterwards, so that all charts give as many false alarms as the watch on the same quiet scans.
 */

import { median, sigmaFromMad } from '../../../shared/analysis/robust.ts';
import { advanceCusum, type CusumSums, startCusum } from '../../../shared/analysis/sequential/cusum.ts';
import { advanceEwma, ewmaLimit } from '../../../shared/analysis/sequential/ewma.ts';
import type { AnalysisScan, ScanAnalysis } from '../../../shared/analysis/types.ts';

export const CHARTS = ['limit', 'single values', 'EWMA', 'CUSUM'] as const;
export type Chart = (typeof CHARTS)[number];
export type ChartReading = Record<Chart, number>;

const TRAINING_SECONDS = 3 * 86_400;
const LEAST_TRAINING = 60;
const MASK_SECONDS = 3600;
const LEAST_SPREAD_DECADES = 0.01;
const EWMA = { weight: 0.1, width: 1 };
const CUSUM = { reference: 0.5, interval: Number.POSITIVE_INFINITY };
/** Of three scans that are the start of a chart, in its own spread. */
const FLOOR_SIGMAS = 3;

interface Trained {
  readonly centre: number;
  readonly spread: number;
}

export interface Charts {
  startedMs: number | null;
  state: string;
  stateSinceMs: number;
  lastMs: number;
  recent: Record<string, number>[];
  training: Record<string, number[]>;
  trained: Record<string, Trained> | null;
  averages: Record<string, number>;
  sums: Record<string, CusumSums>;
  /** Null while they learn or do not look. */
  reading: ChartReading | null;
}

export const emptyCharts = (): Charts => ({
  startedMs: null,
  state: '',
  stateSinceMs: 0,
  lastMs: 0,
  recent: [],
  training: {},
  trained: null,
  averages: {},
  sums: {},
  reading: null,
});

export function followCharts(charts: Charts, scan: AnalysisScan, analysis: ScanAnalysis): void {
  charts.startedMs ??= scan.atMs;
  if (scan.state !== charts.state || scan.atMs - charts.lastMs > MASK_SECONDS * 1000) {
    charts.state = scan.state;
    charts.stateSinceMs = scan.atMs;
    charts.recent = [];
  }
  charts.lastMs = scan.atMs;
  charts.reading = null;
  const masked =
    scan.atMs - charts.stateSinceMs < MASK_SECONDS * 1000 && scan.atMs - charts.startedMs > MASK_SECONDS * 1000;
  if (scan.state !== 'base' || masked) return;
  const now = logarithms(analysis);
  charts.recent.push(now);
  if (charts.recent.length > 3) charts.recent.shift();
  if (charts.trained === null) train(charts, now, scan.atMs);
  else charts.reading = read(charts, charts.trained);
}

/** log10 Pa; a gas below its floor stands at the floor. */
function logarithms({ gases }: ScanAnalysis): Record<string, number> {
  const out: Record<string, number> = {};
  for (const { gas, valuePa, sigmaPa } of gases) {
    const floor = FLOOR_SIGMAS * sigmaPa;
    const shown = Math.max(valuePa, floor);
    if (shown > 0) out[gas] = Math.log10(shown);
  }
  return out;
}

function train(charts: Charts, now: Record<string, number>, atMs: number): void {
  for (const [gas, value] of Object.entries(now)) {
    charts.training[gas] ??= [];
    charts.training[gas].push(value);
  }
  const scans = Math.max(0, ...Object.values(charts.training).map(({ length }) => length));
  if (atMs - charts.startedMs! < TRAINING_SECONDS * 1000 || scans < LEAST_TRAINING) return;
  const often = Object.entries(charts.training).filter(([, values]) => values.length > scans / 2);
  charts.trained = Object.fromEntries(
    often.map(([gas, values]) => [
      gas,
      { centre: median(values), spread: Math.max(LEAST_SPREAD_DECADES, sigmaFromMad(values)) },
    ]),
  );
  charts.training = {};
}

function read(charts: Charts, trained: Record<string, Trained>): ChartReading {
  const reading: ChartReading = { limit: 0, 'single values': 0, EWMA: 0, CUSUM: 0 };
  for (const [gas, { centre, spread }] of Object.entries(trained)) {
    const values = charts.recent.flatMap((scan) => scan[gas] ?? []);
    if (values.length === 0) continue;
    const above = median(values) - centre;
    const z = above / spread;
    const average = advanceEwma(charts.averages[gas] ?? 0, z, EWMA);
    const sums = advanceCusum(charts.sums[gas] ?? startCusum(CUSUM), z, CUSUM);
    charts.averages[gas] = average;
    charts.sums[gas] = sums;
    reading.limit = Math.max(reading.limit, above);
    reading['single values'] = Math.max(reading['single values'], z);
    reading.EWMA = Math.max(reading.EWMA, average / ewmaLimit(EWMA));
    reading.CUSUM = Math.max(reading.CUSUM, sums.high);
  }
  return reading;
}

/** Largest readings of twelve hours: an alarm that stands for half a day is one alarm. */
export const BLOCK_SECONDS = 12 * 3600;

/** The threshold with which `alarms` of the blocks call. */
export function thresholdOf(blocks: readonly number[], alarms: number): number {
  const sorted = [...blocks].sort((a, b) => b - a);
  return sorted[Math.min(sorted.length - 1, alarms)] ?? Number.POSITIVE_INFINITY;
}
