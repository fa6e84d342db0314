/**
 * A seeded world of vacuum chambers, for the watch to be tried on: autocorrelated gas loads, hall temperature, vents,
 * gas steps, transfers, gaps, late and doubled scans, spikes, drift; an analyser with its own fragment patterns,
 * sensitivities, noise, foot and surface ions; and at most one fault. It shares with the estimator only the published
 * records, from which its own patterns are made to differ.
 */
import type { AnalysisScan, Calibration } from '../../shared/analysis/types.ts';
import type { WatchContext } from '../../shared/watch/types.ts';
import { DAY, HOUR, RESIDUAL, sensitivityOf, truePattern, type World } from './world/chamber.ts';
import { AIR, effectOf, type Fault, type FaultEffect } from './world/faults.ts';
import { makeRandom, type Random } from './world/random.ts';
import { type Span, timetable } from './world/timetable.ts';

export const START_MS = Date.UTC(2031, 0, 6);

export interface RunOptions {
  readonly days: number;
  readonly fault?: Fault;
  readonly run?: number;
  readonly quietTimetable?: boolean;
  /** Own spans instead of a timetable. */
  readonly spans?: readonly Span[];
  /** Gaps, spikes, late and doubled scans. */
  readonly mishaps?: boolean;
  readonly heat?: { readonly from: number; readonly to: number; readonly kelvin: number };
  readonly gainStep?: { readonly at: number; readonly by: number };
  readonly spike?: { readonly at: number; readonly mass: number; readonly scans: number };
  readonly undeclared?: number;
  /** The multiplier when not given. */
  readonly detectorAt?: (seconds: number) => 'faraday' | 'multiplier';
  /** What the multiplier really multiplies by; 1 when not given. */
  readonly gainAt?: (seconds: number) => number;
  /** Read noise of the Faraday detector over that of the multiplier. */
  readonly faradayNoise?: number;
  /** Masses that fall to the floor in a scan. */
  readonly dropOutAt?: (seconds: number) => number | null;
}

export interface WorldScan {
  readonly scan: AnalysisScan;
  readonly seconds: number;
  readonly state: string;
}

export function calibrationOf(world: World): Calibration {
  return {
    analyser: `c${world.seed}-a`,
    principle: 'quadrupole',
    massRange: [1, world.lastMass],
    sensitivityAmperesPerPascal: world.unit === 'A' ? world.nominalAmperesPerPascal : null,
    multiplierGain: 1,
    transmissionExponent: 0,
    version: `${world.seed}/1`,
  };
}

export function contextOf(world: World, limits: WatchContext['limits'] = []): WatchContext {
  return {
    chamber: {
      id: `c${world.seed}`,
      name: `Chamber ${world.seed}`,
      kind: world.kind,
      volumeLitres: 60,
      pumpingSpeedLitresPerSecond: world.speeds,
      gases: world.kind === 'process' ? [world.processGas] : [],
    },
    calibration: calibrationOf(world),
    limits,
    closedByPerson: [],
  };
}

interface Weather {
  readonly loads: Record<string, number>;
  pumping: number;
  gain: number;
  gauge: number;
  hall: number;
  wall: number | null;
}

const UNITS = { Pa: 1, mbar: 0.01, Torr: 760 / 101_325 } as const;

