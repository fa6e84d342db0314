/**
 * A chamber valved off: what comes in at a constant rate goes on for ever, what walls give bends over.
 *
 *   P = P₀ + a t + b (1 − e^(−t/τ)),   constant inflow Q = a V
 *
 * Shapes after K. Zapfe, Leak detection, CERN accelerator school (2007), figure 1.
 */
import { type Curve, fitCurve } from './curveFit.ts';
import { twoSided } from './normal.ts';
import { solveLeastSquares } from './smallSystem.ts';

export interface RateOfRise {
  /** P₀, pressure units of the data. */
  readonly start: number;
  /** a, pressure per time, with its 95 % interval: leak and permeation. */
  readonly inflow: number;
  readonly inflowLow: number;
  readonly inflowHigh: number;
  /** b and τ of what bends over; null where a straight line explains the rise as well. */
  readonly outgassing: { readonly height: number; readonly timeConstant: number } | null;
  /** False: watched for less than three time constants, the bend and the line cannot be told apart. */
  readonly separable: boolean;
}

const RISE: Curve = {
  value: (t, [p0, a, b, tau]) => p0! + a! * t + b! * -Math.expm1(-t / tau!),
  gradient: (t, [, , b, tau]) => {
    const fallen = Math.exp(-t / tau!);
    return [1, t, -Math.expm1(-t / tau!), (-b! * fallen * t) / tau! ** 2];
  },
};

const TIME_CONSTANTS_NEEDED = 3;
/** Time constants that are tried, as shares of the time watched. */
const TRIED = Array.from({ length: 40 }, (_, k) => 0.01 * 1.2 ** k);
const LEAST_POINTS = 6;
/** The bend is believed when it explains this much more than its two unknowns cost (Akaike, corrected for few points). */
const LEAD = 2;

/** Times from the closing of the valve. Null with fewer than six points or no span. */
export function fitRateOfRise(times: readonly number[], pressures: readonly number[]): RateOfRise | null {
  const span = Math.max(...times) - Math.min(...times);
  if (times.length < LEAST_POINTS || !(span > 0)) return null;
  const straight = lineOf(times, pressures);
  if (straight === null) return null;
  const bent = bentOf(times, pressures, span);
  const n = times.length;
  if (bent === null || criterion(bent.residualSum, n, 4) + LEAD > criterion(straight.residualSum, n, 2)) {
    return {
      start: straight.start,
      ...bounds(straight.inflow, straight.error),
      outgassing: null,
      separable: true,
    };
  }
  const [start, inflow, height, timeConstant] = bent.parameters as [number, number, number, number];
  return {
    start,
    ...bounds(inflow, bent.standardErrors[1]!),
    outgassing: { height, timeConstant },
    separable: span >= TIME_CONSTANTS_NEEDED * timeConstant,
  };
}

const bounds = (inflow: number, error: number) => ({
  inflow,
  inflowLow: inflow - twoSided(0.95) * error,
  inflowHigh: inflow + twoSided(0.95) * error,
});

function lineOf(times: readonly number[], pressures: readonly number[]) {
  const fit = solveLeastSquares(
    times.map((t) => [1, t]),
    pressures,
  );
  if (fit === null) return null;
  const [start, inflow] = fit.solution as [number, number];
  const residualSum = times.reduce((sum, t, i) => sum + (pressures[i]! - start - inflow * t) ** 2, 0);
  const error = Math.sqrt((residualSum / (times.length - 2)) * fit.variances[1]!);
  return { start, inflow, error, residualSum };
}

function bentOf(times: readonly number[], pressures: readonly number[], span: number) {
  let best: { start: number[]; sum: number } | null = null;
  for (const share of TRIED) {
    const tau = share * span;
    const rows = times.map((t) => [1, t, -Math.expm1(-t / tau)]);
    const fit = solveLeastSquares(rows, pressures);
    if (fit === null) continue;
    const sum = rows.reduce((total, row, i) => {
      const value = row.reduce((part, entry, k) => part + entry * fit.solution[k]!, 0);
      return total + (pressures[i]! - value) ** 2;
    }, 0);
    if (best === null || sum < best.sum) best = { start: [...fit.solution, tau], sum };
  }
  const fit = best === null ? null : fitCurve(RISE, times, pressures, best.start);
  const [, , height, tau] = fit?.parameters ?? [];
  // A wall gives gas: a negative bend or a time constant that runs away is no outgassing.
  return fit !== null && height! > 0 && tau! > 0 && tau! < 10 * span ? fit : null;
}

/** Akaike's criterion, corrected for few points (C. M. Hurvich and C.-L. Tsai, Biometrika 76 (1989) 297). */
function criterion(residualSum: number, n: number, unknowns: number): number {
  const k = unknowns + 1;
  return n * Math.log(Math.max(residualSum, Number.MIN_VALUE) / n) + 2 * k + (2 * k * (k + 1)) / (n - k - 1);
}

/** J/(mol K): exact since 2019 (CODATA). */
const GAS_CONSTANT = 8.31446261815324;

export interface ClosedVolume {
  readonly volumeM3: number;
  readonly seconds: number;
  readonly startPa: number;
  readonly startKelvin: number;
  readonly endPa: number;
  readonly endKelvin: number;
}

/** Mean inflow of a closed volume, mol/s: (V/R)(p₂/T₂ − p₁/T₁)/Δt (40 CFR 1065.644). */
export const molarInflow = ({ volumeM3, seconds, startPa, startKelvin, endPa, endKelvin }: ClosedVolume): number =>
  ((volumeM3 / GAS_CONSTANT) * (endPa / endKelvin - startPa / startKelvin)) / seconds;
