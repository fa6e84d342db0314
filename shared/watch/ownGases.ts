/**
 * The chamber's own background, gas by gas: the baseline spectrum shared out among the gases that a wall, a hot
 * cathode and a pump give off. Each share keeps the chamber's own ratios, not the catalogue's, so that a gas which
 * merely breathes stays in its own direction whatever this instrument makes of its fragments.
 */
import { makeNonNegativeSolver } from '../analysis/leastSquares.ts';
import type { Baseline, OwnGas, Vector } from './memory.ts';
import { gaugeFactor, patternsOf, peakErrors } from './patterns.ts';
import { makeRows } from './rows.ts';

// biome-ignore format: an order reads best in lines
export const BACKGROUND = [
  'H2', 'He', 'CH4', 'H2O', 'CO', 'N2', 'C2H6', 'O2', 'Ar', 'CO2', 'C3H6', 'heptane', 'CH3OH', 'acetone',
] as const;

/** d ln P / dT before anything is learned, 1/K: wall gases desorb with 40–60 kJ/mol near 295 K, 0.055–0.083/K (from memory); half of it, since not all of a gas comes from the wall. */
const SLOPE: Record<string, number> = {
  H2: 0.06,
  H2O: 0.065,
  CO: 0.035,
  CO2: 0.045,
  CH4: 0.04,
  C2H6: 0.05,
  C3H6: 0.06,
  heptane: 0.06,
  He: 0.02,
  CH3OH: 0.05,
  acetone: 0.05,
  N2: 0,
  O2: 0,
  Ar: 0,
};
export const priorSlope = (gas: string): number => SLOPE[gas] ?? 0.03;

/** Least clarity, sigma, at which a gas counts as seen; share of a peak above which a peak marks its gas. */
const LEAST_CLARITY = 4;
const LEAST_PRESENCE = 10;
const MARKER_SHARE = 0.6;
/** Error of a peak in the first pass, when no share is known yet. */
const FIT_ERROR = 0.3;
const FIT_PASSES = 4;

const solver = makeNonNegativeSolver(BACKGROUND.length);
const patternCache = new WeakMap<Vector, readonly Float64Array[]>();

/** Catalogue patterns of the background gases on a mass list. */
export function backgroundPatterns(masses: Vector): readonly Float64Array[] {
  const known = patternCache.get(masses);
  if (known) return known;
  const made = BACKGROUND.map((gas) => patternsOf(gas, masses)!.variants[0]!);
  patternCache.set(masses, made);
  return made;
}

/**
 * Non-negative least squares with the error of every *contribution*: (ρ x_g A_mg)² summed over gases, refitted because
 * it depends on x. Weighted by what was measured instead, one isotope peak that this instrument shows five times
 * smaller than the catalogue would drag its gas down with it.
 */
function pressures(mean: Vector, variance: Vector, masses: Vector, patterns: readonly Float64Array[]): Float64Array {
  const size = patterns.length;
  const errors = patterns.map(peakErrors);
  const x = new Float64Array(size);
  for (let pass = 0; pass < FIT_PASSES; pass++) {
    const hessian = new Float64Array(size * size);
    const gradient = new Float64Array(size);
    for (let m = 1; m < mean.length; m++) {
      // m/z 1 carries the foot of the mass filter more than any gas.
      if (masses[m - 1] === 1) continue;
      let spread = variance[m]! + (pass === 0 ? (FIT_ERROR * Math.max(mean[m]!, 0)) ** 2 : 1e-300);
      for (let g = 0; g < size; g++) spread += (errors[g]![m]! * x[g]!) ** 2;
      const weight = 1 / spread;
      for (let i = 0; i < size; i++) {
        const a = patterns[i]![m]!;
        if (a === 0) continue;
        gradient[i]! += weight * a * mean[m]!;
        for (let j = 0; j < size; j++) hessian[i * size + j]! += weight * a * patterns[j]![m]!;
      }
    }
    solver.solve({ size, hessian, gradient, free: new Uint8Array(size) }, x, new Uint8Array(size), false);
  }
  return x;
}

/** Gases that walls, pumps and the air give off after a vent; oils and solvents are not among them. */
const WALL_GASES = new Set(['H2', 'He', 'CH4', 'H2O', 'CO', 'N2', 'C2H6', 'O2', 'Ar', 'CO2', 'C3H6']);

/** The part of an excess that gases of walls and air can make: what is over is no tail of a pump-down. */
export function wallPart(excess: Float64Array, { variance, masses }: Baseline): Float64Array {
  const patterns = backgroundPatterns(masses);
  const wall = patterns.map((pattern, g) =>
    WALL_GASES.has(BACKGROUND[g]!) ? pattern : new Float64Array(pattern.length),
  );
  const positive = Array.from(excess, (value) => Math.max(0, value));
  return fittedSpectrum(pressures(positive, variance, masses, wall), wall);
}

