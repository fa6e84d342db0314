/** One scan of the accuracy bench: from true pressures to what an analyser sends, and what is known about it. */
import type { AnalysisScan, Background, Calibration } from '../../shared/analysis/types.ts';
import type { Random } from '../support/instrument.ts';
import type { Pressures } from './accuracyScenes.ts';
import { HEAVIEST, type World } from './accuracyWorld.ts';

export const FORMS = {
  bars: { first: 1, last: 100, perUnit: 1 },
  profile: { first: 0.5, last: 100.5, perUnit: 16 },
  // biome-ignore format: an order reads best in lines
  'selected masses': [1, 2, 3, 4, 12, 14, 15, 16, 17, 18, 19, 20, 22, 26, 27, 28, 29, 30, 32, 36, 38, 39, 40, 41, 43, 44, 50,
    55, 57, 69, 77, 85, 91, 119, 127],
} as const;
export type Form = keyof typeof FORMS;

export interface Recorded {
  readonly scan: AnalysisScan;
  readonly calibration: Calibration;
  /** Pa of each gas that the answer should give. */
  readonly truth: Pressures;
}

/** A usual order of magnitude, A/Pa. */
const STATED_SENSITIVITY = 8e-7;
/** The own gas comes and goes by so much between the recording of the background and the scan. */
const UNSTEADINESS = 0.1;

export interface Setting {
  /** Of the analyser, Pa of each gas. */
  readonly own: Pressures;
  /** One standard deviation of a point, and variance per height, N2-equivalent Pa. */
  readonly noise: { readonly read: number; readonly counts: number };
  /** Null: nobody recorded it, and the own gas is part of what the analyser should report. */
  readonly background: Background | null;
}

interface SettingQuestion {
  readonly random: Random;
  readonly world: World;
  readonly chamber: Pressures;
}

/** What stays from scan to scan of one analyser on one chamber. */
export function settle({ random, world, chamber }: SettingQuestion): Setting {
  const own = scaled(world.ownGas, sumOf(chamber));
  const top = largest(trueHeights(world, added(chamber, own)));
  const noise = { read: top / random.decades(3e3, 3e5), counts: top / random.decades(1e5, 1e8) };
  const recorded = Object.keys(own).length > 0 && world.principle === 'quadrupole' && random.uniform() < 0.5;
  return { own, noise, background: recorded ? backgroundOf({ random, world, own, noise }) : null };
}

interface Question extends SettingQuestion {
  readonly form: Form;
  readonly setting: Setting;
}

export function record({ random, world, chamber, form, setting }: Question): Recorded {
  const { own, noise, background } = setting;
  const atAnalyser = added(chamber, scaled(own, Math.exp(UNSTEADINESS * random.normal())));
  const clean = trueHeights(world, atAnalyser);
  const trap = world.principle === 'ion trap';
  const perPascal = trap ? 1 / largest(clean) : STATED_SENSITIVITY * world.calibrationError;
  const masses = FORMS[form];
  const places = 'perUnit' in masses ? grid(masses) : masses;
  const signal = shapeOf(random, form === 'profile');
  const values = measure(
    random,
    Float64Array.from(places, (place) => signal(clean, place)),
    noise,
  );
  return {
    scan: {
      analyser: 'bench',
      id: '1',
      atMs: 0,
      seconds: 30,
      averages: 1,
      masses,
      values: values.map((value) => value * perPascal),
      unit: trap ? '1' : 'A',
      detector: trap ? null : 'faraday',
      totalPressurePa: gauge(random, world, atAnalyser),
      state: 'base',
      temperatureC: null,
    },
    calibration: {
      analyser: 'bench',
      principle: world.principle,
      massRange: null,
      sensitivityAmperesPerPascal: trap ? null : STATED_SENSITIVITY,
      multiplierGain: null,
      transmissionExponent: 0,
      version: 'bench',
      background,
    },
    truth: background ? chamber : atAnalyser,
  };
}

const largest = (heights: Float64Array): number => heights.reduce((a, b) => Math.max(a, b), 0);
const sumOf = (pressures: Pressures): number => Object.values(pressures).reduce((a, b) => a + b, 0);
const scaled = (pressures: Pressures, factor: number): Pressures =>
  Object.fromEntries(Object.entries(pressures).map(([gas, pressure]) => [gas, pressure * factor]));
