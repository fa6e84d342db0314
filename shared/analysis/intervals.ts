import { type Fit, PROTECTED_EVIDENCE, RARE_EVIDENCE } from './fit.ts';
import { type GainRow, gainRow, makeGains } from './gains.ts';
import { patternMisfit } from './patternMisfit.ts';
import type { Scaling } from './scaling.ts';
import type { Score } from './score.ts';

/**
 * From a fit to what may be said of each gas.
 *
 * Three errors are kept apart: noise, σ_N; the other gases' patterns, σ_P; and what multiplies the gas itself, its
 * sensitivity u_g and its own pattern u_o (standard deviations of a logarithm). Patterns are trusted as far as this scan
 * shows that this analyser follows them (patternMisfit.ts, f, and F = max(1, f)), u = √((F u_g)² + (f u_o)²):
 *
 *   low  = max(0, x − √(1.96²(σ_N² + 1.44 f²σ_P²) + s² + (x(1 − e^(−1.96u)))²))
 *   high = x + √(1.96²(σ_N² + f²σ_P²) + (x(e^(1.96u) − 1))²)
 *
 * The 1.2² is for fragments that err further upwards than downwards (they are log-normal); s is the most that a gas
 * which was left out with some evidence could shift this one. A gas is detected when x is at least 3 (protected) or 4
 * (others) of √(σ_N² + 1.44 F²σ_P²) above zero. What is not detected has an upper limit (L. A. Currie,
 * Anal. Chem. 40 (1968) 586, for the idea of deciding and limiting apart):
 *
 *   high = (x + √(1.96²(σ_N² + F²σ_P²) + (x(e^(1.96 F u_g) − 1))²)) · e^(1.645 F u_o)
 *
 * Its own fragments stand outside the root, because a gas is most often missed on an analyser on which just the fragment
 * that would show it is weak: nitrogen beside much CO where 14/28 is half of what the literature says.
 */
export interface GasInterval {
  readonly column: number;
  readonly amount: number;
  readonly low: number;
  readonly high: number;
  readonly detected: boolean;
  readonly evidence: number;
  readonly sigmaNoise: number;
  readonly sigmaPattern: number;
  readonly ownPattern: number;
}

/** Two-sided 95 % of a normal distribution. */
export const TWO_SIDED_95 = 1.96;
const ONE_SIDED_95 = 1.645;
const UPWARD_ERROR = 1.2;
/** Evidence from which a gas that was left out counts as a possible shadow on others. */
const SHADOW_EVIDENCE = 1;

interface Common {
  readonly fit: Fit;
  readonly scaling: Scaling;
  readonly shadows: readonly Shadow[];
  /** How far patterns are off in units of what was assumed; and the same, but never less than one. */
  readonly misfit: number;
  readonly cautiousMisfit: number;
}

export function gasIntervals(fit: Fit, scaling: Scaling): GasInterval[] {
  const gains = makeGains(fit, scaling);
  const misfit = patternMisfit(fit);
  const common: Common = { fit, scaling, shadows: shadowsOf(fit), misfit, cautiousMisfit: Math.max(1, misfit) };
  const unnamed = new Set(fit.alternatives.filter(({ guessed }) => guessed).map(({ column }) => column));
  const out: GasInterval[] = [];
  for (let j = 0; j < fit.design.gasCount; j++) {
    const inFit = fit.placeOf[j]! >= 0 && fit.amounts[j]! > 0;
    const interval = inFit ? fitted(common, j, gainRow(gains, j)) : leftOut(common, j);
    out.push(unnamed.has(j) ? { ...interval, low: 0, detected: false } : interval);
  }
  return out;
}

interface Shadow {
  readonly column: number;
  readonly estimate: number;
}

function shadowsOf({ design, placeOf, scores }: Fit): Shadow[] {
  const out: Shadow[] = [];
  for (let column = 0; column < design.gasCount; column++) {
    const score = scores[column];
    if (placeOf[column]! < 0 && score && score.z > SHADOW_EVIDENCE) out.push({ column, estimate: score.estimate });
  }
  return out;
}

