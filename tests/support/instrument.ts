/**
 * Simulated analysers with known truth: seeded, so that every figure can be had again.
 *
 * Each analyser has patterns of its own (every fragment of a gas off by a log-normal factor), a sensitivity error per
 * gas, a transmission slope nobody told, read and shot noise, a shifted zero, and in half of the cases a low-mass foot
 * and desorbed ions. Peaks of a profile are Gaussian or flat-topped, off their masses, and reach into each other.
 *
 * Limits of its independence: it starts from the first published record of the catalogue that the estimator also knows,
 * and it errs in the way that the estimator expects (each fragment by itself) unless `commonSpread`, `otherRecord` or
 * `omittedPeaks` are used. Agreement shows that arithmetic and intervals are right *if analysers err like this*.
 */
import type { AnalysisScan, Calibration } from '../../shared/analysis/types.ts';
import type { CatalogueGas } from '../../shared/catalogue/types.ts';
import { fromPascal } from '../../shared/units.ts';

export interface Random {
  uniform(): number;
  normal(): number;
  between(low: number, high: number): number;
  /** Log-uniform. */
  decades(low: number, high: number): number;
  pick<T>(items: readonly T[]): T;
}

/** xoshiro128** by D. Blackman and S. Vigna (public domain), seeded by a splitmix step; normals by the polar method. */
export function seededRandom(seed: number): Random {
  const state = new Uint32Array(4);
  let mix = seed >>> 0;
  for (let i = 0; i < 4; i++) {
    mix = (mix + 0x9e3779b9) >>> 0;
    let z = mix;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    state[i] = z ^ (z >>> 15);
  }
  const rotate = (x: number, k: number) => (x << k) | (x >>> (32 - k));
  const next = () => {
    const result = Math.imul(rotate(Math.imul(state[1]!, 5), 7), 9) >>> 0;
    const t = state[1]! << 9;
    state[2]! ^= state[0]!;
    state[3]! ^= state[1]!;
    state[1]! ^= state[2]!;
    state[0]! ^= state[3]!;
    state[2]! ^= t;
    state[3] = rotate(state[3]!, 11);
    return result;
  };
  const uniform = () => next() / 4294967296;
  const normal = () => {
    for (;;) {
      const a = 2 * uniform() - 1;
      const b = 2 * uniform() - 1;
      const s = a * a + b * b;
      if (s > 0 && s < 1) return a * Math.sqrt((-2 * Math.log(s)) / s);
    }
  };
  const between = (low: number, high: number) => low + (high - low) * uniform();
  return {
    uniform,
    normal,
    between,
    decades: (low, high) => low * (high / low) ** uniform(),
    pick: (items) => items[Math.floor(uniform() * items.length)]!,
  };
}

export interface AnalyserMake {
  /** Standard deviation of ln(fragment) per fragment. */
  readonly fragmentSpread: number;
  /** The same for all fragments of a gas together, as when electrons have another energy. */
  readonly commonSpread?: number;
  /** Standard deviation of ln(sensitivity) of every gas but nitrogen. */
  readonly sensitivitySpread: number;
  readonly tiltSpread?: number;
  /** Patterns from a published record picked at random instead of the first. */
  readonly otherRecord?: boolean;
  /** Organic gases have peaks that no record lists. */
  readonly omittedPeaks?: boolean;
  readonly principle?: 'quadrupole' | 'ion trap';
}

export interface SimulatedAnalyser {
  readonly principle: 'quadrupole' | 'ion trap';
  /** Gas → mass → N2-equivalent Pa per Pa, masses 1 … 300. */
  readonly responses: ReadonlyMap<string, Float64Array>;
  readonly footHeight: number;
  readonly footDecayU: number;
  readonly desorbed: Readonly<Record<number, number>>;
}

const HEAVIEST = 300;