const added = (one: Pressures, other: Pressures): Pressures => {
  const sum: Record<string, number> = { ...one };
  for (const [gas, pressure] of Object.entries(other)) sum[gas] = (sum[gas] ?? 0) + pressure;
  return sum;
};
const grid = ({ first, last, perUnit }: { first: number; last: number; perUnit: number }): number[] =>
  Array.from({ length: Math.round((last - first) * perUnit) + 1 }, (_, i) => first + i / perUnit);

/** N2-equivalent Pa, index = mass. */
function trueHeights(world: World, pressures: Pressures, artefacts = true): Float64Array {
  const heights = new Float64Array(HEAVIEST + 1);
  const left = 1 / (1 + sumOf(pressures) / world.halfPressurePa);
  for (const [gas, pressure] of Object.entries(pressures)) {
    const response = world.responses.get(gas);
    if (response === undefined) throw new RangeError(`the world does not know ${gas}`);
    for (let mass = 1; mass <= HEAVIEST; mass++) heights[mass]! += left * pressure * response[mass]!;
  }
  if (!artefacts) return heights;
  const top = largest(heights);
  for (let mass = 1; mass <= 6; mass++) heights[mass]! += world.foot.share * top * mass ** -world.foot.power;
  for (const [mass, share] of Object.entries(world.desorbed)) heights[Number(mass)]! += share * top;
  return heights;
}

/** Bars read the peak; profile peaks lean towards low mass, widen with mass and stand off their places. */
function shapeOf(random: Random, profile: boolean): (heights: Float64Array, place: number) => number {
  if (!profile) return (heights, place) => heights[place]!;
  const offset = random.between(-0.15, 0.15);
  const slope = 0.002 * random.normal();
  const width = random.between(0.5, 0.75);
  const lean = random.between(0.8, 1);
  return (heights, place) => {
    let sum = 0;
    for (let mass = Math.max(1, Math.floor(place) - 1); mass <= Math.min(HEAVIEST, Math.floor(place) + 2); mass++) {
      const away = place - mass - offset - slope * (mass - 28);
      const own = width * (1 + 0.1 * (mass / 100)) * (away < 0 ? 1 : lean);
      sum += heights[mass]! * Math.exp(-Math.LN2 * Math.abs((2 * away) / own) ** 2.3);
    }
    return sum;
  };
}

/** Shot and read noise, a gain that flickers and a zero that wanders, both with power at all times up to the sweep's. */
function measure(
  random: Random,
  clean: Float64Array,
  { read, counts }: { read: number; counts: number },
): Float64Array {
  const flicker = pink(random, clean.length, random.decades(1e-3, 1e-2));
  const wander = pink(random, clean.length, 0.5 * read);
  return clean.map((signal, i) => {
    const white = random.normal() * Math.sqrt(read ** 2 + counts * Math.max(0, signal));
    return signal * (1 + flicker[i]!) + white + wander[i]!;
  });
}

/** 1/f noise: in each octave of periods a level that is drawn anew, all octaves alike (R. F. Voss's dice, from memory). */
function pink(random: Random, length: number, sigma: number): Float64Array {
  const out = new Float64Array(length);
  const octaves = Math.max(1, Math.ceil(Math.log2(length)));
  for (let octave = 0; octave <= octaves; octave++) {
    let level = 0;
    for (let i = 0; i < length; i++) {
      if (i % 2 ** octave === 0) level = random.normal();
      out[i]! += (level * sigma) / Math.sqrt(octaves + 1);
    }
  }
  return out;
}

/** Hot-cathode gauge: its own factors, 10 % of its own, three digits. */
function gauge(random: Random, { gaugeFactors }: World, pressures: Pressures): number {
  const sum = Object.entries(pressures).reduce(
    (total, [gas, pressure]) => total + pressure * gaugeFactors.get(gas)!,
    0,
  );
  return Number((sum * Math.exp(0.1 * random.normal())).toPrecision(3));
}

interface OwnQuestion extends Pick<Setting, 'own' | 'noise'> {
  readonly random: Random;
  readonly world: World;
}

/** The valve closed, ten scans averaged. */
function backgroundOf({ random, world, own, noise }: OwnQuestion): Background {
  const heights = trueHeights(world, own, false);
  const peaks: Record<number, { heightPa: number; sigmaPa: number }> = {};
  for (let mass = 1; mass <= 100; mass++) {
    const sigmaPa = Math.sqrt((noise.read ** 2 + noise.counts * heights[mass]!) / 10);
    const heightPa = (heights[mass]! + sigmaPa * random.normal()) * world.calibrationError;
    if (heightPa > 4 * sigmaPa) peaks[mass] = { heightPa, sigmaPa };
  }
  return { peaks, unsteadiness: UNSTEADINESS };
}
