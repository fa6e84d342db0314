import type { CatalogueGas } from '../catalogue/types.ts';
import { meanPattern } from './pattern.ts';
import { catalogueUncertainty, sensitivityUncertainty, TILT_UNCERTAINTY } from './sensitivity.ts';
import type { LearnedPattern } from './types.ts';

/** Fragments of one instrument differ from published ones by 10–30 %; the upper end, since intervals must hold there. */
export const FRAGMENT_ERROR = 0.3;
/** A pattern that was only remembered. */
const REMEMBERED_ERROR = 0.35;
/** No pattern repeats better than this from day to day: ion optics and pressure move it (own judgement). */
const LEARNED_ERROR = 0.03;
/** A response known from a dose is not better than the gauge that measured the dose. */
const LEARNED_RESPONSE_ERROR = 0.02;

/**
 * The peaks that one pascal of a gas makes, and how far they may be off: from published records, or from scans of the
 * pure gas on this analyser with the records where those scans do not speak.
 */
export interface Fragments {
  readonly gas: string;
  /** N2-equivalent Pa per Pa. Masses with nothing are not listed. */
  readonly list: readonly { readonly mass: number; readonly response: number }[];
  /** Mass of the peak to which the others are related. */
  readonly baseMass: number;
  /** Standard deviation of ln(peak at `mass` / peak at `referenceMass`). */
  errorOf(mass: number, referenceMass: number): number;
  /** Standard deviation of ln(pressure) when it is read from the peak at `mass`. */
  sensitivityErrorAt(mass: number): number;
  /** The part of it that every analyser shares which reads the gas by the catalogue. */
  readonly catalogueError: number;
  /** Nothing is known to be missing between these masses. */
  speaksOfAll(masses: readonly number[]): boolean;
}

/**
 * From the records: r² = max(0.30, remembered, spread of records)² + (0.20 ln(m_ref / m))²; the second part is the
 * unknown slope of the transmission. `base` is the share of all nitrogen ions that arrive at m/z 28.
 */
export function catalogueFragments(gas: CatalogueGas, base: number, calibrationUncertainty?: number): Fragments {
  const { masses, intensity, spread, baseMass, remembered } = meanPattern(gas);
  const baseIntensity = gas.records[0].peaks[baseMass] ?? 100;
  const perUnit = (gas.relativeSensitivity.value * baseIntensity) / 100 / gas.primarySum / base;
  const ownError = new Map(
    masses.map((mass, k) => [mass, Math.max(FRAGMENT_ERROR, remembered ? REMEMBERED_ERROR : 0, spread[k]!)]),
  );
  const errorOf = (mass: number, referenceMass: number) =>
    Math.hypot(ownError.get(mass) ?? FRAGMENT_ERROR, TILT_UNCERTAINTY * Math.log(referenceMass / mass));
  return {
    gas: gas.id,
    list: masses
      .map((mass, k) => ({ mass, response: perUnit * intensity[k]! }))
      .filter((fragment) => fragment.response > 0),
    baseMass,
    errorOf,
    sensitivityErrorAt: (referenceMass) =>
      sensitivityUncertainty({
        gas,
        referenceMass,
        referenceError: referenceMass === baseMass ? 0 : errorOf(referenceMass, baseMass),
        calibrationUncertainty,
      }),
    catalogueError: catalogueUncertainty(gas),
    speaksOfAll: () => false,
  };
}

/**
 * With a pattern of this analyser in place of the records. Its largest peak keeps the response of the records unless the
 * amount of gas was known when it was measured. Null when the records do not know that peak: such a pattern has no scale.
 */
export function learnedFragments(published: Fragments, pattern: LearnedPattern): Fragments | null {
  const measured = Object.entries(pattern.peaks).map(([mass, height]) => ({ mass: Number(mass), height }));
  const largest = measured.reduce((best, peak) => (peak.height > best.height ? peak : best), { mass: 0, height: 0 });
  const publishedLargest = published.list.find(({ mass }) => mass === largest.mass)?.response;
  if (publishedLargest === undefined || !(largest.height > 0)) return null;
  const response = pattern.responseAtLargest ?? publishedLargest;
  const spoken = new Set(measured.map(({ mass }) => mass));
  const repeats = Math.max(LEARNED_ERROR, pattern.fragmentUncertainty);
  const ownError = (mass: number) => (mass === largest.mass ? 0 : repeats);
  const errorOf = (mass: number, referenceMass: number): number => {
    if (spoken.has(mass) && spoken.has(referenceMass)) return Math.hypot(ownError(mass), ownError(referenceMass));
    return published.errorOf(mass, referenceMass);
  };
  return {
    gas: published.gas,
    list: [
      ...measured
        .filter(({ height }) => height > 0)
        .map(({ mass, height }) => ({ mass, response: (response * height) / largest.height })),
      ...published.list
        .filter(({ mass }) => !spoken.has(mass))
        .map((fragment) => ({ mass: fragment.mass, response: (fragment.response * response) / publishedLargest })),
    ].sort((a, b) => a.mass - b.mass),
    baseMass: largest.mass,
    errorOf,
    sensitivityErrorAt: (mass) =>
      Math.hypot(
        pattern.responseAtLargest === null || pattern.responseUncertainty === null
          ? published.sensitivityErrorAt(largest.mass)
          : Math.max(LEARNED_RESPONSE_ERROR, pattern.responseUncertainty),
        mass === largest.mass ? 0 : errorOf(mass, largest.mass),
      ),
    catalogueError:
      pattern.responseAtLargest === null || pattern.responseUncertainty === null ? published.catalogueError : 0,
    speaksOfAll: (masses) => masses.every((mass) => spoken.has(mass)),
  };
}