export function makeSimulatedAnalyser(
  random: Random,
  gases: readonly CatalogueGas[],
  make: AnalyserMake,
): SimulatedAnalyser {
  const nitrogen = gases.find((gas) => gas.id === 'N2')!;
  const share28 = nitrogen.records[0].peaks[28]! / nitrogen.primarySum;
  const tilt = (make.tiltSpread ?? 0.15) * random.normal();
  const responses = new Map<string, Float64Array>();
  for (const gas of gases) responses.set(gas.id, ownPattern({ random, gas, make, tilt, share28 }));
  const quadrupole = make.principle !== 'ion trap';
  const foot = quadrupole && random.uniform() < 0.5;
  const surface = quadrupole && random.uniform() < 0.5;
  return {
    principle: make.principle ?? 'quadrupole',
    responses,
    footHeight: foot ? random.decades(3e-4, 0.1) : 0,
    footDecayU: random.between(0.5, 1.2),
    desorbed: surface ? { 16: random.decades(1e-4, 1e-2), 19: random.decades(1e-4, 1e-2) } : {},
  };
}

function ownPattern(q: {
  random: Random;
  gas: CatalogueGas;
  make: AnalyserMake;
  tilt: number;
  share28: number;
}): Float64Array {
  const { random, gas, make } = q;
  const first = gas.records[0].peaks;
  const base = Number(Object.keys(first).reduce((a, b) => (first[Number(b)]! > first[Number(a)]! ? b : a)));
  let peaks = { ...first };
  if (make.otherRecord) {
    const record = random.pick(gas.records).peaks;
    const scale = first[base]! / (record[base] ?? Number.NaN);
    if (scale > 0 && scale < 2) peaks = Object.fromEntries(Object.entries(record).map(([m, v]) => [m, v * scale]));
  }
  if (make.omittedPeaks && gas.organic && Object.keys(first).length > 3) {
    const heaviest = Math.min(HEAVIEST - 1, gas.molarMassGramsPerMole?.value ?? 150);
    for (let mass = 12; mass < heaviest; mass++) {
      if (peaks[mass] === undefined && random.uniform() < 0.35) {
        peaks[mass] = first[base]! * random.decades(1e-3, mass < gas.records[0].lowMassCutoff ? 0.08 : 0.008);
      }
    }
  }
  const sensitivity = gas.id === 'N2' ? 1 : Math.exp(make.sensitivitySpread * random.normal());
  const common = Math.exp((make.commonSpread ?? 0) * random.normal());
  const out = new Float64Array(HEAVIEST + 1);
  for (const [key, intensity] of Object.entries(peaks)) {
    const mass = Number(key);
    const fragment = mass === base ? 1 : common * Math.exp(make.fragmentSpread * random.normal());
    if (mass > HEAVIEST) continue;
    out[mass] =
      ((gas.relativeSensitivity.value * sensitivity * fragment * intensity) / gas.primarySum / q.share28) *
      (28 / mass) ** q.tilt;
  }
  return out;
}

export type Composition = Readonly<Record<string, number>>;

export interface ScanSettings {
  readonly unit: AnalysisScan['unit'];
  readonly masses: AnalysisScan['masses'];
  /** Largest peak over one standard deviation of the read noise. */
  readonly range: number;
  /** Ions at the largest peak. */
  readonly ions: number;
  /** Shift of the zero in standard deviations of the read noise. */
  readonly zero?: number;
  /** Peaks stand this far above their masses (profiles). */
  readonly offsetU?: number;
  readonly widthU?: number;
  readonly flatTop?: boolean;
  /** Standard deviation of ln(gauge reading); absent: no gauge. */
  readonly gaugeSpread?: number;
}

export interface SimulatedScan {
  readonly scan: AnalysisScan;
  readonly calibration: Calibration;
  /** True partial pressures, Pa. */
  readonly truth: Composition;
  /** One standard deviation of the read noise of a point, N2-equivalent Pa. */
  readonly readNoisePa: number;
  /** True heights, N2-equivalent Pa, index = mass. */
  readonly heights: Float64Array;
}

/** Invented: a common order of magnitude. */
const SENSITIVITY = 6e-7;

