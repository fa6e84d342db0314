import { type PerGas, WORLD_GASES, type WorldGas } from '../physics/gases.ts';
import type { Instrument } from '../plant.ts';
import { type Chance, chanceFrom, driftAt, seedOf } from '../random.ts';
import { PATTERNS } from './patterns.ts';

/** Every fragment of every analyser is off by this much, one way or the other. */
const FRAGMENT_ERROR: readonly [number, number] = [0.1, 0.25];
/** Sensitivity for other gases against nitrogen, and the transmission nobody measured. */
const SENSITIVITY_ERROR = 0.07;
const TRANSMISSION_ERROR = 0.06;

/** Ion signal per pascal of each gas, by mass, as N2-equivalent: index is the mass, up to the last one measured. */
export type SourceResponse = Readonly<Record<WorldGas, Float64Array>>;

export function sourceResponse(instrument: Instrument): SourceResponse {
  const chance = chanceFrom(seedOf('ion source', instrument.id));
  const exponent = (instrument.statedTransmission ?? 0) + TRANSMISSION_ERROR * chance.normal();
  return Object.fromEntries(
    WORLD_GASES.map((gas) => [gas, gasResponse({ gas, lastMass: instrument.lastMass, exponent, chance })]),
  ) as unknown as SourceResponse;
}

interface GasInSource {
  readonly gas: WorldGas;
  readonly lastMass: number;
  readonly exponent: number;
  readonly chance: Chance;
}

function gasResponse({ gas, lastMass, exponent, chance }: GasInSource): Float64Array {
  const pattern = PATTERNS[gas];
  const own = gas === 'N2' ? 1 : Math.exp(SENSITIVITY_ERROR * clipped(chance.normal()));
  const shares = new Map<number, number>([[pattern.base, 1]]);
  for (const [mass, share] of pattern.fragments) shares.set(mass, share * fragmentError(chance));
  for (const [mass, parent, ratio] of pattern.isotopes ?? []) {
    shares.set(mass, (shares.get(mass) ?? 0) + (shares.get(parent) ?? 0) * ratio);
  }
  const response = new Float64Array(lastMass + 1);
  for (const [mass, share] of shares) {
    if (mass <= lastMass) response[mass] = pattern.sensitivity * own * share * (28 / mass) ** exponent;
  }
  return response;
}

const clipped = (normal: number) => Math.max(-2, Math.min(2, normal));

function fragmentError(chance: Chance): number {
  const size = chance.between(...FRAGMENT_ERROR);
  return chance.even() < 0.5 ? 1 - size : 1 + size;
}

/** Gas that hot cathode and ioniser make themselves, in parts of `ownGasPa`: mostly oxides of carbon, common practice. */
const OWN_GAS = { CO: 1, CO2: 0.45, H2: 0.3, CH4: 0.12 } as const;
const OWN_GAS_UNREST = 0.03;
const OWN_GAS_HOURS = 20;
/** Oxygen that the hot cathode burns before it is ionised, and what comes of it. */
const OXYGEN_BURNT = 0.25;
const CO_FROM_OXYGEN = 0.8;
const CO2_FROM_OXYGEN = 0.35;

/** The gas as the ioniser sees it: the chamber's, changed by the hot cathode, and its own on top. */
export function gasInSource(instrument: Instrument, partialPa: PerGas, atMs: number): PerGas {
  const unrest = Math.exp(OWN_GAS_UNREST * driftAt(seedOf('own gas', instrument.id), atMs, OWN_GAS_HOURS));
  const own = instrument.ownGasPa * unrest;
  const burnt = partialPa.O2 * OXYGEN_BURNT;
  return {
    ...partialPa,
    O2: partialPa.O2 - burnt,
    CO: partialPa.CO + own * OWN_GAS.CO + burnt * CO_FROM_OXYGEN,
    CO2: partialPa.CO2 + own * OWN_GAS.CO2 + burnt * CO2_FROM_OXYGEN,
    H2: partialPa.H2 + own * OWN_GAS.H2,
    CH4: partialPa.CH4 + own * OWN_GAS.CH4,
  };
}

/** Ions struck off surfaces by electrons, over the analyser's own gas: hardly moved by the pressure (common practice). */
const STRUCK_OFF: readonly (readonly [number, number])[] = [
  [1, 0.12],
  [16, 0.06],
  [19, 0.08],
  [35, 0.03],
  [37, 0.0096],
];
/** What a quadrupole lets through before its field bites: a foot that falls from mass 1 on. */
const FOOT_SHARE = 0.006;
const FOOT_MASSES = 0.6;
const FOOT_ENDS_AT = 5;
/** Above about 1e-2 Pa ions are lost to collisions on their way. */
const COLLISION_PA = 0.08;

/** N2-equivalent signal by mass, Pa, before detector and noise. */
export function ionSignal(o: {
  instrument: Instrument;
  response: SourceResponse;
  partialPa: PerGas;
  atMs: number;
}): Float64Array {
  const { instrument, response, atMs } = o;
  const seen = gasInSource(instrument, o.partialPa, atMs);
  const total = WORLD_GASES.reduce((sum, gas) => sum + seen[gas], 0);
  const signal = new Float64Array(instrument.lastMass + 1);
  const passed = 1 / (1 + total / COLLISION_PA);
  for (const gas of WORLD_GASES) {
    const pressure = seen[gas] * passed;
    if (pressure === 0) continue;
    response[gas].forEach((perPascal, mass) => {
      signal[mass] = (signal[mass] ?? 0) + perPascal * pressure;
    });
  }
  // A trap holds only what is born inside it, and has no field that low masses slip through.
  if (instrument.principle === 'quadrupole') {
    addStruckOff(signal, instrument.ownGasPa);
    addFoot(signal, total);
  }
  return signal;
}

function addStruckOff(signal: Float64Array, ownGasPa: number): void {
  for (const [mass, share] of STRUCK_OFF) {
    if (mass < signal.length) signal[mass] = (signal[mass] ?? 0) + share * ownGasPa;
  }
}

function addFoot(signal: Float64Array, totalPa: number): void {
  for (let mass = 1; mass <= FOOT_ENDS_AT; mass += 1) {
    signal[mass] = (signal[mass] ?? 0) + FOOT_SHARE * totalPa * Math.exp(-(mass - 1) / FOOT_MASSES);
  }
}
