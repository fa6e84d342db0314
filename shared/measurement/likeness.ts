/**
 * Whether like is compared with like: the five things that change a residual gas without anything being repaired.
 *
 * Bounds are our own judgement, each with its reason. Time since vent: water falls as 1/t, so a quarter more time is a
 * quarter less water. Temperature: outgassing of water and hydrogen grows by some 5 to 10 % per kelvin near room
 * temperature (common practice), and a hall breathes by ±2 K. Scans: below ten nothing can be said of their scatter.
 */
import type { BeforeAfter } from '../contract/beforeAfter.ts';

export type LikenessName = BeforeAfter['likeness'][number]['name'];
/** `unknown`: nobody told it, so nothing speaks against likeness and nothing for it. */
export type Likeness = BeforeAfter['likeness'][number]['is'];

const MOST_TIME_RATIO = 1.25;
const MOST_KELVIN = 3;
export const LEAST_SCANS = 10;
const MOST_SCANS_RATIO = 4;

export interface SideFacts {
  readonly state: string | null;
  /** From the end of the last vent to the middle of the side, s; `atLeast`: no vent is on record, so long the record is. */
  readonly sinceVent: { readonly seconds: number; readonly atLeast: boolean } | null;
  readonly temperatureC: number | null;
  readonly analyser: string;
  /** Calibration, catalogue and detector of its scans; several where they changed within the side. */
  readonly calibrations: readonly string[];
  readonly scans: number;
}

const yes = (alike: boolean): Likeness => (alike ? 'alike' : 'differs');
const apart = (a: number, b: number): number => Math.max(a, b) / Math.min(a, b);

const timeLikeness = (a: SideFacts['sinceVent'], b: SideFacts['sinceVent']): Likeness => {
  if (a === null || b === null) return 'unknown';
  if (Math.min(a.seconds, b.seconds) <= 0) return 'differs';
  const near = apart(a.seconds, b.seconds) <= MOST_TIME_RATIO;
  // Both counted from the beginning of the record: a vent before it lies farther back, which brings the two closer.
  if (a.atLeast && b.atLeast) return near ? 'alike' : 'unknown';
  return yes(near && a.atLeast === b.atLeast);
};

/** An analyser that looks with its cup now and then does so on both sides: the sets are compared. */
export const sameCalibration = (a: SideFacts, b: SideFacts): boolean => {
  const [first, second] = [new Set(a.calibrations), new Set(b.calibrations)];
  return first.size === second.size && [...first].every((one) => second.has(one));
};

export function likenesses(a: SideFacts, b: SideFacts): Record<LikenessName, Likeness> {
  const warm = a.temperatureC === null || b.temperatureC === null;
  return {
    state: a.state === null || b.state === null ? 'unknown' : yes(a.state === b.state),
    'time since vent': timeLikeness(a.sinceVent, b.sinceVent),
    temperature: warm ? 'unknown' : yes(Math.abs((a.temperatureC ?? 0) - (b.temperatureC ?? 0)) <= MOST_KELVIN),
    'analyser and calibration': yes(a.analyser === b.analyser && sameCalibration(a, b)),
    scans: yes(Math.min(a.scans, b.scans) >= LEAST_SCANS && apart(a.scans, b.scans) <= MOST_SCANS_RATIO),
  };
}