function fitted(common: Common, j: number, row: GainRow): GasInterval {
  const { fit, scaling, shadows, misfit, cautiousMisfit } = common;
  const column = fit.design.columns[j]!;
  const amount = fit.amounts[j]!;
  const ownPattern = Math.sqrt(row.ownVariance) / amount;
  const sensitivity = scaling.sensitivityError(j) * cautiousMisfit;
  const sigmaNoise = Math.sqrt(row.noiseVariance);
  const sigmaPattern = Math.sqrt(row.patternVariance);
  const evidence = amount / Math.hypot(sigmaNoise, UPWARD_ERROR * cautiousMisfit * sigmaPattern);
  const detected = evidence >= (column.isProtected ? PROTECTED_EVIDENCE : RARE_EVIDENCE);
  const found = { column: j, amount, detected, evidence, sigmaNoise, sigmaPattern, ownPattern };
  if (!detected) {
    const others = Math.hypot(sigmaNoise, cautiousMisfit * sigmaPattern);
    const above = Math.hypot(TWO_SIDED_95 * others, amount * (Math.exp(TWO_SIDED_95 * sensitivity) - 1));
    const high = (amount + above) * Math.exp(ONE_SIDED_95 * cautiousMisfit * ownPattern);
    return { ...found, low: 0, high: Math.min(high, singlePeakLimit(fit, j, sensitivity)) };
  }
  const factor = Math.exp(TWO_SIDED_95 * Math.hypot(sensitivity, misfit * ownPattern));
  const others = misfit * sigmaPattern;
  const shadow = largestShadow(fit, row.gain, shadows);
  const below = TWO_SIDED_95 * Math.hypot(sigmaNoise, UPWARD_ERROR * others);
  const down = Math.hypot(below, shadow, amount * (1 - 1 / factor));
  const up = Math.hypot(TWO_SIDED_95 * sigmaNoise, TWO_SIDED_95 * others, amount * (factor - 1));
  return { ...found, low: Math.max(0, amount - down), high: amount + up };
}

function largestShadow(fit: Fit, gain: Float64Array, shadows: readonly Shadow[]): number {
  let largest = 0;
  for (const { column, estimate } of shadows) {
    const { rows, response } = fit.design.columns[column]!;
    let shift = 0;
    for (let k = 0; k < rows.length; k++) shift += gain[rows[k]!]! * response[k]!;
    largest = Math.max(largest, Math.abs(shift * estimate));
  }
  return largest;
}

/**
 * A gas cannot be more than its reference peak allows if that peak were its alone. Holds whatever the other gases do.
 */
function singlePeakLimit({ design, heights, noiseVariance, amounts }: Fit, j: number, sensitivity: number): number {
  const { rows, referencePlace, peakResponse } = design.columns[j]!;
  const row = rows[referencePlace]!;
  let zero = 0;
  for (let k = design.gasCount; k < design.columns.length; k++) if (design.free[k]) zero = Math.min(0, amounts[k]!);
  const highest = Math.max(0, heights[row]! - zero) + TWO_SIDED_95 * Math.sqrt(noiseVariance[row]!);
  return (highest / peakResponse) * Math.exp(TWO_SIDED_95 * sensitivity);
}

const UNSEEN: Score = { z: 0, estimate: 0, sigma: Number.POSITIVE_INFINITY };

/** A gas outside the fit, or one that the bound holds at zero. */
function leftOut({ fit, scaling, cautiousMisfit }: Common, j: number): GasInterval {
  const { z, estimate, sigma } = fit.scores[j] ?? UNSEEN;
  const above = Math.max(0, estimate) + TWO_SIDED_95 * sigma;
  const sensitivity = scaling.sensitivityError(j) * cautiousMisfit;
  return {
    column: j,
    amount: 0,
    low: 0,
    high: Math.min(above * Math.exp(sensitivity), singlePeakLimit(fit, j, sensitivity)),
    detected: false,
    evidence: z,
    sigmaNoise: sigma,
    sigmaPattern: 0,
    ownPattern: 0,
  };
}
