import type { OperatingState } from '../../../shared/contract/words.ts';
import type { Cycle, Plant } from '../plant.ts';
import { chanceFrom, driftAt, seedOf } from '../random.ts';
import { pressureAfterPa } from './balance.ts';
import { AIR_SHARE, addGases, noGas, type PerGas, type SomeGases, WORLD_GASES, type WorldGas } from './gases.ts';
import { gaugeReadingPa } from './gauge.ts';
import { hallCelsius, wallCelsius } from './hall.ts';
import { type Bake, wallLoads } from './outgassing.ts';
import { speedsAtChamber } from './pumps.ts';
import { cycleAt, type Span, stateAt, type Vent } from './timetable.ts';

const HOUR_MS = 3_600_000;
const WALL_LAG_HOURS = 1.5;
/** Above this the interlock keeps hot cathodes dark. */
const EMISSION_LIMIT_PA = 0.02;

/** What happens to one chamber beside its ordinary life: see stories.ts. */
export interface Happenings {
  readonly spans: readonly Span[];
  readonly vents: readonly Vent[];
  readonly bakes: readonly Bake[];
  /** Extra gas, Pa l/s. */
  readonly loads: readonly ((atMs: number, wallCelsius: number) => SomeGases)[];
}

/** The truth about a chamber at one moment. */
export interface Moment {
  readonly state: OperatingState;
  readonly hallCelsius: number;
  readonly partialPa: PerGas;
  readonly gaugePa: number;
  /** Off while the pressure is too high for a hot cathode: then gauge and analyser see nothing. */
  readonly emission: boolean;
}

export interface ChamberModel {
  readonly momentAt: (atMs: number) => Moment;
}

export function makeChamber(plant: Plant, happenings: Happenings, historyFromMs: number): ChamberModel {
  const speeds = trueSpeeds(plant);
  const firstVent: Vent = {
    fromMs: 0,
    toMs: historyFromMs - plant.daysSinceVent * 24 * HOUR_MS,
    wetness: 1,
    roughPa: 0,
  };
  const momentAt = (atMs: number): Moment => {
    const state = stateAt(happenings.spans, plant.cycles ?? [], atMs);
    const hall = hallCelsius(plant.climate, atMs);
    const vent = [firstVent, ...happenings.vents].findLast(({ fromMs }) => atMs >= fromMs) ?? firstVent;
    if (atMs < vent.toMs) return { state, hallCelsius: hall, partialPa: noGas(), gaugePa: 0, emission: false };
    const partialPa = partialPressures({ plant, happenings, speeds, vent, atMs });
    const gaugePa = gaugeReadingPa(plant.id, partialPa, atMs);
    return { state, hallCelsius: hall, partialPa, gaugePa, emission: gaugePa < EMISSION_LIMIT_PA };
  };
  return { momentAt };
}

interface Situation {
  readonly plant: Plant;
  readonly happenings: Happenings;
  readonly speeds: PerGas;
  readonly vent: Vent;
  readonly atMs: number;
}

function partialPressures({ plant, happenings, speeds, vent, atMs }: Situation): PerGas {
  const bake = happenings.bakes.find(({ fromMs }) => atMs >= fromMs);
  const celsius = bake ? bakedCelsius(plant, bake, atMs) : wallCelsius(plant.climate, atMs, WALL_LAG_HOURS);
  const sinceVent = atMs - vent.toMs;
  const bakedShare = plant.baked ? 1 : bake ? Math.min(1, (atMs - bake.fromMs) / (bake.toMs - bake.fromMs)) : 0;
  const history = { hoursSinceVent: sinceVent / HOUR_MS, wetness: vent.wetness, celsius, bakedShare };
  const loads = wallLoads(plant, history, atMs);
  addGases(loads, AIR_SHARE, plant.standingLeakPaLitresPerSecond);
  for (const load of happenings.loads) addGases(loads, load(atMs, celsius));
  const { unrest = 1 } = plant;
  const throttle = Math.exp(unrest * PUMP_UNREST * driftAt(seedOf('pump', plant.id), atMs, PUMP_UNREST_HOURS));
  const pressures = noGas();
  for (const gas of WORLD_GASES) {
    const speed = speeds[gas] * throttle;
    const fromVent =
      vent.roughPa * (AIR_SHARE[gas] ?? 0) * Math.exp((-sinceVent / 1000) * (speed / plant.volumeLitres));
    pressures[gas] = loads[gas] / speed + fromVent + fromCycles(plant, gas, speed, atMs);
  }
  return pressures;
}

/** Gas let in by the daily cycles: it comes and goes with V/S and leaves a little in walls and pump. */
function fromCycles(plant: Plant, gas: WorldGas, speed: number, atMs: number): number {
  return (plant.cycles ?? []).reduce((sum, cycle) => {
    const flow = cycle.flow[gas] ?? 0;
    return flow > 0 ? sum + fromCycle({ cycle, flow, speed, volumeLitres: plant.volumeLitres, atMs }) : sum;
  }, 0);
}

function fromCycle(o: { cycle: Cycle; flow: number; speed: number; volumeLitres: number; atMs: number }): number {
  const { on, seconds } = cycleAt(o.cycle, o.atMs);
  const balance = {
    loadPaLitresPerSecond: on ? o.flow : 0,
    speedLitresPerSecond: o.speed,
    volumeLitres: o.volumeLitres,
  };
  const pressure = pressureAfterPa(balance, on ? 0 : o.flow / o.speed, seconds);
  const sinceOffMinutes = on ? o.cycle.everyMinutes : seconds / 60;
  return pressure + (o.flow / o.speed) * o.cycle.memory * Math.exp(-sinceOffMinutes / o.cycle.memoryMinutes);
}

/** A bake: three hours up, held, and cooling by itself. */
const BAKE_CELSIUS = 140;
const BAKE_RISE_HOURS = 3;
const BAKE_COOLING_HOURS = 2.5;

function bakedCelsius(plant: Plant, bake: Bake, atMs: number): number {
  const room = wallCelsius(plant.climate, atMs, WALL_LAG_HOURS);
  const rise = Math.min(1, (atMs - bake.fromMs) / (BAKE_RISE_HOURS * HOUR_MS));
  const cooling = Math.exp(-Math.max(0, atMs - bake.toMs) / (BAKE_COOLING_HOURS * HOUR_MS));
  return room + (BAKE_CELSIUS - room) * rise * cooling;
}

const PUMP_UNREST = 0.008;
const PUMP_UNREST_HOURS = 5;
/** The speed in the fleet document is an engineer's figure: the true one is off, a little differently for each gas. */
const SPEED_SPREAD = 0.08;
const SPEED_SPREAD_BETWEEN_GASES = 0.04;

function trueSpeeds(plant: Plant): PerGas {
  const chance = chanceFrom(seedOf('speed', plant.id));
  const common = SPEED_SPREAD * chance.normal();
  const stated = speedsAtChamber(plant.pumps, plant.portCm2);
  const speeds = noGas();
  for (const gas of WORLD_GASES) {
    speeds[gas] = stated[gas] * Math.exp(common + SPEED_SPREAD_BETWEEN_GASES * chance.normal());
  }
  return speeds;
}
