import type { ChangeSpectrum } from '../../shared/contract/alerts.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { logAxis } from '../charts/logAxis.ts';

/** Two-sided 95 % of a normal distribution. */
const TWO_SIDED_95 = 1.96;
/**
 * A spectrum has up to 200 masses: at two sigma ten of them would seem to have changed by chance. Beyond four sigma it
 * is one in eighty spectra (normal distribution, two-sided: 6.3e-5 for each mass).
 */
const TOLD_SIGMAS = 4;

/** In the unit of the spectrum that it was made from. */
export interface ChangedMass {
  readonly mass: number;
  /** What is usual there; null: nothing was seen there before. */
  readonly usual: number | null;
  /** What came on top; null: it cannot be told from none. */
  readonly change: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** It fell: the size is drawn, open, because a log axis has no place below zero. */
  readonly fell: boolean;
  /** Where it cannot be told: at most this; null: nothing to draw. */
  readonly atMost: number | null;
}

const positive = (value: number): number | null => (Number.isFinite(value) && value > 0 ? value : null);

/** The same in another unit. */
export const inUnit = (spectrum: ChangeSpectrum, unit: PressureUnit): ChangeSpectrum => {
  const convert = (values: readonly number[]) => values.map((value) => fromPascal(value, unit));
  const { usualPa, changePa, sigmaPa } = spectrum;
  return { ...spectrum, usualPa: convert(usualPa), changePa: convert(changePa), sigmaPa: convert(sigmaPa) };
};

/** What can be drawn of a change on a log axis: zero and what drowns in its error are said, never drawn as a bar. */
export function changedMasses({ masses, usualPa, changePa, sigmaPa }: ChangeSpectrum): readonly ChangedMass[] {
  return masses.map((mass, i) => {
    const sigma = sigmaPa[i] ?? 0;
    const half = TWO_SIDED_95 * sigma;
    const size = Math.abs(changePa[i] ?? 0);
    const told = size > TOLD_SIGMAS * sigma && size > 0;
    return {
      mass,
      usual: positive(usualPa[i] ?? 0),
      change: told ? size : null,
      low: told ? positive(size - half) : null,
      high: told ? positive(size + half) : null,
      fell: told && (changePa[i] ?? 0) < 0,
      atMost: told ? null : positive(size + half),
    };
  });
}

/** Far below the smallest that can be told there is only noise: the axis ends there. */
const FOOT_SHARE = 0.5;

export function changeAxis(masses: readonly ChangedMass[]) {
  const told = masses.flatMap(({ change, low }) => (change === null ? [] : [low ?? change]));
  const tops = masses.flatMap(({ usual, change, high }) => [usual, high ?? change]);
  const limits = masses.flatMap(({ atMost }) => (atMost === null ? [] : [atMost])).sort((a, b) => a - b);
  const foot = told.length > 0 ? Math.min(...told) : (limits[Math.floor(limits.length / 2)] ?? null);
  const high = tops.filter((top): top is number => top !== null && (foot === null || top >= foot));
  return logAxis([foot === null ? null : foot * FOOT_SHARE, ...high]);
}

/** The masses that changed most, largest first: those that are named. */
export const mostChanged = (masses: readonly ChangedMass[], most: number): readonly ChangedMass[] =>
  masses
    .filter(({ change }) => change !== null)
    .toSorted((a, b) => (b.change ?? 0) - (a.change ?? 0))
    .slice(0, most);
