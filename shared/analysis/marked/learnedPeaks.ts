import type { CatalogueGas } from '../../catalogue/types.ts';
import type { Ratio } from './fragmentRatios.ts';
import { REPEATABILITY } from './fragmentRatios.ts';
import type { OwnMasses } from './ownMasses.ts';
import { MAIN_SHARE, recordedRatio } from './recordedRatios.ts';

/**
 * Which ratios are good enough to replace published ones. One uncertainty stands for all fragments, so a small peak
 * that is known far worse than the main ones is left to the records (their 30 % is honest there), as is one that lies
 * below another gas. A peak of the records that is certainly not there is 0.
 */
export interface LearnedPeaks {
  /** Mass → height, largest = 100. */
  readonly peaks: Readonly<Record<number, number>>;
  /** Standard deviation of ln(fragment / largest). */
  readonly uncertainty: number;
  /** Measured masses of the records that are left to them. */
  readonly left: readonly number[];
}

/** A peak that may be known this much worse than the main ones still goes in. */
const AS_GOOD_AS = 2;
/** An unlisted peak at an isotope or doubly charged ion is believed from here on. */
const SURE_SIGMAS = 5;
/** Below carbon there is hydrogen, helium and the analyser's foot: no isotope or doubly charged ion is read there. */
const LIGHTEST_UNLISTED = 12;
/** Nothing is learned that is known no better than from the records. */
const AS_BAD_AS_RECORDS = 0.3;
const ABSENT_SIGMAS = 3;

export interface PeaksQuestion {
  readonly gas: CatalogueGas;
  readonly masses: readonly number[];
  readonly own: OwnMasses;
  readonly ratios: readonly Ratio[];
  readonly referenceMass: number;
  /** Another gas that may be there, or an artefact, has a peak at the mass. */
  readonly isClaimed: (mass: number) => boolean;
}

export function learnedPeaks(question: PeaksQuestion): LearnedPeaks {
  const { gas, masses, own, ratios, referenceMass } = question;
  const main = ratios.filter(({ mean }, row) => own.listed.has(masses[row]!) && mean >= MAIN_SHARE);
  const ofMain = main.map(({ mean, sigma }) => sigma / mean).filter((error) => error < AS_BAD_AS_RECORDS);
  const usual = Math.max(REPEATABILITY, ...ofMain);
  const limit = Math.min(AS_BAD_AS_RECORDS, AS_GOOD_AS * usual);
  const peaks: Record<number, number> = {};
  const left: number[] = [];
  const squares: number[] = [];
  masses.forEach((mass, row) => {
    const { mean, sigma } = ratios[row]!;
    const known = mean > 0 && sigma <= limit * mean;
    if (mass === referenceMass) peaks[mass] = 100;
    else if (own.listed.has(mass)) {
      if (known) peaks[mass] = 100 * mean;
      else if (isAbsent(ratios[row]!, recordedRatio(gas, mass, referenceMass)?.mean ?? 0)) peaks[mass] = 0;
      else left.push(mass);
    } else if (known && isUnlistedPeak(question, row)) {
      peaks[mass] = 100 * mean;
    }
    if (mass !== referenceMass && (peaks[mass] ?? 0) > 0) squares.push((sigma / mean) ** 2);
  });
  const rms = Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / Math.max(1, squares.length));
  return { peaks, uncertainty: Math.max(usual, rms), left };
}

/** Not seen, and the noise would have shown even a third of what is published. */
const isAbsent = ({ mean, sigma, noise }: Ratio, published: number): boolean =>
  mean < ABSENT_SIGMAS * sigma && ABSENT_SIGMAS * Math.max(sigma, noise) < AS_BAD_AS_RECORDS * published;

/** An isotope or doubly charged ion that the records leave out. */
function isUnlistedPeak({ masses, own, ratios, isClaimed }: PeaksQuestion, row: number): boolean {
  const mass = masses[row]!;
  const { mean, sigma } = ratios[row]!;
  if (mass < LIGHTEST_UNLISTED || isClaimed(mass)) return false;
  return mean > SURE_SIGMAS * sigma && mean <= (own.near.get(mass) ?? 0);
}
