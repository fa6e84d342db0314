/**
 * A chamber and its analyser as they really are. The watch is told a few of these things (speeds, a mass range, a
 * nominal sensitivity); true patterns, sensitivities, loads and drifts are withheld from it.
 */
import { GASES } from '../../../shared/catalogue/gases.ts';
import { makeRandom, type Random } from './random.ts';

export const HOUR = 3600;
export const DAY = 86_400;

export const RESIDUAL = ['H2', 'He', 'CH4', 'H2O', 'CO', 'N2', 'O2', 'Ar', 'CO2', 'C2H6', 'C3H6', 'heptane'] as const;
export type Kind = 'baked' | 'unbaked' | 'process';

export interface World {
  readonly seed: number;
  readonly kind: Kind;
  readonly periodSeconds: number;
  readonly lastMass: number;
  readonly speeds: Readonly<Record<string, number>>;
  /** Pa at 22 °C. */
  readonly pressures: Readonly<Record<string, number>>;
  readonly totalPa: number;
  /** Autocorrelated ln-load: one sigma and time constant, s. */
  readonly loads: Readonly<Record<string, { sigma: number; tau: number }>>;
  readonly pumping: { sigma: number; tau: number };
  readonly hall: { amplitude: number; phaseHours: number; sigma: number; lagSeconds: number };
  /** Desorption energies, kJ/mol. */
  readonly energies: Readonly<Record<string, number>>;
  readonly sendsTemperature: boolean;
  readonly hasGauge: boolean;
  readonly unit: 'A' | 'mbar' | 'Torr' | 'Pa';
  /** Ion current per N2-equivalent Pa, and what the fleet document says of it. */
  readonly amperesPerPascal: number;
  readonly nominalAmperesPerPascal: number;
  readonly readNoisePa: number;
  readonly shotPa: number;
  readonly gainDriftPerSecond: number;
  readonly gainWalkPerDay: number;
  readonly peakError: number;
  readonly tilt: number;
  readonly footPa: number;
  /** Surface ions at fixed masses, share of the total. */
  readonly surfaceIons: Readonly<Record<number, number>>;
  /** Share of a gas that is made in the ioniser and not pumped. */
  readonly ownGas: Readonly<Record<string, number>>;
  readonly gaugeFactor: number;
  readonly processGas: string;
}

export interface WorldOptions {
  readonly kind?: Kind;
  readonly periodSeconds?: number;
  readonly hasGauge?: boolean;
  readonly sendsTemperature?: boolean;
  readonly lastMass?: number;
  readonly unit?: World['unit'];
}

export function makeWorld(seed: number, options: WorldOptions = {}): World {
  const random = makeRandom(seed * 7919 + 13);
  const kind = options.kind ?? random.pick<Kind>(['baked', 'baked', 'unbaked', 'process']);
  const speed = random.scale(60, 800);
  const pressures = residualPressures(kind, random);
  const totalPa = Object.values(pressures).reduce((sum, p) => sum + p, 0);
  const restless = random.scale(0.4, 1.6);
  const loads = Object.fromEntries(
    RESIDUAL.map((gas) => [gas, { sigma: restless * random.range(0.01, 0.045), tau: random.scale(1, 30) * HOUR }]),
  );
  const chlorine = random.scale(3e-5, 2e-3);
  const amperesPerPascal = random.scale(1e-7, 1e-3);
  return {
    seed,
    kind,
    periodSeconds: options.periodSeconds ?? random.pick([120, 300, 300, 600]),
    lastMass: options.lastMass ?? random.pick([80, 100, 100, 150]),
    speeds: {
      N2: speed,
      H2: speed * random.range(0.7, 1.3),
      Ar: speed * random.range(0.85, 1),
      O2: speed,
      H2O: speed * random.range(1, 2.5),
      He: speed * random.range(0.6, 1.1),
    },
    pressures,
    totalPa,
    loads,
    pumping: { sigma: random.range(0.004, 0.025) * restless, tau: random.scale(0.4, 10) * HOUR },
    hall: {
      amplitude: random.range(0.4, 2),
      phaseHours: random.range(0, 24),
      sigma: random.range(0.3, 1),
      lagSeconds: random.range(0.2, 2) * HOUR,
    },
    energies: {
      H2: random.range(35, 60),
      H2O: random.range(40, 60),
      CO: random.range(15, 45),
      CO2: random.range(20, 50),
      CH4: random.range(15, 45),
      C2H6: 40,
      C3H6: 50,
      heptane: 60,
      He: random.range(0, 20),
    },
    sendsTemperature: options.sendsTemperature ?? random.uniform() < 0.7,
    hasGauge: options.hasGauge ?? random.uniform() < 0.85,
    unit: options.unit ?? random.pick(['A', 'A', 'mbar', 'Torr', 'Pa']),
    amperesPerPascal,
    nominalAmperesPerPascal: amperesPerPascal * Math.exp(0.1 * random.normal()),
    readNoisePa: totalPa * 10 ** -random.range(4.3, 6),
    shotPa: random.scale(0.001, 0.006) ** 2 * totalPa * 0.5,
    gainDriftPerSecond: -random.range(0.005, 0.05) / (30 * DAY),
    gainWalkPerDay: random.range(0.002, 0.008),
    peakError: random.range(0.1, 0.3),
    tilt: random.range(-0.3, 0.3),
    footPa: totalPa * random.scale(1e-4, 1e-2),
    surfaceIons: {
      1: random.scale(1e-3, 2e-2),
      16: random.scale(1e-4, 5e-3),
      19: random.scale(1e-4, 5e-3),
      35: chlorine,
      37: 0.32 * chlorine,
    },
    ownGas: {
      CO: random.range(0.05, 0.5),
      CO2: random.range(0.05, 0.5),
      H2: random.range(0, 0.2),
      CH4: random.range(0, 0.5),
    },
    gaugeFactor: Math.exp(0.12 * random.normal()),
    processGas: random.pick(['Ar', 'N2', 'Ar']),
  };
}