export function* scansOf(world: World, options: RunOptions): Generator<WorldScan> {
  const random = makeRandom(world.seed * 31_337 + (options.run ?? 1) * 977);
  const step = world.periodSeconds;
  const spans =
    options.spans ?? (options.quietTimetable ? [] : timetable(world, options.days, random, options.undeclared));
  const weather = firstWeather(world, random);
  const mishaps = options.mishaps ?? true;
  const late: { due: number; scan: WorldScan }[] = [];
  let gapUntil = -1;
  let frozen: Float64Array | null = null;
  let ventedAt = -random.scale(3, 40) * DAY;
  let ventLoad = random.range(0.3, 3);
  let gasEnded: number | null = null;
  let id = 0;
  for (let t = 0; t < options.days * DAY; t += step) {
    const span = spans.find(({ from, to }) => t >= from && t < to);
    for (const past of spans) {
      if (past.state === 'vented' && t >= past.from && t - step < past.to) {
        ventedAt = Math.min(t, past.to);
        if (t - step < past.from) ventLoad = random.range(0.4, 2.5);
      }
      if (past.state === 'gas-on' && t >= past.to && t - step < past.to) gasEnded = past.to;
    }
    advance(world, weather, random, t, options);
    if (t < gapUntil) continue;
    if (mishaps && random.uniform() < step / (9 * DAY)) {
      gapUntil = t + random.scale(0.3, 12) * HOUR;
      continue;
    }
    const state = span?.state ?? 'base';
    const effect = effectOf(world, options.fault, t);
    const gas = gasAt({
      world,
      weather,
      effect,
      span,
      t,
      random,
      ventAge: t - ventedAt,
      ventLoad,
      sinceGas: gasEnded === null ? null : t - gasEnded,
    });
    const values = spectrumAt({ world, weather, effect, gas, t, random, options, mishaps });
    if (state === 'vented') continue;
    if (options.fault?.kind === 'frozen' && t >= options.fault.fromSeconds) frozen ??= values;
    const scan = toScan({
      world,
      weather,
      effect,
      gas,
      t,
      random,
      id: id++,
      values: frozen ?? values,
      options,
      state: span?.undeclared ? 'base' : state,
    });
    const out: WorldScan = { scan, seconds: t, state };
    if (mishaps && random.uniform() < 0.003) {
      late.push({ due: t + random.range(1, 6) * step, scan: out });
      continue;
    }
    yield out;
    if (mishaps && random.uniform() < 0.004) yield out;
    while (late[0] && late[0].due <= t) yield late.shift()!.scan;
  }
}

function firstWeather(world: World, random: Random): Weather {
  return {
    loads: Object.fromEntries(RESIDUAL.map((gas) => [gas, random.normal() * world.loads[gas]!.sigma])),
    pumping: random.normal() * world.pumping.sigma,
    gain: 0,
    gauge: 0,
    hall: random.normal() * world.hall.sigma,
    wall: null,
  };
}

/** First-order autoregression with one sigma and one time constant. */
const wander = (x: number, sigma: number, tau: number, step: number, random: Random): number => {
  const keep = Math.exp(-step / tau);
  return keep * x + sigma * Math.sqrt(1 - keep * keep) * random.normal();
};

function advance(world: World, weather: Weather, random: Random, t: number, { heat, gainStep }: RunOptions): void {
  const step = world.periodSeconds;
  for (const gas of RESIDUAL) {
    const { sigma, tau } = world.loads[gas]!;
    weather.loads[gas] = wander(weather.loads[gas]!, sigma, tau, step, random);
  }
  weather.pumping = wander(weather.pumping, world.pumping.sigma, world.pumping.tau, step, random);
  weather.hall = wander(weather.hall, world.hall.sigma, 5 * DAY, step, random);
  const hot = heat && t > heat.from && t < heat.to ? heat.kelvin * Math.min(1, (t - heat.from) / (2 * HOUR)) : 0;
  const hall = hallAt(world, weather, t) + hot;
  weather.wall =
    weather.wall === null ? hall : weather.wall + (hall - weather.wall) * Math.min(1, step / world.hall.lagSeconds);
  weather.gain += world.gainDriftPerSecond * step + world.gainWalkPerDay * Math.sqrt(step / DAY) * random.normal();
  if (random.uniform() < (0.3 * step) / (30 * DAY)) weather.gain += random.range(-0.05, 0.05);
  if (gainStep && Math.abs(t - gainStep.at) < step / 2) weather.gain += gainStep.by;
  weather.gauge += 0.0015 * Math.sqrt(step / DAY) * random.normal();
}

