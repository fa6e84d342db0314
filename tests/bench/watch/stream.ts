/**
 * The scans of a chamber, in the order in which they arrive: V dP/dt = Q − S P for every gas, taken exactly from one scan
 * to the next; the analyser's own gas and errors on top; and what happens to data on the way.
 */
import type { AnalysisScan } from '../../../shared/analysis/types.ts';
import { type Random, seededRandom } from '../../support/instrument.ts';
import type { Chamber, Wander } from './chamber.ts';
import { type Effect, NOTHING } from './effect.ts';
import { GAS_NAMES, type Gas, RESIDUAL } from './gasTable.ts';
import { DAY, HOUR, hallOf } from './hall.ts';
import { scanOf } from './spectrum.ts';
import { type Span, timetable } from './timetable.ts';

export interface StreamOptions {
  readonly days: number;
  readonly run: number;
  readonly vents: boolean;
  readonly effectAt?: (seconds: number) => Partial<Effect>;
  /** Nothing is measured before; what the chamber does there is the same. */
  readonly fromSeconds?: number;
}

export interface Arrival {
  readonly scan: AnalysisScan;
  /** Seconds since the start, when it arrives. */
  readonly seconds: number;
  /** What the chamber is really doing. */
  readonly state: string;
  readonly declared: boolean;
  /** Pa, for those who check the world. */
  readonly truthPa: Readonly<Record<string, number>>;
}

/** Student's t with five degrees of freedom, unit variance: a normal over the root of a chi-square. */
const heavyTailed = (random: Random): number => {
  let chi = 0;
  for (let i = 0; i < 5; i++) chi += random.normal() ** 2;
  return random.normal() / Math.sqrt(chi / 3);
};

const wandered = (x: number, { sigma, seconds }: Wander, step: number, random: Random): number => {
  const keep = Math.exp(-step / seconds);
  return keep * x + sigma * Math.sqrt(1 - keep * keep) * heavyTailed(random);
};

interface Weather {
  common: [number, number];
  own: Record<string, number>;
  pumping: number;
  wallC: number | null;
  gain: number;
  gauge: number;
  /** What walls and pumps hold of a process gas, Pa·l/s of its return. */
  held: Partial<Record<Gas, number>>;
}

const BURST_SCANS = 150;
const STILL_CLOSED = 1e-4;
/** Bolts of gas from a wall that somebody has touched or a valve that has moved: one scan, one gas. */
const BOLT_EVERY_SECONDS = 8 * DAY;

export function* arrivals(chamber: Chamber, options: StreamOptions): Generator<Arrival> {
  const { analyser } = chamber;
  const random = seededRandom(chamber.seed * 9973 + options.run * 389 + 17);
  const noise = seededRandom(chamber.seed * 5237 + options.run * 401 + 29);
  const spans = timetable(chamber, options.days, options);
  const hall = hallOf(chamber.site);
  const weather = firstWeather(chamber, random);
  const pressures: Record<string, number> = {};
  for (const gas of RESIDUAL) pressures[gas] = chamber.loads[gas]! / chamber.speeds[gas];
  const late: { due: number; arrival: Arrival }[] = [];
  let frozen: Float64Array | null = null;
  let ventedAt = -random.decades(4, 60) * DAY;
  let linkBackAt = -1;
  let burstLeft = 0;
  let reported = 'base';
  let id = 0;
  let step = analyser.periodSeconds;
  for (let t = 0; t < options.days * DAY; t += step) {
    step = burstLeft-- > 0 ? 1 : analyser.periodSeconds;
    if (analyser.bursts && burstLeft < 0 && random.uniform() < step / (4 * DAY)) burstLeft = BURST_SCANS;
    const effect: Effect = { ...NOTHING, ...options.effectAt?.(t) };
    const span = spans.find(({ from, to }) => t >= from && t < to);
    const state = span?.state ?? 'base';
    if (state === 'vented') ventedAt = span!.to;
    if (span?.declared !== false) reported = state;
    advance(chamber, weather, random, { step, hallC: hall(t) + effect.hallKelvin, span });
    flow({ chamber, weather, effect, span, pressures, step, ventAge: t - ventedAt, random });
    if (random.uniform() < step / (10 * DAY)) linkBackAt = t + random.decades(0.2, 12) * HOUR;
    if (t < linkBackAt || state === 'vented' || effect.silent) continue;
    const fate = random.uniform();
    const delay = random.between(1, 8) * step;
    if (t < (options.fromSeconds ?? 0)) continue;
    const made = scanOf({
      chamber,
      pressures,
      effect,
      gain: weather.gain,
      gauge: weather.gauge,
      days: t / DAY,
      fast: step < 10,
      random: noise,
    });
    if (effect.frozen) frozen ??= made.values;
    const scan: AnalysisScan = {
      ...made,
      values: effect.frozen ? frozen! : made.values,
      id: `${chamber.seed}-${options.run}-${id++}`,
      atMs: START_MS + t * 1000,
      state: reported,
      temperatureC: analyser.tellsTemperature ? Math.round(10 * (hall(t) + effect.hallKelvin)) / 10 : null,
    };
    const arrival = { scan, seconds: t, state, declared: span?.declared !== false, truthPa: { ...pressures } };
    if (fate < 0.003) late.push({ due: t + delay, arrival });
    else yield arrival;
    if (fate > 0.996) yield arrival;
    while (late[0] && late[0].due <= t) yield { ...late.shift()!.arrival, seconds: t };
  }
}

export const START_MS = Date.UTC(2032, 2, 1);

