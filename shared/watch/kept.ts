/**
 * What the null model of a state rests on, as it was some scans ago. What is usual moves by less than a hundredth of itself
 * in that time, and the null model says only how far a spectrum may differ from it: making it anew from every
 * scan's mean would cost ten times what the scan itself costs.
 *
 * It is remembered, not cached, so that the same scans in any batches are judged by the same numbers. It is made anew
 * after `KEPT_SCANS`, sooner while the baseline is young, and at once when something else than the mean has changed.
 */
import type { Baseline, Memory, OwnGas, Standing, Vector } from './memory.ts';
import { secondsInUse } from './scanNoise.ts';

export interface Kept {
  /** `scans` of the memory when it was made. */
  scan: number;
  atMs: number;
  temperatureC: number | null;
  periodSeconds: number | null;
  /** The scan showed where its peaks stand. */
  followed: boolean;
  /** Conditions that stood in the spectrum, and the amplitude and peak of each. */
  stood: string;
  amplitudes: [number, number][];
  inUse: string | null;
  /** Measuring time that the variance is of, s; absent in memories of before. */
  measuredSeconds?: number | null;
  /** Quiet days with the detector in use. */
  detectorDays: number;
  pinnedAtMs: number | null;
  mean: Vector;
  variance: Vector;
  kappa: number;
  scans: number;
  days: number;
  common: Baseline['common'];
  own: OwnGas[];
}

export interface KeptInput {
  readonly memory: Memory;
  readonly baseline: Baseline;
  readonly atMs: number;
  readonly followed: boolean;
}

const KEPT_SCANS = 30;
/** A young baseline is made anew after a tenth of the scans that it rests on. */
const YOUNG_SHARE = 0.1;
/** What a gas of the wall moves in a kelvin is a third of its first wobble. */
const MOST_KELVIN = 1;
/** The running mean's share follows the period. */
const PERIOD_ROOM = 1.2;
/** An alert's own direction is free up to five times its size: a tenth more or less of that says nothing. */
const AMPLITUDE_ROOM = 1.1;

/** What is kept for this scan: as before while it holds, made anew otherwise. */
export function keep(input: KeptInput): Kept {
  const { baseline } = input;
  const { kept } = baseline;
  if (kept && holds(kept, input)) return kept;
  const made = make(input);
  baseline.kept = made;
  return made;
}

function holds(kept: Kept, { memory, baseline, followed }: KeptInput): boolean {
  const scans = memory.scans - kept.scan;
  if (scans < 0 || scans >= Math.max(1, Math.min(KEPT_SCANS, YOUNG_SHARE * kept.scans))) return false;
  if (kept.followed !== followed || kept.inUse !== baseline.inUse) return false;
  if ((kept.measuredSeconds ?? null) !== secondsInUse(baseline)) return false;
  if (!isShareOf(kept, baseline) || kept.stood !== stoodIn(memory)) return false;
  if ((kept.temperatureC === null) !== (memory.temperatureC === null)) return false;
  if (Math.abs((kept.temperatureC ?? 0) - (memory.temperatureC ?? 0)) > MOST_KELVIN) return false;
  if (!isNear(kept.periodSeconds ?? 0, memory.periodSeconds ?? 0, PERIOD_ROOM)) return false;
  return amplitudesOf(memory).every(
    ([now, peak], i) => isNear(now, kept.amplitudes[i]![0]) && isNear(peak, kept.amplitudes[i]![1]),
  );
}

const isNear = (a: number, b: number, room = AMPLITUDE_ROOM): boolean => a <= room * b && b <= room * a;

/** The baseline has not been shared out anew or rescaled since. */
export function isShareOf(kept: Kept, { kappa, own, mean }: Baseline): boolean {
  if (kept.kappa !== kappa || kept.own.length !== own.length || kept.mean.length !== mean.length) return false;
  for (let g = 0; g < own.length; g++) if (kept.own[g]!.pressurePa !== own[g]!.pressurePa) return false;
  return true;
}

function stoodIn({ standing }: Memory): string {
  if (standing.length === 0) return '';
  return standing
    .map((s) => `${s.signature}/${s.cause}/${s.raisedAtMs}/${s.direction?.length ?? 0}/${s.observedAmplitude}`)
    .join();
}

const amplitudesOf = ({ standing }: Memory): [number, number][] =>
  standing.map(({ amplitude, peakAmplitude }) => [amplitude, peakAmplitude]);

function make({ memory, baseline, atMs, followed }: KeptInput): Kept {
  const { mean, variance, kappa, scans, days, common, own, pinned, inUse } = baseline;
  return {
    scan: memory.scans,
    atMs,
    temperatureC: memory.temperatureC,
    periodSeconds: memory.periodSeconds,
    followed,
    stood: stoodIn(memory),
    amplitudes: amplitudesOf(memory),
    inUse,
    measuredSeconds: secondsInUse(baseline),
    detectorDays: baseline.detectors[inUse ?? '']?.days ?? 0,
    pinnedAtMs: pinned?.atMs ?? null,
    mean,
    variance,
    kappa,
    scans,
    days,
    common: { ...common },
    own: own.map((gas) => ({ ...gas, wobble: { ...gas.wobble }, regression: NO_SUMS })),
  };
}

const NO_SUMS: OwnGas['regression'] = { weight: 0, x: 0, y: 0, xx: 0, xy: 0 };

/** The baseline as it was then. */
export function baselineOf(kept: Kept, baseline: Baseline): Baseline {
  const { mean, variance, kappa, scans, days, common, own, pinnedAtMs, inUse, detectorDays } = kept;
  const book = baseline.detectors[inUse ?? ''];
  const detectors = book
    ? { ...baseline.detectors, [inUse ?? '']: { ...book, days: detectorDays } }
    : baseline.detectors;
  const pinned = pinnedAtMs === null ? null : { mean, atMs: pinnedAtMs };
  return { ...baseline, mean, variance, kappa, scans, days, common, own, pinned, detectors };
}

/** The conditions that stand, as large as they were then. */
export function standingOf(kept: Kept, { standing }: Memory): Standing[] {
  return standing.map((s, i) => {
    const [amplitude, peakAmplitude] = kept.amplitudes[i]!;
    return { ...s, amplitude, peakAmplitude };
  });
}