const hallAt = ({ hall }: World, weather: Weather, t: number): number =>
  22 + hall.amplitude * Math.sin((2 * Math.PI * (t / HOUR - hall.phaseHours)) / 24) + weather.hall;

interface GasInput {
  readonly world: World;
  readonly weather: Weather;
  readonly effect: FaultEffect;
  readonly span: Span | undefined;
  readonly t: number;
  readonly random: Random;
  readonly ventAge: number;
  readonly ventLoad: number;
  readonly sinceGas: number | null;
}

interface GasNow {
  readonly residual: Record<string, number>;
  readonly pumpFactor: number;
  readonly added: readonly [string, number][];
}

function gasAt({ world, weather, effect, span, random, ventAge, ventLoad, sinceGas }: GasInput): GasNow {
  const kelvin = 273.15 + (weather.wall ?? 22);
  const residual: Record<string, number> = {};
  for (const gas of RESIDUAL) {
    const warmth = Math.exp(((world.energies[gas] ?? 0) * 1000 * (1 / 295.15 - 1 / kelvin)) / 8.314);
    residual[gas] = world.pressures[gas]! * warmth * Math.exp(weather.loads[gas]!) * effect.pressureFactor(gas);
  }
  // Water and what comes with it fall as one over time after a vent.
  const wet = ventLoad * (Math.max(0.3 * HOUR, ventAge) / (10 * HOUR)) ** -1 * (world.kind === 'baked' ? 3 : 1);
  residual.H2O! += world.pressures.H2O! * wet;
  for (const gas of ['CO', 'CO2', 'H2', 'CH4', 'C3H6', 'N2'])
    residual[gas]! += world.pressures[gas]! * wet * (gas === 'N2' ? 0.02 : 0.15);
  const added = [...effect.added];
  const state = span?.state ?? 'base';
  if (state === 'gas-on' || state === 'plasma') {
    added.push([world.processGas, (span?.level ?? 1) * Math.exp(0.02 * random.normal()) * world.totalPa * 300]);
  }
  if (state === 'transfer') added.push(['N2', 2 * world.totalPa], ['H2O', 0.5 * world.pressures.H2O!]);
  if (state === 'base' && sinceGas !== null) {
    added.push([world.processGas, world.totalPa * 300 * 1e-4 * Math.exp(-sinceGas / (0.4 * HOUR))]);
  }
  if (state === 'pump-down') {
    for (const gas of ['N2', 'O2', 'Ar'] as const)
      added.push([gas, world.totalPa * 50 * AIR[gas] * Math.exp(-ventAge / (0.25 * HOUR))]);
  }
  return { residual, pumpFactor: Math.exp(-weather.pumping) * effect.pumpFactor, added };
}

interface SpectrumInput {
  readonly world: World;
  readonly weather: Weather;
  readonly effect: FaultEffect;
  readonly gas: GasNow;
  readonly t: number;
  readonly random: Random;
  readonly options: RunOptions;
  readonly mishaps: boolean;
}

