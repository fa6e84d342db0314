/**
 * What people see as usual: median and spread of log10 Pa per gas and operating state, from quiet scans. Logarithms,
 * because loads are positive and multiply; median and MAD, because one bad hour must not move them (sigma = 1.4826 MAD,
 * Rousseeuw & Croux, J. Am. Stat. Assoc. 88 (1993) 1273).
 *
 * The window holds at most 64 values however long the history: when it is full every second one is dropped and the
 * stride doubles, until 64 values span a fortnight; from then on the oldest leaves.
 */
import type { GasEstimate } from '../analysis/types.ts';
import { median } from './channels.ts';
import type { Baseline, GasWindow, Memory } from './memory.ts';
import { DAY, DEAD_BAND_DECADES } from './parameters.ts';
import type { BaselineView, DriftMark } from './types.ts';

const MOST_VALUES = 64;
const LONGEST_STRIDE = (14 * DAY) / MOST_VALUES;
const MAD_TO_SIGMA = 1.4826;
/** Sigma from a few values is worth little: 0.05 decade, worth ten scans. */
const PRIOR_SIGMA = 0.05;
const PRIOR_SCANS = 10;
/** The usual range is drawn at ±3 sigma, never narrower than the dead band. */
const USUAL_SIGMAS = 3;

/** The windows are replaced, never changed: drafts and the memory before share them. */
export function learnGases(baseline: Baseline, gases: readonly GasEstimate[], atMs: number): void {
  const windows = { ...baseline.gases };
  for (const estimate of gases) {
    // A gas that is not detected is known from above: its upper limit stands for it.
    const pressurePa = estimate.detected ? estimate.valuePa : estimate.highPa;
    if (!(pressurePa > 0)) continue;
    const window = windows[estimate.gas] ?? EMPTY;
    windows[estimate.gas] = keep(window, Math.round(1000 * Math.log10(pressurePa)), estimate.detected, atMs);
  }
  baseline.gases = windows;
}

const EMPTY: GasWindow = {
  values: [],
  middle: 0,
  deviation: 0,
  detected: 0,
  scans: 0,
  strideSeconds: 0,
  keptAtMs: 0,
};

function keep(window: GasWindow, value: number, detected: boolean, atMs: number): GasWindow {
  // Written out: a spread costs several times as much, and this is done for every gas of every quiet scan.
  const counted: GasWindow = {
    values: window.values,
    middle: window.middle,
    deviation: window.deviation,
    detected: window.detected + (detected ? 1 : 0),
    scans: window.scans + 1,
    strideSeconds: window.strideSeconds,
    keptAtMs: window.keptAtMs,
  };
  const since = (atMs - window.keptAtMs) / 1000;
  if (window.values.length > 0 && since < window.strideSeconds) return counted;
  let values = [...window.values, value];
  let strideSeconds = window.strideSeconds;
  if (values.length > MOST_VALUES) {
    if (strideSeconds >= LONGEST_STRIDE) values = values.slice(1);
    else {
      values = values.filter((_, i) => i % 2 === 0);
      strideSeconds = Math.min(LONGEST_STRIDE, Math.max(2 * strideSeconds, 2 * Math.min(since, LONGEST_STRIDE)));
    }
  }
  const middle = median(values);
  const deviation = median(values.map((kept) => Math.abs(kept - middle)));
  return { ...counted, values, middle, deviation, strideSeconds, keptAtMs: atMs };
}

export interface Usual {
  readonly medianLog10Pa: number;
  readonly sigmaDecades: number;
  readonly halfWidthDecades: number;
  readonly scans: number;
  /** Detected in most scans: the median is of the gas, not of its upper limit. */
  readonly seen: boolean;
}

export function usualOf(baseline: Baseline | undefined, gas: string): Usual | null {
  const window = baseline?.gases[gas];
  if (!window || window.values.length === 0) return null;
  const sigmaDecades = sigmaOf(window);
  return {
    medianLog10Pa: window.middle / 1000,
    sigmaDecades,
    halfWidthDecades: halfWidthOf(sigmaDecades),
    scans: window.scans,
    seen: window.detected * 2 > window.scans,
  };
}

function sigmaOf({ values, deviation }: GasWindow): number {
  const spread = ((MAD_TO_SIGMA * deviation) / 1000) ** 2;
  const n = values.length;
  return Math.sqrt((spread * n + PRIOR_SIGMA ** 2 * PRIOR_SCANS) / (n + PRIOR_SCANS));
}

const halfWidthOf = (sigmaDecades: number): number => Math.max(DEAD_BAND_DECADES, USUAL_SIGMAS * sigmaDecades);

/** Made with every scan: `usualOf` without what the strip does not show. */
export function driftStrip(baseline: Baseline | undefined, gases: readonly GasEstimate[]): DriftMark[] {
  const windows = baseline?.gases;
  return gases.map(({ gas, detected, valuePa, highPa }): DriftMark => {
    const window = windows?.[gas];
    const known = window && window.values.length > 0 ? window : null;
    const halfWidth = known && halfWidthOf(sigmaOf(known));
    const pressurePa = detected ? valuePa : highPa;
    if (!(pressurePa > 0) || !Number.isFinite(pressurePa))
      return { gas, status: 'not-measured', decades: null, halfWidth };
    return {
      gas,
      status: detected ? 'measured' : 'below-detection',
      decades: known && Math.log10(pressurePa) - known.middle / 1000,
      halfWidth,
    };
  });
}

/** What is usual in each state that has been learned, for drawing. */
export function viewsOf(memory: Memory): BaselineView[] {
  const frozen = memory.standing.length > 0;
  return Object.entries(memory.baselines)
    .filter(([, baseline]) => baseline.first === null)
    .map(([state, baseline]) => viewOf(state, baseline, frozen));
}

export function viewOf(state: string, baseline: Baseline, frozen: boolean): BaselineView {
  const { pin } = baseline;
  return {
    state,
    sinceMs: baseline.sinceMs,
    untilMs: baseline.untilMs,
    ...(pin && { pinId: pin.id, pinnedAtMs: pin.atMs }),
    gases: Object.fromEntries(
      Object.keys(baseline.gases).flatMap((gas) => {
        const usual = usualOf(baseline, gas);
        if (!usual) return [];
        const { seen: _, ...numbers } = usual;
        return [[gas, { ...numbers, frozen }]];
      }),
    ),
    peaks: Object.fromEntries(baseline.masses.map((mass, i) => [mass, baseline.mean[i + 1]!])),
  };
}
