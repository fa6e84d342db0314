import type { Instrument } from '../plant.ts';
import { chanceFrom, driftAt, seedOf } from '../random.ts';

/**
 * A quadrupole's peak: flat on top, steep at the sides, one unit wide at a tenth of its height. e^(−ln10 |2x|^n) is 0.1
 * at half a unit for any n; 3 gives the usual rounded top (common practice).
 */
export function peakShape(offsetUnits: number): number {
  return Math.exp(-Math.LN10 * Math.abs(2 * offsetUnits) ** 3);
}

const OFFSET_SPREAD = 0.035;
const OFFSET_WANDER = 0.006;
const OFFSET_HOURS = 12;
const SCALE_SPREAD = 0.0004;

/** How far the tops of one scan stand from their masses: at mass 0, and more with each unit. */
export interface MassOffset {
  readonly atZero: number;
  readonly perUnitMass: number;
}

const DAY_MS = 86_400_000;

/** Set once when the analyser was tuned, moved a little by the hall's temperature, and sliding where its supply ages. */
export function massOffset(instrument: Instrument, atMs: number, tunedMs = atMs): MassOffset {
  const seed = seedOf('mass scale', instrument.id);
  const chance = chanceFrom(seed);
  const fixed = OFFSET_SPREAD * Math.max(-2, Math.min(2, chance.normal()));
  const perUnitMass = SCALE_SPREAD * chance.normal();
  const slid = (instrument.massSlideUnitsPerDay ?? 0) * ((atMs - tunedMs) / DAY_MS);
  return { atZero: fixed + slid + OFFSET_WANDER * driftAt(seed, atMs, OFFSET_HOURS), perUnitMass };
}

/** Peaks farther away than this add nothing. */
const REACH_UNITS = 1.2;

/** Signal at each point of a scan: the tops at each mass, or the whole profile. */
export function signalAtPoints(instrument: Instrument, peaks: Float64Array, atMs: number, tunedMs = atMs): number[] {
  const { firstMass, lastMass, perUnit } = instrument;
  const points = (lastMass - firstMass) * perUnit + 1;
  const offset = massOffset(instrument, atMs, tunedMs);
  return Array.from({ length: points }, (_, index) => {
    const position = firstMass + index / perUnit;
    const nearest = Math.round(position);
    let sum = 0;
    for (const mass of perUnit === 1 ? [nearest] : [nearest - 1, nearest, nearest + 1]) {
      const away = position - mass - offset.atZero - offset.perUnitMass * mass;
      if (Math.abs(away) < REACH_UNITS) sum += (peaks[mass] ?? 0) * peakShape(away);
    }
    return sum;
  });
}