function residualPressures(kind: Kind, random: Random): Record<string, number> {
  const water =
    kind === 'baked'
      ? random.scale(1e-8, 2e-7)
      : kind === 'unbaked'
        ? random.scale(1e-6, 3e-5)
        : random.scale(3e-7, 1e-5);
  const hydrogen = kind === 'baked' ? random.scale(3e-8, 1e-6) : water * random.scale(0.05, 0.6);
  const oxide = (hydrogen + water) * random.scale(0.03, 0.25);
  const methane = oxide * random.scale(0.05, 0.4);
  const air = oxide * random.scale(0.01, 0.3);
  return {
    H2: hydrogen,
    H2O: water,
    CO: oxide,
    CO2: oxide * random.range(0.1, 0.6),
    CH4: methane,
    N2: air,
    Ar: air * 0.012 * random.range(0.5, 2),
    O2: air * 0.27 * random.scale(0.01, 0.7),
    He: air * random.scale(1e-5, 1e-3),
    C2H6: methane * random.range(0.02, 0.3),
    C3H6: oxide * random.scale(3e-4, 1e-2),
    heptane: oxide * random.scale(1e-5, 2e-3),
  };
}

const known = new Map(GASES.map((gas) => [gas.id, gas]));
const nitrogen = known.get('N2')!;
const NITROGEN_SHARE = nitrogen.records[0].peaks[28]! / nitrogen.primarySum;

export const sensitivityOf = (gas: string): number => known.get(gas)!.relativeSensitivity.value;
export const molarMassOf = (gas: string): number => known.get(gas)!.molarMassGramsPerMole?.value ?? 300;

const patterns = new Map<string, Float64Array>();

/**
 * What this instrument makes of a gas: N2-equivalent Pa per Pa at masses 0 … last. One of the published records, every
 * fragment off by 10–30 %, the sensitivity by up to ±50 %, and a transmission nobody told.
 */
export function truePattern(world: World, gas: string): Float64Array {
  const key = `${world.seed}/${world.lastMass}/${world.tilt}/${gas}`;
  const made = patterns.get(key);
  if (made) return made;
  const entry = known.get(gas)!;
  const random = makeRandom(world.seed * 104_729 + [...gas].reduce((hash, c) => (hash * 31 + c.charCodeAt(0)) | 0, 7));
  const record = random.pick(entry.records);
  const sum = Object.values(record.peaks).reduce((a, b) => a + b, 0);
  const base = Math.max(...Object.values(record.peaks));
  const sensitivity = Math.min(1.5, Math.max(0.6, Math.exp(0.25 * random.normal())));
  const out = new Float64Array(world.lastMass + 1);
  const scale =
    (entry.relativeSensitivity.value / Math.max(sum, entry.primarySum) / NITROGEN_SHARE) *
    (gas === 'N2' ? 1 : sensitivity);
  for (const [text, intensity] of Object.entries(record.peaks)) {
    const mass = Number(text);
    if (mass > world.lastMass) continue;
    const off = intensity === base ? 1 : Math.exp(world.peakError * random.normal());
    out[mass] = intensity * scale * off * (28 / mass) ** world.tilt;
  }
  if (patterns.size > 5000) patterns.clear();
  patterns.set(key, out);
  return out;
}

/** Argon pressure at three sigma of one scan at m/z 40: read and shot noise on the background there. */
export function leastDetectableArgonPa(world: World): number {
  const background = RESIDUAL.reduce((sum, gas) => sum + world.pressures[gas]! * truePattern(world, gas)[40]!, 0);
  return (3 * Math.sqrt(world.readNoisePa ** 2 + world.shotPa * background)) / truePattern(world, 'Ar')[40]!;
}