/** N2-equivalent Pa at masses 1 … last, with noise. */
function spectrumAt({ world, weather, effect, gas, t, random, options, mishaps }: SpectrumInput): Float64Array {
  const y = new Float64Array(world.lastMass + 1);
  const add = (id: string, pressure: number) => {
    const pattern = truePattern(world, id);
    for (let m = 1; m <= world.lastMass; m++) y[m]! += pressure * pattern[m]!;
  };
  for (const id of RESIDUAL) {
    const own = world.ownGas[id] ?? 0;
    const outgassing = effect.ioniser * (own > 0 ? own + 0.5 : id === 'H2O' ? 0.3 : 0);
    add(id, gas.residual[id]! * (1 - own) * gas.pumpFactor + world.pressures[id]! * (own + outgassing));
  }
  for (const [id, pressure] of gas.added) add(id, pressure);
  for (let m = 1; m <= 5; m++) y[m]! += world.footPa * Math.exp(-(m - 1) / 0.7);
  for (const [mass, share] of Object.entries(world.surfaceIons)) y[Number(mass)]! += world.totalPa * share;
  for (const [mass, height] of Object.entries(effect.peaks)) y[Number(mass)]! += height;
  const spikeMass =
    mishaps && random.uniform() < world.periodSeconds / (5 * DAY) ? Math.round(random.range(2, world.lastMass)) : 0;
  const faraday = options.detectorAt?.(t) === 'faraday';
  const gain = Math.exp(weather.gain) * effect.gain;
  const noise = effect.noise * (faraday ? (options.faradayNoise ?? 1) : 1);
  const dropped = options.dropOutAt?.(t) ?? null;
  const saturated = options.fault?.kind === 'saturated' && t >= options.fault.fromSeconds;
  const stop = saturated ? 0.3 * highestPeakPa(world) : Number.POSITIVE_INFINITY;
  const { spike } = options;
  for (let m = 1; m <= world.lastMass; m++) {
    const lost = effect.shift === 0 ? 1 : Math.exp(-((effect.shift * (0.3 + (0.7 * m) / 50)) ** 2) / 0.08);
    const height = y[m]! * gain * lost;
    const sigma = Math.sqrt((world.readNoisePa * noise) ** 2 + world.shotPa * effect.noise * Math.max(height, 0));
    y[m] = (m === dropped ? 0 : height) + sigma * random.normal();
    if (m === spikeMass) y[m]! += 0.3 * world.totalPa * random.uniform();
    if (spike && m === spike.mass && t >= spike.at && t < spike.at + spike.scans * world.periodSeconds)
      y[m]! += 0.3 * world.totalPa;
    y[m] = Math.min(y[m]!, stop);
  }
  return y.slice(1);
}

/** Of the residual gas at rest. */
function highestPeakPa(world: World): number {
  return Math.max(...RESIDUAL.map((gas) => world.pressures[gas]! * Math.max(...truePattern(world, gas))));
}

interface ScanInput {
  readonly world: World;
  readonly weather: Weather;
  readonly effect: FaultEffect;
  readonly gas: GasNow;
  readonly t: number;
  readonly random: Random;
  readonly id: number;
  readonly values: Float64Array;
  readonly options: RunOptions;
  readonly state: string;
}

function toScan({ world, weather, effect, gas, t, random, id, values, options, state }: ScanInput): AnalysisScan {
  const detector = options.detectorAt?.(t) ?? 'multiplier';
  const gain = detector === 'multiplier' ? (options.gainAt?.(t) ?? 1) : 1;
  const unit = world.unit === 'A' ? world.amperesPerPascal * gain : UNITS[world.unit];
  let total = 0;
  for (const gasId of RESIDUAL) total += gas.residual[gasId]! * gas.pumpFactor * sensitivityOf(gasId);
  for (const [gasId, pressure] of gas.added) total += pressure * sensitivityOf(gasId);
  const gauge = total * world.gaugeFactor * effect.gauge * Math.exp(weather.gauge + 0.008 * random.normal());
  return {
    analyser: `c${world.seed}-a`,
    id: `${world.seed}-${id}`,
    atMs: START_MS + t * 1000,
    seconds: Math.min(60, world.periodSeconds * 0.5),
    averages: 1,
    masses: { first: 1, last: world.lastMass, perUnit: 1 },
    values: values.map((v) => Number((v * unit).toPrecision(4))),
    unit: world.unit,
    detector,
    totalPressurePa: world.hasGauge ? Number(gauge.toPrecision(3)) : null,
    state,
    temperatureC: world.sendsTemperature
      ? Math.round((hallAt(world, weather, t) + 0.05 * random.normal()) * 10) / 10
      : null,
  };
}
