/**
 * A chamber of the bench's world as it really is. Written from V dP/dt = Q − S P; the watch is told volume, speeds (off by
 * some ten per cent), the mass range and a nominal sensitivity, and nothing else of it.
 *
 * The analyser errs: every fragment by 10 to 30 % either way, every gas's sensitivity by up to ±50 %, a transmission
 * that nobody told. Loads breathe with a common factor of two time constants, each with one of its own, with steps
 * of Student's t (5 degrees of freedom) instead of normal ones.
 */
import { type Random, seededRandom } from '../../support/instrument.ts';
import { AIR, GAS_NAMES, GAS_TABLE, type Gas, RESIDUAL } from './gasTable.ts';
import { HOUR } from './hall.ts';

export type Kind = 'baked' | 'unbaked' | 'process';

export interface Wander {
  readonly sigma: number;
  readonly seconds: number;
}

export interface Chamber {
  readonly seed: number;
  readonly site: number;
  readonly kind: Kind;
  readonly volumeLitres: number;
  /** True, litres per second. */
  readonly speeds: Readonly<Record<Gas, number>>;
  readonly toldSpeeds: Readonly<Record<string, number>>;
  /** Pa·l/s at 22 °C. */
  readonly loads: Readonly<Record<string, number>>;
  /** kJ/mol, of what lets a gas go. */
  readonly energies: Readonly<Record<string, number>>;
  readonly totalPa: number;
  readonly wander: {
    /** Of everything together, quick and slow. */
    readonly common: readonly [Wander, Wander];
    /** How much of the common factor a gas takes. */
    readonly share: Readonly<Record<string, number>>;
    readonly own: Readonly<Record<string, Wander>>;
    readonly pumping: Wander;
  };
  readonly wallLagSeconds: number;
  readonly processGases: readonly Gas[];
  readonly analyser: Analyser;
}

export interface Analyser {
  readonly principle: 'quadrupole' | 'ion trap';
  readonly form: 'bars' | 'profile';
  readonly periodSeconds: number;
  /** Now and then somebody lets it run at one scan a second for a few minutes. */
  readonly bursts: boolean;
  readonly lastMass: number;
  readonly unit: 'A' | 'Pa' | 'mbar' | 'Torr' | '1';
  /** Of the unit per N2-equivalent Pa. */
  readonly perPascal: number;
  readonly nominalPerPascal: number;
  /** N2-equivalent Pa per Pa, index = mass. */
  readonly responses: Readonly<Record<Gas, Float64Array>>;
  /** One scan, N2-equivalent Pa; and variance per height. */
  readonly readPa: number;
  readonly shotPa: number;
  /** Of all heights of a scan together. */
  readonly flicker: number;
  readonly gainPerMonth: number;
  readonly gainWalkPerDay: number;
  /** Drift of the single sensitivities, ln per month. */
  readonly gasDrift: Readonly<Record<string, number>>;
  readonly footPa: number;
  readonly surfaceIons: Readonly<Record<number, number>>;
  /** Share of a gas that the ioniser makes and no pump of the chamber moves. */
  readonly ownShare: Readonly<Record<string, number>>;
  readonly peakWidthU: number;
  readonly hasGauge: boolean;
  readonly gaugeFactor: number;
  readonly tellsTemperature: boolean;
}

/** Sites of eight chambers. */
const SITE_SIZE = 8;

