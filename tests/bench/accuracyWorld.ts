/**
 * Analysers for the accuracy bench, with errors by rules of their own: not those that the estimator assumes, nor those
 * of the tests' simulator or of the example site. All figures are invented; only published records are taken from the
 * catalogue, as raw material.
 *
 * - A record other than the first where there is one.
 * - Fragments err in groups: all ions that have lost the same heavy atoms go up and down together, and within a group
 *   the loss of hydrogen is easier on one analyser than on the next. One setting of the electron energy moves all light
 *   fragments of all gases the same way; doubly charged ions follow a law of their own.
 * - Transmission falls or rises along a parabola in ln m.
 * - Sensitivities err by family, and all of them fall with the total pressure (space charge).
 * - The foot falls as a power of the mass; surfaces give H+, O+, F+ and Cl+; the ioniser gives H2, CO, CO2 and CH4.
 */
import type { CatalogueGas } from '../../shared/catalogue/types.ts';
import type { Random } from '../support/instrument.ts';

export const HEAVIEST = 200;
const ORIGIN = 28;

export interface World {
  readonly principle: 'quadrupole' | 'ion trap';
  /** Gas → mass → N2-equivalent Pa per Pa, index = mass. */
  readonly responses: ReadonlyMap<string, Float64Array>;
  /** Gauge: reading per Pa of the gas. */
  readonly gaugeFactors: ReadonlyMap<string, number>;
  /** Height of the foot at m/z 1 as a share of the largest peak, and the power with which it falls. */
  readonly foot: { readonly share: number; readonly power: number };
  /** Mass → share of the largest peak. */
  readonly desorbed: Readonly<Record<number, number>>;
  /** What the ioniser gives off, Pa of each gas per Pa of the chamber's total. */
  readonly ownGas: Readonly<Record<string, number>>;
  /** Total pressure at which half of the ions are lost to space charge, Pa. */
  readonly halfPressurePa: number;
  /** True sensitivity over the stated one. */
  readonly calibrationError: number;
}

export function makeWorld(random: Random, gases: readonly CatalogueGas[], principle: 'quadrupole' | 'ion trap'): World {
  const instrument = {
    energy: 0.15 * random.normal(),
    hydrogenLoss: 0.06 * random.normal(),
    doubly: Math.exp(0.25 * random.normal()),
    slope: 0.12 * random.normal(),
    curvature: 0.04 * random.normal(),
  };
  const families = new Map<string, number>();
  const familyError = (gas: CatalogueGas) => {
    const family = gas.organic ? 'organic' : /F|Cl|Br/.test(gas.formula) ? 'halogen' : gas.kind;
    if (!families.has(family)) families.set(family, 0.1 * random.normal());
    return families.get(family)!;
  };
  const quadrupole = principle === 'quadrupole';
  const nitrogen = gases.find((gas) => gas.id === 'N2')!;
  const unit = nitrogen.records[0].peaks[ORIGIN]! / nitrogen.primarySum;
  const responses = new Map<string, Float64Array>();
  const gaugeFactors = new Map<string, number>();
  for (const gas of gases) {
    const known = gas.id === 'N2';
    const sensitivity = known ? 1 : Math.exp(familyError(gas) + 0.16 * random.normal());
    responses.set(gas.id, responseOf({ random, gas, instrument, sensitivity, unit }));
    gaugeFactors.set(gas.id, gas.relativeSensitivity.value * (known ? 1 : Math.exp(0.14 * random.normal())));
  }
  const dirty = quadrupole && random.uniform() < 0.4;
  return {
    principle,
    responses,
    gaugeFactors,
    foot: { share: quadrupole && random.uniform() < 0.5 ? random.decades(2e-4, 0.05) : 0, power: random.between(2, 4) },
    desorbed: dirty ? surfaceIons(random) : {},
    ownGas: random.uniform() < 0.5 ? ownGas(random) : {},
    halfPressurePa: random.decades(3e-3, 1e-1),
    calibrationError: Math.exp(0.05 * random.normal()),
  };
}

function surfaceIons(random: Random): Record<number, number> {
  const chlorine = random.decades(5e-5, 3e-3);
  return {
    1: random.decades(5e-5, 3e-3),
    16: random.decades(5e-5, 8e-3),
    19: random.decades(5e-5, 8e-3),
    35: chlorine,
    // Isotopes of chlorine, 75.76 : 24.24 (IUPAC 2009).
    37: 0.32 * chlorine,
  };
}

