/**
 * How much a gas load breathes on its own: relative scatter of each gas about its *local* mean, learned from quiet
 * scans over weeks, starting from a cautious prior. About the following baseline instead, a slow leak would widen its
 * own band and hide in it. The part that all gases share (pumping, gain) is kept apart.
 *
 *   w² = (w₀² · 1.5 d + ∫ r² dt) / (1.5 d + ∫ dt),   r relative deviation minus its local mean
 */
import { median } from './channels.ts';
import type { Baseline, OwnGas } from './memory.ts';
import { type OwnSpectrum, priorSlope, relativeAt } from './ownGases.ts';
import { DAY, WOBBLE } from './parameters.ts';
import { GAS_STATES } from './states.ts';

/** A gas takes part in the common movement when it stands out by this many sigma. */
const COMMON_CLARITY = 40;
/** Local means follow within a day and a half. */
const LOCAL_DAYS = 1.5;
/** Bias of clipped squares and of the moving mean, from simulation. */
const SQUARE_BIAS = 1.15;
const MOST_COMMON = 0.3;
/** Temperature: ridge weight of the prior slope, K²·day; memory; and what a slope can physically be, 1/K. */
const SLOPE_PRIOR_WEIGHT = 3;
const SLOPE_RANGE = [-0.02, 0.12] as const;
const SLOPE_CLARITY = 20;

export function wobbleOf({ wobble }: OwnGas, state: string): number {
  const prior = GAS_STATES.has(state) ? WOBBLE.priorGasState : WOBBLE.prior;
  const { priorDays, floor } = WOBBLE;
  return Math.max(floor, Math.sqrt((prior ** 2 * priorDays + wobble.square) / (priorDays + wobble.days)));
}

export function commonWobble({ common }: Baseline): number {
  const { priorDays, floor, common: prior } = WOBBLE;
  return Math.max(floor, Math.sqrt((prior ** 2 * priorDays + common.square) / (priorDays + common.days)));
}

export interface WobbleInput {
  readonly q: Float64Array;
  readonly deviation: Float64Array;
  readonly spectra: readonly OwnSpectrum[];
  readonly lifted: Uint8Array | null;
  readonly seconds: number;
  readonly state: string;
  /** Low-passed temperature, °C; null when none is sent. */
  readonly temperatureC: number | null;
}

/** What is known of each gas is replaced, never changed in place: drafts and the memory before share it. */
export function learnWobble(baseline: Baseline, input: WobbleInput): void {
  const { deviation, spectra, lifted, seconds, state } = input;
  const days = seconds / DAY;
  const keep = Math.exp(-days / WOBBLE.memoryDays);
  const local = Math.min(0.2, days / LOCAL_DAYS);
  const relative = spectra.map((spectrum) =>
    lifted?.[spectrum.own.marker] ? Number.NaN : relativeAt(spectrum, deviation, baseline),
  );
  const clear = relative.filter((r, i) => Number.isFinite(r) && spectra[i]!.own.clarity > COMMON_CLARITY);
  const together = clear.length >= 3 ? median(clear) : 0;
  if (clear.length >= 3) {
    const { common } = baseline;
    common.mean += (together - common.mean) * local;
    const square = Math.min((together - common.mean) ** 2 * SQUARE_BIAS, MOST_COMMON ** 2);
    common.square = common.square * keep + square * days;
    common.days = common.days * keep + days;
  }
  const all = [...baseline.own];
  let g = 0;
  spectra.forEach(({ own: seen, channels }, i) => {
    while (all[g]!.gas !== seen.gas) g++;
    const r = relative[i]!;
    if (!Number.isFinite(r)) return;
    const own = copyOf(all[g]!);
    all[g] = own;
    const noise = baseline.variance[own.marker]! / channels[own.marker]! ** 2;
    const limit = (4 * wobbleOf(own, state)) ** 2 + 9 * noise;
    const apart = r - together;
    const { wobble } = own;
    wobble.mean += (apart - wobble.mean) * local;
    const level = 1 + Math.max(0, wobble.mean + together);
    const square = Math.min(((apart - wobble.mean) / level) ** 2 * SQUARE_BIAS, limit);
    wobble.square = wobble.square * keep + Math.max(0, square - noise) * days;
    wobble.days = wobble.days * keep + days;
    if (own.clarity > SLOPE_CLARITY) learnSlope(own, baseline, input, keep);
  });
  baseline.own = all;
}

/** Written out: spreads cost several times as much, and this is done for every gas of every quiet scan. */
function copyOf(own: OwnGas): OwnGas {
  const { gas, pressurePa, marker, clarity, presence, slope } = own;
  const { square, days, mean } = own.wobble;
  const { weight, x, y, xx, xy } = own.regression;
  const wobble = { square, days, mean };
  return { gas, pressurePa, marker, clarity, presence, wobble, slope, regression: { weight, x, y, xx, xy } };
}

/** Regression of the log of a gas's marker on temperature, with the prior slope as a ridge. */
function learnSlope(own: OwnGas, baseline: Baseline, { q, seconds, temperatureC }: WobbleInput, keep: number): void {
  if (temperatureC === null || baseline.temperatureC === null) return;
  const x = temperatureC - baseline.temperatureC;
  const ratio = q[own.marker]! / Math.max(baseline.mean[own.marker]!, 1e-300);
  if (!Number.isFinite(ratio)) return;
  const y = Math.log(Math.max(0.3, ratio));
  const weight = seconds / DAY;
  const sums = own.regression;
  sums.weight = sums.weight * keep + weight;
  sums.x = sums.x * keep + weight * x;
  sums.y = sums.y * keep + weight * y;
  sums.xx = sums.xx * keep + weight * x * x;
  sums.xy = sums.xy * keep + weight * x * y;
  if (sums.weight < 1) return;
  const xx = sums.xx - sums.x ** 2 / sums.weight;
  const xy = sums.xy - (sums.x * sums.y) / sums.weight;
  const slope = (xy + SLOPE_PRIOR_WEIGHT * priorSlope(own.gas)) / (xx + SLOPE_PRIOR_WEIGHT);
  own.slope = Math.max(SLOPE_RANGE[0], Math.min(SLOPE_RANGE[1], slope));
}
