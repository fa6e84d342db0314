/**
 * The chamber's own background, gas by gas: the baseline spectrum shared out among the gases that a wall, a hot
 * cathode and a pump give off. Each share keeps the chamber's own ratios, not the catalogue's, so that a gas which
 * merely breathes stays in its own direction whatever this instrument makes of its fragments.
 */
import { makeNonNegativeSolver } from '../analysis/leastSquares.ts';
import { isShareOf, type Kept } from './kept.ts';
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

type Patterns = readonly Float64Array[];

/**
 * Non-negative least squares with the error of every *contribution*: (ρ x_g A_mg)² summed over gases, refitted because
 * it depends on x. Weighted by what was measured instead, one isotope peak that this instrument shows five times
 * smaller than the catalogue would drag its gas down with it.
 */
function pressures(mean: ArrayLike<number>, variance: Vector, masses: Vector, patterns: Patterns): Float64Array {
  const size = patterns.length;
  const { errors, shown } = sharesShown(patterns);
  const x = new Float64Array(size);
  const free = new Uint8Array(size);
  const passive = new Uint8Array(size);
  for (let pass = 0; pass < FIT_PASSES; pass++) {
    const hessian = new Float64Array(size * size);
    const gradient = new Float64Array(size);
    for (let m = 1; m < mean.length; m++) {
      // m/z 1 carries the foot of the mass filter more than any gas.
      if (masses[m - 1] === 1) continue;
      const gases = shown[m]!;
      let spread = variance[m]! + (pass === 0 ? (FIT_ERROR * Math.max(mean[m]!, 0)) ** 2 : 1e-300);
      for (let g = 0; g < gases.length; g++) spread += (errors[gases[g]!]![m]! * x[gases[g]!]!) ** 2;
      const weight = 1 / spread;
      for (let g = 0; g < gases.length; g++) {
        const i = gases[g]!;
        const a = weight * patterns[i]![m]!;
        gradient[i]! += a * mean[m]!;
        // The lower triangle.
        for (let h = 0; h <= g; h++) hessian[i * size + gases[h]!]! += a * patterns[gases[h]!]![m]!;
      }
    }
    solver.solve({ size, hessian, gradient, free }, x, passive, false);
  }
  return x;
}

const shownCache = new WeakMap<readonly Float64Array[], ReturnType<typeof makeShown>>();

function sharesShown(patterns: readonly Float64Array[]): ReturnType<typeof makeShown> {
  const made = shownCache.get(patterns) ?? makeShown(patterns);
  shownCache.set(patterns, made);
  return made;
}

/** Per channel the gases that have a peak there, in their order; and the error of every peak. */
const makeShown = (patterns: readonly Float64Array[]) => ({
  errors: patterns.map(peakErrors),
  shown: Array.from(patterns[0]!, (_, m) => patterns.flatMap((pattern, g) => (pattern[m] === 0 ? [] : [g]))),
});

/** Gases that walls, pumps and the air give off after a vent; oils and solvents are not among them. */
const WALL_GASES = new Set(['H2', 'He', 'CH4', 'H2O', 'CO', 'N2', 'C2H6', 'O2', 'Ar', 'CO2', 'C3H6']);

/** The part of an excess that gases of walls and air can make: what is over is no tail of a pump-down. */
export function wallPart(excess: Float64Array, { variance, masses }: Baseline): Float64Array {
  const wall = wallPatterns(masses);
  const positive = excess.map((value) => Math.max(0, value));
  return fittedSpectrum(pressures(positive, variance, masses, wall), wall);
}

const wallCache = new WeakMap<Vector, readonly Float64Array[]>();

/** The background's patterns, those of other gases empty. */
function wallPatterns(masses: Vector): readonly Float64Array[] {
  const known = wallCache.get(masses);
  if (known) return known;
  const empty = new Float64Array(masses.length + 1);
  const made = backgroundPatterns(masses).map((pattern, g) => (WALL_GASES.has(BACKGROUND[g]!) ? pattern : empty));
  wallCache.set(masses, made);
  return made;
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
  for (let g = 0; g < patterns.length; g++) {
    const amount = x[g]!;
    if (amount === 0) continue;
    const pattern = patterns[g]!;
    for (let m = 1; m < out.length; m++) out[m]! += amount * pattern[m]!;
  }
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
export function relativeAt(spectrum: OwnSpectrum, change: Float64Array, baseline: Baseline): number {
  const usual = usualAt(spectrum, baseline);
  return usual > 0 ? change[spectrum.own.marker]! / usual : 0;
}

/** Height that speaks for a gas at its marker. */
export const usualAt = ({ own, channels }: OwnSpectrum, { mean }: Baseline): number =>
  own.clarity >= LEAST_CLARITY ? channels[own.marker]! : mean[own.marker]!;

export interface OwnSpectrum {
  readonly own: OwnGas;
  /** What the gas gives to each channel of the baseline. */
  readonly channels: Float64Array;
}

const seenIn = (own: readonly OwnGas[]): OwnGas[] =>
  own.filter(({ clarity, presence }) => clarity >= LEAST_CLARITY || presence >= LEAST_PRESENCE);

const keptSpectra = new WeakMap<Kept, OwnSpectrum[]>();

/** The same of what was kept of a baseline: made once. */
export function spectraOfKept(kept: Kept, masses: Vector): OwnSpectrum[] {
  const known = keptSpectra.get(kept);
  if (known) return known;
  const made = sharesOf({ ...kept, masses });
  keptSpectra.set(kept, made);
  return made;
}

/** The gases that are seen, each with its part of the baseline in the chamber's own ratios; for some scans as it was kept. */
export function ownSpectra(baseline: Baseline): OwnSpectrum[] {
  const { kept, masses, own } = baseline;
  if (!kept || !isShareOf(kept, baseline)) return sharesOf(baseline);
  const parts = spectraOfKept(kept, masses);
  return seenIn(own).map((gas, i) => ({ own: gas, channels: parts[i]!.channels }));
}

function sharesOf({ mean, masses, own, kappa }: Pick<Baseline, 'mean' | 'masses' | 'own' | 'kappa'>): OwnSpectrum[] {
  const patterns = backgroundPatterns(masses);
  const x = Float64Array.from(own, ({ pressurePa }) => pressurePa);
  const fitted = fittedSpectrum(x, patterns);
  const row = makeRows(mean.length);
  const seen = new Set(seenIn(own));
  const out: OwnSpectrum[] = [];
  own.forEach((gas, g) => {
    if (!seen.has(gas)) return;
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