const ownGas = (random: Random): Record<string, number> => ({
  H2: random.decades(0.01, 0.3),
  CO: random.decades(0.003, 0.1),
  CO2: random.decades(0.001, 0.05),
  CH4: random.decades(5e-4, 0.01),
});

interface Instrument {
  readonly energy: number;
  readonly hydrogenLoss: number;
  readonly doubly: number;
  readonly slope: number;
  readonly curvature: number;
}

interface PatternQuestion {
  readonly random: Random;
  readonly gas: CatalogueGas;
  readonly instrument: Instrument;
  readonly sensitivity: number;
  /** Share of nitrogen's ions at m/z 28. */
  readonly unit: number;
}

/** Spread of a whole fragment group of one gas on one analyser, and of what is left of each ion. */
const GROUP_SPREAD = 0.18;
const ION_SPREAD = 0.06;
/** Chance of a small peak that no record lists, per mass, for organic compounds. */
const UNLISTED = 0.15;

function responseOf({ random, gas, instrument, sensitivity, unit }: PatternQuestion): Float64Array {
  const peaks = recordOf(random, gas);
  const masses = Object.keys(peaks).map(Number);
  const base = masses.reduce((best, mass) => (peaks[mass]! > peaks[best]! ? mass : best));
  const groups = fragmentGroups(masses);
  const baseGroup = groups.get(base)!;
  const groupError = new Map<number, number>();
  const out = new Float64Array(HEAVIEST + 1);
  for (const mass of masses) {
    if (mass > HEAVIEST) continue;
    const top = groups.get(mass)!;
    if (!groupError.has(top)) groupError.set(top, top === baseGroup ? 0 : GROUP_SPREAD * random.normal());
    const doubly = isDoublyCharged(gas, mass) ? Math.log(instrument.doubly) : 0;
    const lost = (top - mass - (baseGroup - base)) * instrument.hydrogenLoss;
    const own = mass === base ? 0 : ION_SPREAD * random.normal();
    const shape = groupError.get(top)! + instrument.energy * Math.log(base / mass) + lost + doubly + own;
    const share = (peaks[mass]! / gas.primarySum) * Math.exp(shape);
    out[mass] = (gas.relativeSensitivity.value * sensitivity * share * transmission(instrument, mass)) / unit;
  }
  return out;
}

const transmission = ({ slope, curvature }: Instrument, mass: number): number => {
  const away = Math.log(ORIGIN / mass);
  return Math.exp(slope * away - curvature * away ** 2);
};

/** A published record, another than the first where there is one that agrees on the base peak; with unlisted peaks. */
function recordOf(random: Random, gas: CatalogueGas): Record<number, number> {
  const first = gas.records[0].peaks;
  const base = Object.keys(first)
    .map(Number)
    .reduce((best, mass) => (first[mass]! > first[best]! ? mass : best));
  const others = gas.records.slice(1).filter(({ peaks }) => (peaks[base] ?? 0) > 50);
  const chosen = others.length > 0 ? random.pick(others).peaks : first;
  const peaks: Record<number, number> = {};
  for (const [mass, height] of Object.entries(chosen)) peaks[Number(mass)] = (height * first[base]!) / chosen[base]!;
  if (gas.organic && Object.keys(first).length > 3) {
    const heaviest = Math.min(HEAVIEST, Math.max(...Object.keys(first).map(Number)));
    for (let mass = 12; mass < heaviest; mass++) {
      if (peaks[mass] === undefined && random.uniform() < UNLISTED)
        peaks[mass] = first[base]! * random.decades(5e-4, 6e-3);
    }
  }
  return peaks;
}

/** Mass → heaviest mass of its group: neighbours with gaps of at most two units have the same heavy atoms. */
function fragmentGroups(masses: readonly number[]): Map<number, number> {
  const groups = new Map<number, number>();
  let top = 0;
  let last = Number.POSITIVE_INFINITY;
  for (const mass of [...masses].sort((a, b) => b - a)) {
    if (last - mass > 2) top = mass;
    groups.set(mass, top);
    last = mass;
  }
  return groups;
}

const isDoublyCharged = ({ molarMassGramsPerMole, organic }: CatalogueGas, mass: number): boolean =>
  !organic && molarMassGramsPerMole !== null && Math.abs(mass - molarMassGramsPerMole.value / 2) < 1;
