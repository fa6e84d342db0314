import { fromPascal } from '../../../shared/units.ts';
import type { Instrument } from '../plant.ts';
import { type Chance, chanceFrom, driftAt, seedOf } from '../random.ts';

/** C; exact in the SI of 2019. */
const ELEMENTARY_CHARGE = 1.602176634e-19;
/** A multiplier's pulses differ in height, which raises the variance of its current (1.2 to 2: common practice). */
const MULTIPLIER_EXCESS = 1.5;
/** Zero of the electrometer, in read noises. */
const ZERO_SHARE = 0.3;
/** A sensitivity certificate is this good when it is new … */
const CALIBRATION_ERROR = 0.03;
/** … and ages by this much in thirty days, with a wander of a per cent. */
const AGEING_IN_THIRTY_DAYS: readonly [number, number] = [0.003, 0.03];
const WANDER_SHARE = 0.006;
const WANDER_HOURS = 18;
const THIRTY_DAYS_MS = 30 * 86_400_000;

/** Share of the first sensitivity that is left. */
export function sensitivityLeft(instrument: Instrument, atMs: number, sinceMs: number): number {
  const seed = seedOf('sensitivity', instrument.id);
  const chance = chanceFrom(seed);
  const error = CALIBRATION_ERROR * Math.max(-2, Math.min(2, chance.normal()));
  const ageing = chance.between(...AGEING_IN_THIRTY_DAYS) * ((atMs - sinceMs) / THIRTY_DAYS_MS);
  return Math.exp(error - ageing + WANDER_SHARE * driftAt(seed, atMs, WANDER_HOURS));
}

/**
 * Numbers as the gateway sends them, from N2-equivalent signal at each point.
 *
 * The detector counts ions: what arrives in the dwell time of a point is Poisson, a multiplier spreads it a little
 * more, the electrometer adds read noise and its own zero, and its input is full at `fullScaleAmperes`.
 */
export function readOut(instrument: Instrument, signalPa: readonly number[], atMs: number): number[] {
  const chance = chanceFrom(seedOf('scan', instrument.id, atMs));
  if (instrument.unit === '1') return asShares(signalPa, chance);
  const dwellSeconds = (instrument.sweepSeconds * instrument.averages) / signalPa.length;
  const excess = instrument.detector === 'multiplier' ? MULTIPLIER_EXCESS : 0;
  const zero = ZERO_SHARE * instrument.readNoiseAmperes * chanceFrom(seedOf('zero', instrument.id)).normal();
  return signalPa.map((pascal) => {
    const ionAmperes = pascal * instrument.amperesPerPascal;
    const shot = Math.sqrt((excess * ELEMENTARY_CHARGE * ionAmperes) / dwellSeconds) * instrument.gain;
    const quiet = ionAmperes * instrument.gain + zero;
    const amperes = quiet + Math.hypot(shot, instrument.readNoiseAmperes) * chance.normal();
    return inUnit(instrument, Math.min(amperes, instrument.fullScaleAmperes));
  });
}

function inUnit(instrument: Instrument, amperes: number): number {
  if (instrument.unit === 'A' || instrument.unit === '1') return rounded(amperes);
  return rounded(fromPascal(amperes / (instrument.amperesPerPascal * instrument.gain), instrument.unit));
}

/** Ions that a trap lets out over all sweeps of a scan, and what its amplifier adds on each mass, in ions. */
const TRAP_IONS = 2e6;
const TRAP_NOISE_IONS = 9;

/** A trap is filled to the same charge each time: signal on each mass, over all signal. */
function asShares(signalPa: readonly number[], chance: Chance): number[] {
  const total = signalPa.reduce((sum, pascal) => sum + pascal, 0);
  const ions = signalPa.map((pascal) => chance.count((TRAP_IONS * pascal) / total) + TRAP_NOISE_IONS * chance.normal());
  const held = ions.reduce((sum, count) => sum + count, 0);
  return ions.map((count) => rounded(count / held));
}

const DIGITS = 5;
const rounded = (value: number): number => Number(value.toPrecision(DIGITS));
