import type { Plant } from '../plant.ts';
import { driftAt, seedOf } from '../random.ts';
import { addGases, noGas, type SomeGases, WORLD_GASES, type WorldGas } from './gases.ts';
import { arrheniusFactor } from './kinetics.ts';

/** Temperature at which the rates below hold. */
const REFERENCE_CELSIUS = 22;

/**
 * Water from an unbaked metal wall, Pa l/s for each cm² one hour after the pumps start; it falls as 1/t.
 * About 3e-9 mbar l/s cm² at one hour: common practice for steel.
 */
const WET_WALL_AT_ONE_HOUR = 3e-7;
/** What a bake leaves of that. */
const LEFT_AFTER_BAKE = 0.01;
/** 1/t has no end towards the start: the first minutes are the volume's gas, not the wall's. */
const EARLIEST_HOUR = 0.3;

/**
 * Hydrogen from steel after a bake, Pa l/s cm²: 4e-11 to 8e-11 for unfired 304L, 316L and 316LN
 * (J. A. Fedchak and others, arXiv:2009.10560).
 */
const HYDROGEN_FROM_WALL = 6e-11;
/** Never baked, a wall gives about ten times as much (common practice). */
const HYDROGEN_UNBAKED = 10;
/** Other gases that come with the hydrogen and with the water, as shares of them. Invented for the example. */
const WITH_HYDROGEN: SomeGases = { CO: 0.12, CO2: 0.03, CH4: 0.03, N2: 0.01, C3H6: 0.0006 };
const WITH_WATER: SomeGases = { H2: 0.04, CO: 0.03, CO2: 0.03, CH4: 0.004, C3H6: 0.0008 };

/** What passes a centimetre of fluoroelastomer cord from the room, Pa l/s: round figures, invented for the example. */
const THROUGH_SEAL: SomeGases = { H2O: 3e-6, N2: 2e-7, O2: 1.2e-7, Ar: 5e-9, He: 1.5e-9, CO2: 2e-8, CO: 1e-8 };
/** Water stored in a centimetre of the cord, Pa l/s ten hours after a vent; diffusion lets it out as t^(-1/2). */
const STORED_IN_SEAL = 2e-6;

/** Energy with which each gas leaves wall or seal, kJ/mol: 40 to 60 is usual for walls (common practice). */
const ENERGY: Readonly<Record<WorldGas, number>> = {
  H2: 45,
  He: 18,
  CH4: 35,
  H2O: 50,
  CO: 32,
  N2: 20,
  O2: 20,
  Ar: 18,
  CO2: 38,
  C3H6: 45,
  oil: 70,
  CF4: 20,
  NF3: 20,
  SF6: 20,
};

export interface Bake {
  readonly fromMs: number;
  readonly toMs: number;
}

export interface WallHistory {
  /** Since the pumps last started on a vented chamber. */
  readonly hoursSinceVent: number;
  /** 1: a vent with the door open; less for a short one with dry gas. */
  readonly wetness: number;
  readonly celsius: number;
  /** 0 before a bake, 1 after it. */
  readonly bakedShare: number;
}

/** Everything that walls and seals give off, Pa l/s. */
export function wallLoads(plant: Plant, history: WallHistory, atMs: number): Record<WorldGas, number> {
  const loads = noGas();
  const hours = Math.max(EARLIEST_HOUR, history.hoursSinceVent);
  const dryness = LEFT_AFTER_BAKE ** history.bakedShare;
  const water = (WET_WALL_AT_ONE_HOUR * plant.wallCm2 * history.wetness * dryness) / hours;
  const hydrogen = HYDROGEN_FROM_WALL * HYDROGEN_UNBAKED ** (1 - history.bakedShare) * plant.wallCm2;
  addGases(loads, { H2: hydrogen, H2O: water });
  addGases(loads, WITH_HYDROGEN, hydrogen);
  addGases(loads, WITH_WATER, water);
  addGases(loads, THROUGH_SEAL, plant.sealCm);
  loads.H2O += (STORED_IN_SEAL * plant.sealCm * Math.min(1, history.wetness)) / Math.sqrt(hours / 10);
  for (const gas of WORLD_GASES) {
    loads[gas] *= arrheniusFactor(ENERGY[gas], REFERENCE_CELSIUS, history.celsius) * unrest(plant, gas, atMs);
  }
  return loads;
}

/** How much faster a film of a gas leaves a wall at this temperature than at the reference. */
export const warmthFactor = (gas: WorldGas, celsius: number): number =>
  arrheniusFactor(ENERGY[gas], REFERENCE_CELSIUS, celsius);

/** No load stands still: a few per cent over hours, each gas for itself. */
const UNREST_SHARE = 0.02;
const UNREST_HOURS = 7;
const unrest = ({ id, unrest: over = 1 }: Plant, gas: WorldGas, atMs: number) =>
  Math.exp(over * UNREST_SHARE * driftAt(seedOf('load', id, gas), atMs, UNREST_HOURS));
