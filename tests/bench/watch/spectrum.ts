/** From true pressures to what the analyser and the gauge send. */
import type { AnalysisScan } from '../../../shared/analysis/types.ts';
import type { Random } from '../../support/instrument.ts';
import type { Analyser, Chamber } from './chamber.ts';
import { stopPa } from './conditions.ts';
import type { Effect } from './effect.ts';
import { GAS_NAMES, GAS_TABLE, type Gas } from './gasTable.ts';

export interface Question {
  readonly chamber: Chamber;
  /** Pa at the chamber. */
  readonly pressures: Readonly<Record<string, number>>;
  readonly effect: Effect;
  /** ln of the gain over its first value, of the gauge likewise. */
  readonly gain: number;
  readonly gauge: number;
  readonly days: number;
  /** One scan a second. */
  readonly fast: boolean;
  readonly random: Random;
}

const FULL_SECONDS = 30;
const FAST_SECONDS = 0.9;
const PROFILE_POINTS = 10;
/** Half height of a flat-topped peak that is `width` wide: exp(−ln 2 |2 x / width|³). */
const shape = (away: number, width: number): number => Math.exp(-Math.LN2 * Math.abs((2 * away) / width) ** 3);

type Measured = Omit<AnalysisScan, 'id' | 'atMs' | 'state' | 'temperatureC'>;

export function scanOf(question: Question): Measured {
  const { chamber, pressures, effect, fast, random } = question;
  const { analyser } = chamber;
  const seconds = fast ? FAST_SECONDS : Math.min(FULL_SECONDS, analyser.periodSeconds / 2);
  const clean = heightsOf(question);
  const bars = analyser.form === 'bars';
  const points = bars
    ? clean.subarray(1).map((height, i) => height * passed(analyser, effect, i + 1))
    : profile(analyser, clean, effect);
  const values = noisy(points, { chamber, effect, seconds, random });
  const total = GAS_NAMES.reduce((sum, gas) => sum + (pressures[gas] ?? 0) * GAS_TABLE[gas].sensitivity, 0);
  const gauge = total * analyser.gaugeFactor * effect.gauge * Math.exp(question.gauge + 0.008 * random.normal());
  return {
    analyser: `chamber-${chamber.seed}`,
    seconds,
    averages: 1,
    masses: bars
      ? { first: 1, last: analyser.lastMass, perUnit: 1 }
      : { first: 0.5, last: analyser.lastMass - 0.5, perUnit: PROFILE_POINTS },
    values: values.map((value) => Number((value * analyser.perPascal).toPrecision(4))),
    unit: analyser.unit,
    detector: 'multiplier',
    totalPressurePa: analyser.hasGauge ? Number(gauge.toPrecision(3)) : null,
  };
}

/** N2-equivalent Pa without noise, index = mass. */
function heightsOf({ chamber, pressures, effect, gain, days }: Question): Float64Array {
  const { analyser } = chamber;
  const out = new Float64Array(analyser.lastMass + 1);
  const add = (gas: Gas, pressurePa: number) => {
    const response = analyser.responses[gas];
    const drifted = pressurePa * Math.exp((analyser.gasDrift[gas]! * days) / 30);
    for (let mass = 1; mass <= analyser.lastMass; mass++) out[mass]! += drifted * response[mass]!;
  };
  for (const gas of GAS_NAMES) {
    const pressure = pressures[gas] ?? 0;
    const usual = (chamber.loads[gas] ?? 0) / chamber.speeds[gas];
    const own = analyser.ownShare[gas] ?? 0;
    if (pressure > 0 || own > 0) add(gas, pressure + usual * own * (1 + effect.ioniser));
  }
  for (let mass = 1; mass <= 5; mass++) out[mass]! += analyser.footPa * Math.exp(-(mass - 1) / 0.7);
  for (const [mass, share] of Object.entries(analyser.surfaceIons)) out[Number(mass)]! += chamber.totalPa * share;
  for (const [mass, height] of Object.entries(effect.peaks)) {
    if (Number(mass) <= analyser.lastMass) out[Number(mass)]! += height;
  }
  const factor = Math.exp(gain) * effect.gain;
  return out.map((height) => height * factor);
}

/** Share of a bar's height that is left when the mass scale stands off. */
const passed = (analyser: Analyser, { shiftU }: Effect, mass: number): number =>
  shiftU === 0 ? 1 : shape(shiftU * (0.4 + (0.6 * mass) / 50), analyser.peakWidthU);

function profile(analyser: Analyser, clean: Float64Array, { shiftU }: Effect): Float64Array {
  const count = (analyser.lastMass - 1) * PROFILE_POINTS + 1;
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const place = 0.5 + i / PROFILE_POINTS;
    for (
      let mass = Math.max(1, Math.floor(place) - 1);
      mass <= Math.min(analyser.lastMass, Math.floor(place) + 2);
      mass++
    ) {
      const centre = mass + 0.03 + shiftU * (0.4 + (0.6 * mass) / 50);
      out[i]! += clean[mass]! * shape(place - centre, analyser.peakWidthU);
    }
  }
  return out;
}

interface Noise {
  readonly chamber: Chamber;
  readonly effect: Effect;
  readonly seconds: number;
  readonly random: Random;
}

/** Once in so many scans a single value is hit by something. */
const SPIKE_EVERY = 1500;

function noisy(points: Float64Array, { chamber, effect, seconds, random }: Noise): Float64Array {
  const { analyser } = chamber;
  const shorter = Math.min(FULL_SECONDS, analyser.periodSeconds / 2) / seconds;
  const together = Math.exp(analyser.flicker * random.normal());
  const stop = effect.stop === null ? Number.POSITIVE_INFINITY : stopPa(chamber, effect.stop);
  const spiked = random.uniform() < 1 / SPIKE_EVERY ? Math.floor(random.uniform() * points.length) : -1;
  const spike = chamber.totalPa * random.decades(1e-3, 0.3);
  return points.map((point, i) => {
    const variance = shorter * (analyser.readPa ** 2 + analyser.shotPa * point);
    const value = point * together + effect.noise * Math.sqrt(variance) * random.normal() + (i === spiked ? spike : 0);
    return Math.min(value, stop);
  });
}
