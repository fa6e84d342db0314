/**
 * An ioniser that has just come on gives off carbon monoxide, carbon dioxide, hydrogen and methane for some hours
 * (common practice; in one study the gauge made over 80 % of the oxides it measured: RAL-TR-2016-008). After a gap in the
 * scans these gases are held, not believed, as long as they stand high, fall, and the gauge does not follow. Air, oil and
 * everything else is judged as ever.
 */
import type { Baseline, Memory } from './memory.ts';
import { DEAD_BAND, HOUR } from './parameters.ts';
import type { Note } from './relearn.ts';

export interface WarmUp {
  readonly sinceMs: number;
  /** Excess of the ioniser's gases at the start, N2-equivalent Pa. */
  readonly startPa: number;
  /** Scans in a row in which they were back. */
  readonly back: number;
}

/** Hydrogen, carbon monoxide, methane and carbon dioxide, each by a mass that it shares least. */
const IONISER_MASSES = [2, 12, 15, 44] as const;
const RISEN_GASES = 3;
const RISEN_FACTOR = 1.3;
const RISEN_SIGMAS = 5;
/** Share of the rise that the gauge shows: real gas moves both alike. */
const GAUGE_SHARE = 0.35;
/** Masses of air beside the carbon monoxide: this share of its rise is a leak. */
const AIR_SHARE = 0.02;
const AIR_MASSES = [32, 40] as const;
/** A gap that may have been an emission switched off. */
const GAP_SECONDS = 1800;
const GAP_PERIODS = 5;
/** After the first hour it must halve in so many hours, and be over in so many. */
const HALVES_IN_HOURS = 6;
const LONGEST_HOURS = 12;
const BACK_SCANS = 3;
/** Causes that such a spectrum resembles. */
const HELD: ReadonlySet<string> = new Set([
  'H2',
  'CO',
  'CO2',
  'COx',
  'CH4',
  'outgassing',
  'warm-surface',
  'gain-up',
  'pumping',
  'pumping-light',
]);

export interface WarmUpInput {
  readonly memory: Memory;
  readonly baseline: Baseline;
  readonly q: Float64Array;
  readonly atMs: number;
  readonly gapSeconds: number;
  readonly notes: Note[];
}

/** Begins, follows and ends a warm-up; marks the readings while it lasts. */
export function followWarmUp({ memory, baseline, q, atMs, gapSeconds, notes }: WarmUpInput): void {
  const before = memory.overTime.warmUp;
  const isGap = gapSeconds > Math.max(GAP_SECONDS, GAP_PERIODS * (memory.periodSeconds ?? 60));
  const begun = isGap && memory.state === 'base' && resembles(baseline, q);
  const now = begun ? { sinceMs: atMs, startPa: excessPa(baseline, q), back: 0 } : before;
  if (now === null) return;
  const next = memory.state === 'base' ? stepOf(now, baseline, q, atMs) : null;
  memory.overTime.warmUp = next;
  if (next === null) return;
  notes.push({
    code: 'warming-up',
    text: 'The ioniser is warming up after a pause: its carbon monoxide, carbon dioxide, hydrogen and methane are not believed yet.',
  });
}

/** A cause that the watch does not believe while the ioniser warms up. */
export const isHeld = (memory: Memory, cause: string): boolean => memory.overTime.warmUp !== null && HELD.has(cause);

function stepOf(warmUp: WarmUp, baseline: Baseline, q: Float64Array, atMs: number): WarmUp | null {
  const hours = (atMs - warmUp.sinceMs) / (HOUR * 1000);
  const left = excessPa(baseline, q) / warmUp.startPa;
  const granted = 1.1 * 2 ** (-Math.max(0, hours - 1) / HALVES_IN_HOURS);
  const back = IONISER_MASSES.every((mass) => !isRisen(baseline, q, mass, 1 + DEAD_BAND)) ? warmUp.back + 1 : 0;
  return left > granted || hours > LONGEST_HOURS || back >= BACK_SCANS ? null : { ...warmUp, back };
}

const channelOf = ({ masses }: Baseline, mass: number): number => masses.indexOf(mass) + 1;

function isRisen(baseline: Baseline, q: Float64Array, mass: number, factor: number): boolean {
  const m = channelOf(baseline, mass);
  if (m === 0 || !Number.isFinite(q[m]!)) return false;
  const rise = q[m]! - baseline.mean[m]!;
  return rise > RISEN_SIGMAS * Math.sqrt(baseline.variance[m]!) && q[m]! > factor * baseline.mean[m]!;
}

const riseOf = (baseline: Baseline, q: Float64Array, mass: number): number => {
  const m = channelOf(baseline, mass);
  return m === 0 || !Number.isFinite(q[m]!) ? 0 : Math.max(0, q[m]! - baseline.mean[m]!);
};

const excessPa = (baseline: Baseline, q: Float64Array): number =>
  [2, 28, 44, 15].reduce((sum, mass) => sum + riseOf(baseline, q, mass), 0);

/** High in what an ioniser gives, without air and not with the gauge; without a gauge also not with water. */
function resembles(baseline: Baseline, q: Float64Array): boolean {
  const risen = IONISER_MASSES.filter((mass) => isRisen(baseline, q, mass, RISEN_FACTOR));
  if (risen.length < RISEN_GASES) return false;
  const oxide = riseOf(baseline, q, 28);
  const isAir = AIR_MASSES.some(
    (mass) => isRisen(baseline, q, mass, 1) && riseOf(baseline, q, mass) > AIR_SHARE * oxide,
  );
  if (isAir) return false;
  if (baseline.hasGauge && Number.isFinite(q[0]!) && q[0]! > 0) {
    let total = 0;
    let rise = 0;
    for (let m = 1; m < q.length; m++) {
      total += Math.max(0, baseline.mean[m]!);
      if (Number.isFinite(q[m]!)) rise += Math.max(0, q[m]! - baseline.mean[m]!);
    }
    return q[0]! / baseline.mean[0]! - 1 < (GAUGE_SHARE * rise) / Math.max(total, 1e-300);
  }
  return riseOf(baseline, q, 18) < oxide;
}