export function makeChamber(seed: number): Chamber {
  const random = seededRandom(seed * 7753 + 101);
  const kind = random.pick<Kind>(['baked', 'baked', 'unbaked', 'process', 'process']);
  const pressures = pressuresOf(kind, random);
  const totalPa = Object.values(pressures).reduce((sum, p) => sum + p, 0);
  const speeds = speedsOf(random);
  const restless = random.decades(0.5, 1.5);
  const some = (low: number, high: number) =>
    Object.fromEntries(RESIDUAL.map((gas) => [gas, random.between(low, high)])) as Record<string, number>;
  return {
    seed,
    site: Math.floor(seed / SITE_SIZE),
    kind,
    volumeLitres: random.decades(15, 400),
    speeds,
    toldSpeeds: Object.fromEntries(
      (['N2', 'H2', 'Ar', 'O2', 'H2O', 'He'] as const).map((gas) => [
        gas,
        speeds[gas] * Math.exp(0.12 * random.normal()),
      ]),
    ),
    loads: Object.fromEntries(RESIDUAL.map((gas) => [gas, pressures[gas]! * speeds[gas]])),
    energies: { ...some(12, 45), H2: random.between(30, 58), H2O: random.between(38, 62), N2: 0, O2: 0, Ar: 0, He: 15 },
    totalPa,
    wander: {
      common: [
        { sigma: restless * random.between(0.004, 0.02), seconds: random.decades(0.5, 6) * HOUR },
        { sigma: restless * random.between(0.005, 0.03), seconds: random.decades(20, 150) * HOUR },
      ],
      share: some(0.3, 1.4),
      own: Object.fromEntries(
        RESIDUAL.map((gas) => [
          gas,
          { sigma: restless * random.between(0.006, 0.03), seconds: random.decades(1, 40) * HOUR },
        ]),
      ),
      pumping: { sigma: restless * random.between(0.003, 0.015), seconds: random.decades(0.5, 12) * HOUR },
    },
    wallLagSeconds: random.between(0.3, 3) * HOUR,
    processGases: kind === 'process' ? random.pick<readonly Gas[]>([['Ar'], ['N2'], ['Ar', 'NF3'], ['N2', 'Ar']]) : [],
    analyser: analyserOf(random, totalPa),
  };
}

function pressuresOf(kind: Kind, random: Random): Record<string, number> {
  const water = { baked: [6e-9, 1.5e-7], unbaked: [8e-7, 2e-5], process: [2e-7, 8e-6] }[kind] as [number, number];
  const H2O = random.decades(...water);
  const H2 = kind === 'baked' ? random.decades(3e-8, 8e-7) : H2O * random.decades(0.06, 0.7);
  const CO = (H2 + H2O) * random.decades(0.03, 0.2);
  const CH4 = CO * random.decades(0.06, 0.5);
  // Every chamber leaks a little, through seals and by permeation; metals take most of the oxygen.
  const air = CO * random.decades(0.01, 0.3);
  return {
    H2,
    H2O,
    CO,
    CH4,
    CO2: CO * random.between(0.1, 0.7),
    N2: air,
    O2: air * 0.27 * random.decades(0.01, 0.6),
    Ar: air * (AIR.Ar / AIR.N2) * random.between(0.7, 1.8),
    He: air * random.decades(2e-5, 1e-3),
    C2H6: CH4 * random.between(0.02, 0.3),
    oil: CO * random.decades(3e-6, 3e-4),
  };
}

function speedsOf(random: Random): Record<Gas, number> {
  const nitrogen = random.decades(50, 900);
  const special: Partial<Record<Gas, number>> = {
    H2: random.between(0.7, 1.5),
    He: random.between(0.6, 1.2),
    H2O: random.between(1, 2.5),
    Ar: random.between(0.8, 1),
  };
  return Object.fromEntries(
    GAS_NAMES.map((gas) => [gas, nitrogen * (special[gas] ?? random.between(0.85, 1.05))]),
  ) as Record<Gas, number>;
}