function firstWeather({ wander }: Chamber, random: Random): Weather {
  return {
    common: [wander.common[0].sigma * random.normal(), wander.common[1].sigma * random.normal()],
    own: Object.fromEntries(RESIDUAL.map((gas) => [gas, wander.own[gas]!.sigma * random.normal()])),
    pumping: wander.pumping.sigma * random.normal(),
    wallC: null,
    gain: 0,
    gauge: 0,
    held: {},
  };
}

interface Surroundings {
  readonly step: number;
  readonly hallC: number;
  readonly span: Span | undefined;
}

function advance(chamber: Chamber, weather: Weather, random: Random, { step, hallC, span }: Surroundings): void {
  const { wander, analyser } = chamber;
  weather.common = [
    wandered(weather.common[0], wander.common[0], step, random),
    wandered(weather.common[1], wander.common[1], step, random),
  ];
  for (const gas of RESIDUAL) weather.own[gas] = wandered(weather.own[gas]!, wander.own[gas]!, step, random);
  weather.pumping = wandered(weather.pumping, wander.pumping, step, random);
  const target = hallC + (span?.wallKelvin ?? 0);
  const lag = Math.abs((weather.wallC ?? target) - target) > 5 ? 3 * HOUR : chamber.wallLagSeconds;
  weather.wallC = weather.wallC === null ? target : target + (weather.wallC - target) * Math.exp(-step / lag);
  weather.gain += (analyser.gainPerMonth * step) / (30 * DAY);
  weather.gain += analyser.gainWalkPerDay * Math.sqrt(step / DAY) * random.normal();
  if (random.uniform() < (0.3 * step) / (30 * DAY)) weather.gain += random.between(-0.05, 0.05);
  weather.gauge += 0.0015 * Math.sqrt(step / DAY) * random.normal();
}

interface Flow {
  readonly chamber: Chamber;
  readonly weather: Weather;
  readonly effect: Effect;
  readonly span: Span | undefined;
  readonly pressures: Record<string, number>;
  readonly step: number;
  /** Since the pumps got the chamber back, s. */
  readonly ventAge: number;
  readonly random: Random;
}

const GAS_CONSTANT = 8.314e-3;
const REFERENCE_KELVIN = 295.15;
/** Water after a vent, as a multiple of the usual load after ten hours; other gases follow by less. */
const WET: Readonly<Record<string, number>> = {
  H2O: 1.5,
  CO: 0.2,
  CO2: 0.25,
  H2: 0.15,
  CH4: 0.15,
  N2: 0.03,
  C2H6: 0.1,
  oil: 0.1,
};

function flow(now: Flow): void {
  const { chamber, weather, effect, span, pressures, step, ventAge, random } = now;
  const kelvin = 273.15 + weather.wallC!;
  const bolt = random.uniform() < step / BOLT_EVERY_SECONDS ? random.pick(RESIDUAL) : null;
  const boltSize = random.decades(0.3, 3);
  const mood = weather.common[0] + weather.common[1];
  const volume = chamber.totalPa * 1e4 * Math.exp(-Math.max(0, ventAge) / (0.25 * HOUR));
  for (const gas of GAS_NAMES) {
    const warmth = Math.exp(((chamber.energies[gas] ?? 0) / GAS_CONSTANT) * (1 / REFERENCE_KELVIN - 1 / kelvin));
    const wet = (WET[gas] ?? 0) * ((10 * HOUR) / Math.max(0.3 * HOUR, ventAge)) * (chamber.kind === 'baked' ? 2 : 1);
    const breath = Math.exp((chamber.wander.share[gas] ?? 0) * mood + (weather.own[gas] ?? 0));
    const walls = (chamber.loads[gas] ?? 0) * (breath + wet) * warmth * effect.loadFactor(gas);
    const letIn = (span?.gas[gas] ?? 0) * chamber.totalPa * chamber.speeds[gas] * Math.exp(0.015 * random.normal());
    const load = walls * (gas === bolt ? 1 + boltSize : 1) + letIn + returned(now, gas) + (effect.inflow[gas] ?? 0);
    const speed = chamber.speeds[gas] * Math.exp(weather.pumping) * Math.max(STILL_CLOSED, effect.speedFactor(gas));
    const before = pressures[gas] ?? 0;
    pressures[gas] = nextPressure({ pressurePa: before, load, speed, volume: chamber.volumeLitres, step });
    const part = (AIR_PARTS as Partial<Record<Gas, number>>)[gas] ?? 0;
    if (span?.state === 'pump-down') pressures[gas] += volume * part;
  }
}

const AIR_PARTS = { N2: 0.78, O2: 0.21, Ar: 0.0093 } as const;
/** Walls and pumps keep some of a process gas and give it back within the hour. */
const RETURNED_SHARE = 2e-4;
const RETURN_SECONDS = 0.4 * HOUR;

/** Pa·l/s that come back of what a gas step has let in. */
function returned({ chamber, weather, span, step }: Flow, gas: Gas): number {
  const now = (span?.gas[gas] ?? 0) * chamber.totalPa * chamber.speeds[gas] * RETURNED_SHARE;
  const next = Math.max(now, (weather.held[gas] ?? 0) * Math.exp(-step / RETURN_SECONDS));
  weather.held[gas] = next;
  return now > 0 ? 0 : next;
}

interface Balance {
  readonly pressurePa: number;
  /** Pa·l/s */
  readonly load: number;
  /** l/s */
  readonly speed: number;
  /** l */
  readonly volume: number;
  readonly step: number;
}

/** V dP/dt = Q − S P with constant Q and S over the step. */
export function nextPressure({ pressurePa, load, speed, volume, step }: Balance): number {
  const rest = load / speed;
  return rest + (pressurePa - rest) * Math.exp((-speed * step) / volume);
}
