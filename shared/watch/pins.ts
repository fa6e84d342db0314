/**
 * What is usual, learned anew from a clean period that an engineer has chosen, instead of from whatever came first. The
 * period must be able to carry it: enough scans of one state on one mass list, steady, and without an alert.
 */
import type { Calibration } from '../analysis/types.ts';
import { firstOf, newBaseline } from './baseline.ts';
import { fits, measuredMasses, median } from './channels.ts';
import { learnGases, viewOf } from './gasBaseline.ts';
import type { Baseline, Vector } from './memory.ts';
import { ownSpectra } from './ownGases.ts';
import { DAY, DEAD_BAND_DECADES, HOUR } from './parameters.ts';
import { deviationsFrom, warmed } from './reference.ts';
import { type Scale, scaleOf } from './scale.ts';
import { scanChannels } from './scanChannels.ts';
import { noiseBookOf } from './scanNoise.ts';
import { ARMED_STATES } from './states.ts';
import type { BaselineView, WatchInput, WatchMemory } from './types.ts';
import { learnWobble } from './wobble.ts';
import { number } from './wording.ts';

export interface PinRequest {
  /** Operating state; scans of other states are left out. */
  readonly state: string;
  /** With which all inputs were analysed. */
  readonly calibration: Calibration;
  /** Analysed scans of one analyser, oldest first. */
  readonly inputs: readonly WatchInput[];
  /** Alerts that stood in the period; null: still standing. */
  readonly alertsInPeriod: readonly {
    readonly signature: string;
    readonly fromMs: number;
    readonly untilMs: number | null;
  }[];
}

export type PinRefusal =
  | 'no-scans'
  | 'too-few-scans'
  | 'too-short'
  | 'not-steady'
  | 'alert-stood'
  | 'mixed-masses'
  | 'state-not-watched';

export type PinOutcome =
  | {
      readonly kind: 'learned';
      readonly baseline: WatchMemory;
      readonly view: BaselineView;
      readonly scans: number;
      readonly fromMs: number;
      readonly untilMs: number;
    }
  | { readonly kind: 'refused'; readonly code: PinRefusal; readonly reason: string };

/** What a pin holds; `scale`: what its heights rest on, so that a later calibration can carry them over. */
export interface PinContent {
  readonly format: typeof PIN_FORMAT;
  readonly baseline: Baseline;
  readonly calibration: string;
  readonly scale: Scale;
}

export const PIN_FORMAT = 1;
/** A median of so many scans is known to a quarter of the scatter of one; two hours show whether it is steady. */
const LEAST_SCANS = 24;
const LEAST_HOURS = 2;
/** Scans on another mass list that a period may hold. */
const MOST_MISFITS = 0.1;
/** A peak is asked for steadiness when it is this share of the spectrum and stands out of its noise so far. */
const STEADY_SHARE = 0.01;
const STEADY_SIGMAS = 30;
/** Longest time that one scan stands for when scatter is learned. */
const MOST_SECONDS = HOUR;

const refused = (code: PinRefusal, reason: string): PinOutcome => ({ kind: 'refused', code, reason });

/** Pure. The outcome is opaque JSON for `BaselinePin.baseline`, or the reason why the period cannot carry a baseline. */
export function learnPinned({ state, calibration, inputs, alertsInPeriod }: PinRequest): PinOutcome {
  if (!ARMED_STATES.has(state)) {
    return refused('state-not-watched', `In ${state} nothing is judged, so there is no baseline to pin.`);
  }
  const all = inputs.filter(({ scan, peaks }) => scan.state === state && measuredMasses(peaks).length > 0);
  const [first] = all;
  if (!first) return refused('no-scans', `The period holds no scans in ${state}.`);
  const masses = measuredMasses(first.peaks);
  const detector = mostUsed(all);
  const kept = all.filter(
    ({ scan, peaks }) => scan.detector === detector && peaks.scaled === first.peaks.scaled && fits(peaks, masses),
  );
  const misfits = all.filter(({ peaks }) => peaks.scaled !== first.peaks.scaled || !fits(peaks, masses)).length;
  if (misfits > MOST_MISFITS * all.length) {
    return refused(
      'mixed-masses',
      `${misfits} of ${all.length} scans have other masses or another scale than the first.`,
    );
  }
  if (kept.length < LEAST_SCANS) {
    return refused('too-few-scans', `The period holds ${kept.length} scans in ${state}; ${LEAST_SCANS} are needed.`);
  }
  const [fromMs, untilMs] = [kept[0]!.scan.atMs, kept.at(-1)!.scan.atMs];
  if (untilMs - fromMs < LEAST_HOURS * HOUR * 1000) {
    return refused(
      'too-short',
      `The scans span less than ${LEAST_HOURS} hours: whether they are steady cannot be told.`,
    );
  }
  const alert = alertsInPeriod.find((stood) => stood.fromMs <= untilMs && (stood.untilMs ?? untilMs) >= fromMs);
  if (alert)
    return refused('alert-stood', `The alert ${alert.signature} stood in this period: its gas would become usual.`);
  const rows = kept.map((input) => scanChannels(calibration, input, masses));
  const baseline = baselineOf(kept, rows, masses);
  const unsteady = unsteadyPeak(baseline, rows);
  if (unsteady) return refused('not-steady', unsteady);
  learnScatter(baseline, kept, rows, state);
  const content: PinContent = {
    format: PIN_FORMAT,
    baseline,
    calibration: calibration.version,
    scale: scaleOf(calibration, first.scan),
  };
  return {
    kind: 'learned',
    baseline: content as unknown as WatchMemory,
    view: viewOf(state, baseline, false),
    scans: kept.length,
    fromMs,
    untilMs,
  };
}

