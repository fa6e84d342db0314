/**
 * How much air comes in, from one of its gases:  Q = ΔP · S / x,  S the pumping speed for that gas at the chamber, x
 * its share of air. In steady state the pump takes what the leak brings. Argon is the honest one: nothing eats it.
 *
 * ΔP comes from the change of one peak, not from two absolute pressures: what other gases give to that peak cancels,
 * and only the sensitivity of the gas remains uncertain.
 *
 * Example: ΔP(Ar) = 1×10⁻⁹ Pa, S = 250 l/s → 1×10⁻⁹ · 0.25 m³/s / 0.00934 = 2.7×10⁻⁸ Pa·m³/s.
 */
import { sensitivityUncertainty } from '../analysis/sensitivity.ts';
import type { Frame } from './frame.ts';
import { AIR, catalogueGas, patternsOf } from './patterns.ts';

/** 1 l/s = 10⁻³ m³/s. */
const CUBIC_METRES_PER_LITRE = 1e-3;
/** A pumping speed at the chamber is known to about 10 % when someone has written it down (our judgement). */
const SPEED_SPREAD = 0.1;
const TWO_SIDED_95 = 1.96;
/** Variance of a median of three against one scan's. */
const MIDDLE_VARIANCE = 0.45;
/** Another gas of the same fault at this peak, as a share of it: oxides where oxygen was eaten, doubly charged ions. */
const COMPANY = 0.05;

export interface Inflow {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export type AirGas = 'Ar' | 'N2' | 'O2';
const PEAK: Record<AirGas, number> = { Ar: 40, N2: 28, O2: 32 };

/** Pa·m³/s of air that this gas speaks for; null without a speed, without the mass, or where nothing has risen. */
export function inflowOf(gas: AirGas, frame: Frame, change: Float64Array): Inflow | null {
  const { baseline, context } = frame;
  const speeds = context.chamber.pumpingSpeedLitresPerSecond;
  const speed = speeds[gas] ?? speeds.N2;
  const entry = catalogueGas(gas);
  const m = baseline.masses.indexOf(PEAK[gas]) + 1;
  if (!speed || !entry || m === 0 || !(change[m]! > 0)) return null;
  const heightPerPascal = patternsOf(gas, baseline.masses)!.variants[0]![m]!;
  // What was granted to a tail may belong to the leak: none of it at the low end, all of it at the high end.
  const tail = Math.max(0, frame.reference.tail?.[m] ?? 0) / heightPerPascal;
  const least = change[m]! / heightPerPascal;
  const rise = least + tail / 2;
  const noise = (TWO_SIDED_95 * Math.sqrt(MIDDLE_VARIANCE * baseline.variance[m]!)) / heightPerPascal;
  const sensitivity = sensitivityUncertainty({ gas: entry, referenceMass: PEAK[gas], referenceError: 0 });
  const spread = TWO_SIDED_95 * Math.hypot(sensitivity, SPEED_SPREAD, COMPANY);
  const perPascal = (speed * CUBIC_METRES_PER_LITRE) / AIR[gas];
  return {
    value: rise * perPascal,
    low: Math.max(0, least * Math.exp(-spread) - noise) * perPascal,
    high: ((least + tail) * Math.exp(spread) + noise) * perPascal,
  };
}