function analyserOf(random: Random, totalPa: number): Analyser {
  const form = random.uniform() < 0.1 ? 'profile' : 'bars';
  const trap = random.uniform() < 0.08;
  const unit = trap ? '1' : random.pick<Analyser['unit']>(['A', 'A', 'A', 'mbar', 'Torr', 'Pa']);
  const lastMass = form === 'profile' ? 60 : random.pick([65, 100, 100, 150]);
  const responses = responsesOf(random, lastMass);
  const perPascal = { A: random.decades(1e-7, 1e-4), Pa: 1, mbar: 0.01, Torr: 760 / 101_325, '1': 1 / totalPa }[unit];
  const chlorine = random.decades(3e-5, 2e-3);
  return {
    principle: trap ? 'ion trap' : 'quadrupole',
    form,
    periodSeconds: random.pick([120, 180, 300, 300, 300, 600, 600]),
    bursts: random.uniform() < 0.1,
    lastMass,
    unit,
    perPascal,
    nominalPerPascal: perPascal * Math.exp(0.1 * random.normal()),
    responses,
    readPa: totalPa * random.decades(1e-6, 5e-5),
    shotPa: totalPa * random.decades(5e-7, 2e-5),
    flicker: random.between(5e-4, 4e-3),
    gainPerMonth: -random.between(0.005, 0.05),
    gainWalkPerDay: random.between(0.002, 0.007),
    gasDrift: Object.fromEntries(GAS_NAMES.map((gas) => [gas, gas === 'N2' ? 0 : 0.02 * random.normal()])),
    footPa: trap ? 0 : totalPa * random.decades(1e-4, 1e-2),
    surfaceIons: {
      1: random.decades(1e-4, 1e-2),
      16: random.decades(1e-4, 5e-3),
      19: random.decades(1e-4, 5e-3),
      35: chlorine,
      // Isotopes of chlorine 75.76 : 24.24 (IUPAC 2009).
      37: 0.32 * chlorine,
    },
    ownShare: {
      CO: random.between(0.05, 0.4),
      CO2: random.between(0.05, 0.4),
      H2: random.between(0, 0.2),
      CH4: random.between(0, 0.4),
    },
    peakWidthU: random.between(0.55, 0.75),
    hasGauge: trap || random.uniform() < 0.85,
    gaugeFactor: Math.exp(0.12 * random.normal()),
    tellsTemperature: random.uniform() < 0.7,
  };
}

function responsesOf(random: Random, lastMass: number): Record<Gas, Float64Array> {
  const tilt = random.between(-0.3, 0.3);
  const share = (gas: Gas, mass: number) => {
    const peaks: Readonly<Record<number, number>> = GAS_TABLE[gas].peaks;
    return (peaks[mass] ?? 0) / Object.values(peaks).reduce((sum, peak) => sum + peak, 0);
  };
  const off = () => 1 + (random.uniform() < 0.5 ? -1 : 1) * random.between(0.1, 0.3);
  return Object.fromEntries(
    GAS_NAMES.map((gas) => {
      const { peaks, sensitivity } = GAS_TABLE[gas];
      const base = Math.max(...Object.values(peaks));
      const error = gas === 'N2' ? 1 : random.decades(1 / 1.5, 1.5);
      const response = new Float64Array(lastMass + 1);
      for (const [text, peak] of Object.entries(peaks)) {
        const mass = Number(text);
        const fragment = peak === base ? 1 : off();
        if (mass > lastMass) continue;
        response[mass] = (sensitivity * error * fragment * share(gas, mass) * (28 / mass) ** tilt) / share('N2', 28);
      }
      return [gas, response];
    }),
  ) as Record<Gas, Float64Array>;
}

/** One standard deviation of the argon pressure of one scan: read noise and the shot noise of what stands at m/z 40. */
export function argonSigmaPa({ analyser, loads, speeds }: Chamber): number {
  const there = RESIDUAL.reduce((sum, gas) => sum + (loads[gas]! / speeds[gas]) * analyser.responses[gas][40]!, 0);
  return Math.sqrt(analyser.readPa ** 2 + analyser.shotPa * there) / analyser.responses.Ar[40]!;
}

/** Least detectable leak of air, Pa·l/s: 3 σ_Ar · S_Ar / 0.00934. */
export const leastDetectableLeak = (chamber: Chamber): number =>
  (3 * argonSigmaPa(chamber) * chamber.speeds.Ar) / AIR.Ar;
