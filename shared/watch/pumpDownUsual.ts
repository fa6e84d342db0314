/** What a chamber's own good pump-downs say of the present one at equal time. */
import { type PowerLaw, robustPowerLaw } from '../analysis/fits/powerLaw.ts';
import { median } from './channels.ts';
import { gridSeconds, type KeptPumpDown, type PumpDownRun } from './pumpDown.ts';

export interface Usual {
  /** log10 Pa at this age; one standard deviation of a single pump-down, decades, and what that is known from. */
  readonly log10: number;
  readonly sigmaDecades: number;
  readonly degreesOfFreedom: number;
  /** α of P ~ t^−α over the time in which the slope of the present one is read; null: not seen so early. */
  readonly exponent: number | null;
  readonly durationSeconds: number;
  readonly pumpDowns: number;
}

/** The slope is read over the last factor of this in time. */
const SLOPE_SPAN = 6;
/** Fewer say nothing of what is usual. */
export const LEAST_PUMP_DOWNS = 2;
/** Before anything is known pump-downs of one chamber differ by a quarter (our choice), worth six of them. */
const PRIOR_DECADES = 0.1;
const PRIOR_PUMP_DOWNS = 6;

export const comparable = (run: PumpDownRun, kept: readonly KeptPumpDown[]): KeptPumpDown[] =>
  kept.filter(
    ({ source, declared, calibration, fromMs }) =>
      source === run.source &&
      declared === run.declared &&
      fromMs !== run.fromMs &&
      (source === 'gauge' || calibration === run.calibration),
  );

/** Null with fewer than two that were seen at this age. */
export function usualAt(run: PumpDownRun, kept: readonly KeptPumpDown[], ageSeconds: number): Usual | null {
  const alike = comparable(run, kept);
  const levels = alike.map((one) => levelAt(one, ageSeconds)).filter((level) => level !== null);
  if (levels.length < LEAST_PUMP_DOWNS) return null;
  const middle = median(levels);
  const known = levels.length - 1;
  // Mean deviation from the median: of so few, MAD would say too little and squares would follow one outlier.
  const mean = levels.reduce((sum, level) => sum + Math.abs(level - middle), 0) / levels.length;
  const own = mean * Math.sqrt((Math.PI / 2) * (levels.length / known));
  const square = (PRIOR_PUMP_DOWNS * PRIOR_DECADES ** 2 + known * own ** 2) / (PRIOR_PUMP_DOWNS + known);
  return {
    log10: middle,
    sigmaDecades: Math.sqrt(square),
    degreesOfFreedom: PRIOR_PUMP_DOWNS + known,
    exponent: exponentAt(alike, ageSeconds),
    durationSeconds: median(alike.map(({ durationSeconds }) => durationSeconds)),
    pumpDowns: levels.length,
  };
}

function exponentAt(alike: readonly KeptPumpDown[], ageSeconds: number): number | null {
  const slopes = alike.flatMap((one) => {
    const [early, late] = [levelAt(one, ageSeconds / SLOPE_SPAN), levelAt(one, ageSeconds)];
    return early === null || late === null ? [] : [(early - late) / Math.log10(SLOPE_SPAN)];
  });
  return slopes.length < LEAST_PUMP_DOWNS ? null : median(slopes);
}

/** Between grid points; after its end it stays where it had come to; before its first point nothing is known. */
function levelAt({ first, log10 }: KeptPumpDown, ageSeconds: number): number | null {
  const position = 3 * Math.log2(ageSeconds / gridSeconds(0)) - first;
  if (!(position >= 0)) return null;
  const below = Math.floor(position);
  const a = log10[Math.min(below, log10.length - 1)]!;
  const b = log10[Math.min(below + 1, log10.length - 1)]!;
  return a + (position - below) * (b - a);
}

const LEAST_POINTS = 5;

/** P ~ t^−α of the present one, from its grid points and its last scan; null while there are too few. */
export function slopeNow({ first, log10, last }: PumpDownRun): PowerLaw | null {
  if (last === null) return null;
  const points = log10
    .map((value, k) => [gridSeconds(first + k), 10 ** value] as const)
    .filter(([seconds]) => seconds >= last.ageSeconds / SLOPE_SPAN);
  const all = [...points, [last.ageSeconds, 10 ** last.log10] as const];
  if (all.length < LEAST_POINTS) return null;
  return robustPowerLaw(
    all.map(([seconds]) => seconds),
    all.map(([, pressurePa]) => pressurePa),
  );
}