export function simulateScan(
  random: Random,
  analyser: SimulatedAnalyser,
  truth: Composition,
  settings: ScanSettings,
  gauge: (truth: Composition) => number = () => Number.NaN,
): SimulatedScan {
  const heights = trueHeights(analyser, truth);
  const top = heights.reduce((a, b) => Math.max(a, b), 0);
  const read = top / settings.range;
  const counts = top / settings.ions;
  const places = pointMasses(settings.masses);
  const perPascal = scaleOf(settings.unit, top);
  const values = Float64Array.from(places, (place) => {
    const clean = signalAt(heights, place, settings);
    const noise = random.normal() * Math.sqrt(read * read + counts * Math.max(0, clean));
    return (clean + noise + (settings.zero ?? 0) * read) * perPascal;
  });
  const total =
    settings.gaugeSpread === undefined ? null : gauge(truth) * Math.exp(settings.gaugeSpread * random.normal());
  return {
    scan: {
      analyser: 'simulated',
      id: '1',
      atMs: 0,
      seconds: 20,
      averages: 1,
      masses: settings.masses,
      values,
      unit: settings.unit,
      detector: settings.unit === 'A' ? 'faraday' : null,
      totalPressurePa: total,
      state: 'base',
      temperatureC: null,
    },
    calibration: {
      analyser: 'simulated',
      principle: analyser.principle,
      massRange: null,
      sensitivityAmperesPerPascal: settings.unit === 'A' ? SENSITIVITY : null,
      multiplierGain: null,
      transmissionExponent: 0,
      version: 'simulated',
    },
    truth,
    readNoisePa: read,
    heights,
  };
}

function trueHeights(analyser: SimulatedAnalyser, truth: Composition): Float64Array {
  const heights = new Float64Array(HEAVIEST + 1);
  for (const [gas, pressure] of Object.entries(truth)) {
    const response = analyser.responses.get(gas);
    if (response === undefined) throw new RangeError(`the simulated analyser does not know ${gas}`);
    for (let mass = 1; mass <= HEAVIEST; mass++) heights[mass]! += pressure * response[mass]!;
  }
  const top = heights.reduce((a, b) => Math.max(a, b), 0);
  for (let mass = 1; mass <= 6; mass++) {
    heights[mass]! += analyser.footHeight * top * Math.exp((1 - mass) / analyser.footDecayU);
  }
  for (const [mass, share] of Object.entries(analyser.desorbed)) heights[Number(mass)]! += share * top;
  return heights;
}

const scaleOf = (unit: AnalysisScan['unit'], top: number): number => {
  if (unit === 'A') return SENSITIVITY;
  return unit === '1' ? 1 / top : fromPascal(1, unit);
};

const isProfile = (masses: AnalysisScan['masses']): boolean => 'perUnit' in masses && masses.perUnit > 1;

function pointMasses(masses: AnalysisScan['masses']): readonly number[] {
  if (!('perUnit' in masses)) return masses;
  const count = Math.round((masses.last - masses.first) * masses.perUnit) + 1;
  return Array.from({ length: count }, (_, i) => masses.first + i / masses.perUnit);
}

function signalAt(heights: Float64Array, place: number, settings: ScanSettings): number {
  if (!isProfile(settings.masses)) return heights[Math.round(place)] ?? 0;
  let sum = 0;
  const at = place - (settings.offsetU ?? 0);
  for (let mass = Math.max(1, Math.floor(at) - 1); mass <= Math.min(HEAVIEST, Math.floor(at) + 2); mass++) {
    sum += heights[mass]! * peakShape(at - mass, settings);
  }
  return sum;
}

/** Gaussian, or a flat top with smooth edges (difference of two logistic steps), 1 at the centre. */
function peakShape(away: number, { widthU = 0.6, flatTop = false }: ScanSettings): number {
  if (!flatTop) return Math.exp(-4 * Math.LN2 * (away / widthU) ** 2);
  const edge = 0.045;
  const step = (x: number) => 1 / (1 + Math.exp(-x / edge));
  const shape = step(away + widthU / 2) - step(away - widthU / 2);
  return shape / (2 * step(widthU / 2) - 1);
}