/** Shares the baseline out anew and keeps what was learned of each gas. */
export function shareOut(baseline: Baseline): void {
  const { mean, variance, masses } = baseline;
  const patterns = backgroundPatterns(masses);
  const x = pressures(mean, variance, masses, patterns);
  const fitted = fittedSpectrum(x, patterns);
  const before = new Map(baseline.own.map((own) => [own.gas, own]));
  let gaugeSum = 0;
  const own: OwnGas[] = [];
  BACKGROUND.forEach((gas, g) => {
    gaugeSum += x[g]! * gaugeFactor(gas);
    const { marker, clarity, presence } = markerOf(x[g]!, patterns[g]!, fitted, baseline);
    const old = before.get(gas);
    own.push({
      gas,
      pressurePa: x[g]!,
      marker,
      clarity,
      presence,
      wobble: old?.wobble ?? { square: 0, days: 0, mean: 0 },
      slope: old?.slope ?? priorSlope(gas),
      regression: old?.regression ?? { weight: 0, x: 0, y: 0, xx: 0, xy: 0 },
    });
  });
  baseline.own = own;
  baseline.kappa = gaugeSum > 0 && mean[0]! > 0 ? mean[0]! / gaugeSum : 1;
}

function fittedSpectrum(x: Float64Array, patterns: readonly Float64Array[]): Float64Array {
  const out = new Float64Array(patterns[0]!.length);
  patterns.forEach((pattern, g) => {
    for (let m = 1; m < out.length; m++) out[m]! += x[g]! * pattern[m]!;
  });
  return out;
}

interface Marker {
  readonly marker: number;
  readonly clarity: number;
  readonly presence: number;
}

/**
 * Where a gas is seen best. Clarity counts a channel in full only if the gas owns most of it; presence counts its part
 * whoever owns the rest, so that nitrogen and carbon monoxide which cannot be told apart at 28 both stay in the model.
 */
function markerOf(pressure: number, pattern: Float64Array, fitted: Float64Array, { mean, variance }: Baseline): Marker {
  let clear = { marker: 0, sigmas: 0 };
  let shared = { marker: 0, sigmas: 0 };
  for (let m = 1; m < mean.length; m++) {
    if (!(fitted[m]! > 0) || !(mean[m]! > 0)) continue;
    const share = (pressure * pattern[m]!) / fitted[m]!;
    const sigmas = (Math.min(mean[m]!, 1.5 * fitted[m]!) * share) / Math.sqrt(variance[m]! + 1e-300);
    if (sigmas > shared.sigmas) shared = { marker: m, sigmas };
    const own = sigmas * (share > MARKER_SHARE ? 1 : 0.05 * share);
    if (own > clear.sigmas) clear = { marker: m, sigmas: own };
  }
  const { marker } = clear.sigmas >= LEAST_CLARITY ? clear : shared;
  return { marker, clarity: clear.sigmas, presence: shared.sigmas };
}

/** How far a gas stands from its usual, by its marker; where it owns only a part, the whole peak speaks for it. */
export function relativeAt({ own, channels }: OwnSpectrum, change: Float64Array, { mean }: Baseline): number {
  const usual = own.clarity >= LEAST_CLARITY ? channels[own.marker]! : mean[own.marker]!;
  return usual > 0 ? change[own.marker]! / usual : 0;
}

export interface OwnSpectrum {
  readonly own: OwnGas;
  /** What the gas gives to each channel of the baseline. */
  readonly channels: Float64Array;
}

/** The gases that are seen, each with its part of the baseline in the chamber's own ratios. */
export function ownSpectra(baseline: Baseline): OwnSpectrum[] {
  const { mean, masses, own, kappa } = baseline;
  const patterns = backgroundPatterns(masses);
  const x = Float64Array.from(own, ({ pressurePa }) => pressurePa);
  const fitted = fittedSpectrum(x, patterns);
  const row = makeRows(mean.length);
  const out: OwnSpectrum[] = [];
  own.forEach((gas, g) => {
    if (gas.clarity < LEAST_CLARITY && gas.presence < LEAST_PRESENCE) return;
    const channels = row();
    for (let m = 1; m < mean.length; m++) {
      if (!(fitted[m]! > 0) || !(mean[m]! > 0)) continue;
      channels[m] = (Math.min(mean[m]!, 1.5 * fitted[m]!) * x[g]! * patterns[g]![m]!) / fitted[m]!;
    }
    channels[0] = kappa * x[g]! * gaugeFactor(gas.gas);
    out.push({ own: gas, channels });
  });
  return out;
}