function mostUsed(inputs: readonly WatchInput[]): WatchInput['scan']['detector'] {
  const counts = new Map<WatchInput['scan']['detector'], number>();
  for (const { scan } of inputs) counts.set(scan.detector, (counts.get(scan.detector) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]![0];
}

function baselineOf(inputs: readonly WatchInput[], rows: readonly Float64Array[], masses: Vector): Baseline {
  const [first, last] = [inputs[0]!, inputs.at(-1)!];
  const { detector, atMs } = first.scan;
  const baseline = newBaseline({ masses, scaled: first.peaks.scaled, detector, atMs });
  firstOf(baseline, rows, first.peaks.readNoisePa);
  baseline.noise = noiseBookOf(detector, median(inputs.map(({ scan }) => scan.seconds * scan.averages)));
  baseline.untilMs = last.scan.atMs;
  baseline.days = (last.scan.atMs - atMs) / (DAY * 1000);
  baseline.pinned = { mean: baseline.mean, atMs: last.scan.atMs };
  const temperatures = inputs.flatMap(({ scan }) => (scan.temperatureC === null ? [] : [scan.temperatureC]));
  baseline.temperatureC = temperatures.length > 0 ? median(temperatures) : null;
  return baseline;
}

/** The sum or a plain peak that has moved by more than the dead band between the first and the last third. */
function unsteadyPeak(baseline: Baseline, rows: readonly Float64Array[]): string | null {
  const third = Math.floor(rows.length / 3);
  const level = (part: readonly Float64Array[], m: number) => median(part.map((row) => row[m]!));
  const [early, late] = [rows.slice(0, third), rows.slice(-third)];
  const total = baseline.mean.reduce((sum, value, m) => (m > 0 ? sum + Math.max(0, value) : sum), 0);
  for (let m = 1; m < baseline.mean.length; m++) {
    const mean = baseline.mean[m]!;
    if (!(mean > STEADY_SHARE * total) || mean < STEADY_SIGMAS * Math.sqrt(baseline.variance[m]!)) continue;
    const ratio = level(late, m) / level(early, m);
    if (ratio > 0 && Math.abs(Math.log10(ratio)) <= DEAD_BAND_DECADES) continue;
    return `The period is not steady: mass ${baseline.masses[m - 1]} is at its end ${number(ratio)} times what it was at its beginning.`;
  }
  return null;
}

/** How far each gas breathes in the period, how it goes with the temperature, and what people see as usual. */
function learnScatter(
  baseline: Baseline,
  inputs: readonly WatchInput[],
  rows: readonly Float64Array[],
  state: string,
): void {
  const spectra = ownSpectra(baseline);
  let temperatureC: number | null = null;
  let beforeMs = inputs[0]!.scan.atMs;
  inputs.forEach(({ scan, analysis }, i) => {
    const seconds = Math.min(MOST_SECONDS, (scan.atMs - beforeMs) / 1000);
    beforeMs = scan.atMs;
    if (scan.temperatureC !== null) {
      temperatureC ??= scan.temperatureC;
      temperatureC += (scan.temperatureC - temperatureC) * Math.min(1, seconds / HOUR);
    }
    learnGases(baseline, analysis.gases, scan.atMs);
    if (seconds <= 0) return;
    const q = rows[i]!;
    const deviation = deviationsFrom(warmed(baseline.mean, baseline, spectra, temperatureC), q);
    learnWobble(baseline, { q, deviation, spectra, lifted: null, seconds, state, temperatureC });
  });
}
