/** The latest partial pressures, so that a sentence rests on several scans and not on one. */
import type { GasEstimate } from '../analysis/types.ts';
import { median } from './channels.ts';
import { usualOf } from './gasBaseline.ts';
import type { Baseline, Memory } from './memory.ts';

const KEPT_SCANS = 3;

export interface Estimate {
  readonly valuePa: number;
  readonly lowPa: number;
  readonly highPa: number;
  /** One sigma of a change, Pa. */
  readonly sigmaPa: number;
  readonly detected: boolean;
}

export function rememberEstimates(memory: Memory, gases: readonly GasEstimate[], atMs: number): void {
  const row: Memory['estimates'][number] = { atMs, gases: {} };
  for (const { gas, valuePa, lowPa, highPa, sigmaPa, detected } of gases) {
    const known =
      Number.isFinite(valuePa) && Number.isFinite(lowPa) && Number.isFinite(highPa) && Number.isFinite(sigmaPa);
    // A negative sigma marks what was not detected: JSON stays four numbers.
    if (known) row.gases[gas] = [valuePa, lowPa, highPa, detected ? sigmaPa : -sigmaPa];
  }
  memory.estimates = [...memory.estimates, row].slice(-KEPT_SCANS);
}

/** Median over the last three scans; null when the gas is not among them. */
export function latestOf(memory: Memory, gas: string): Estimate | null {
  const rows = memory.estimates.flatMap(({ gases }) => (gases[gas] ? [gases[gas]] : []));
  if (rows.length === 0) return null;
  const pick = (i: 0 | 1 | 2) => median(rows.map((row) => row[i]));
  return {
    valuePa: pick(0),
    lowPa: pick(1),
    highPa: pick(2),
    sigmaPa: median(rows.map((row) => Math.abs(row[3]))),
    detected: rows.filter((row) => row[3] > 0).length * 2 > rows.length,
  };
}

export interface Change {
  readonly now: Estimate;
  /** Usual pressure, Pa; null when nothing is known or it was below detection. */
  readonly usualPa: number | null;
  readonly usualLowPa: number | null;
  readonly usualHighPa: number | null;
  /** Factor over the usual; `atLeast` when the usual is only an upper limit. */
  readonly factor: number | null;
  readonly atLeast: boolean;
}

export function changeOf(memory: Memory, baseline: Baseline | undefined, gas: string): Change | null {
  const now = latestOf(memory, gas);
  if (!now) return null;
  const usual = usualOf(baseline, gas);
  if (!usual) return { now, usualPa: null, usualLowPa: null, usualHighPa: null, factor: null, atLeast: false };
  const usualPa = 10 ** usual.medianLog10Pa;
  return {
    now,
    usualPa: usual.seen ? usualPa : null,
    usualLowPa: usual.seen ? 10 ** (usual.medianLog10Pa - usual.halfWidthDecades) : 0,
    usualHighPa: 10 ** (usual.medianLog10Pa + (usual.seen ? usual.halfWidthDecades : 0)),
    factor: now.valuePa > 0 ? now.valuePa / usualPa : null,
    atLeast: !usual.seen,
  };
}
