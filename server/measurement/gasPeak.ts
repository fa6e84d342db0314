/** The peak by which an analyser sees a gas, and how strongly: from the pattern in force, else from the catalogue. */
import type { LearnedPattern } from '../../shared/analysis/types.ts';
import { GASES, gasById } from '../../shared/catalogue/gases.ts';
import type { CatalogueGas } from '../../shared/catalogue/types.ts';

export interface GasPeak {
  readonly mass: number;
  /** N2-equivalent Pa at this mass per Pa of the gas. */
  readonly response: number;
}

export type MassRange = readonly [number, number] | null;

/** Sensitivities are stated for nitrogen at its largest peak: what that is of all its ions. */
const nitrogenShare = (): number => {
  const nitrogen = gasById('N2');
  return (nitrogen.records[0].peaks[28] ?? 0) / nitrogen.primarySum;
};

const largestIn = (peaks: Readonly<Record<number, number>>, range: MassRange): [number, number] | null => {
  const [first, last] = range ?? [0, Number.POSITIVE_INFINITY];
  const within = Object.entries(peaks)
    .map(([mass, height]): [number, number] => [Number(mass), height])
    .filter(([mass, height]) => mass >= first && mass <= last && height > 0);
  return within.reduce<[number, number] | null>((best, one) => (best === null || one[1] > best[1] ? one : best), null);
};

/** response = r · (p / Σp) / (p₂₈ / Σp of N2): r total ionisation relative to N2, p the first record. */
const fromCatalogue = (gas: CatalogueGas, range: MassRange): GasPeak | null => {
  const peak = largestIn(gas.records[0].peaks, range);
  if (peak === null) return null;
  const [mass, height] = peak;
  return { mass, response: (gas.relativeSensitivity.value * height) / gas.primarySum / nitrogenShare() };
};

/** The amount of gas behind a learned pattern may not be known; then only its shape could be used, and is not. */
const fromPattern = ({ peaks, responseAtLargest }: LearnedPattern, range: MassRange): GasPeak | null => {
  const peak = largestIn(peaks, range);
  if (peak === null || responseAtLargest === null) return null;
  const [mass, height] = peak;
  return { mass, response: (responseAtLargest * height) / Math.max(...Object.values(peaks)) };
};

/** Null: the gas has no peak that this analyser measures. */
export const peakOf = (
  gas: string,
  asked: { range: MassRange; patterns: readonly LearnedPattern[] },
): GasPeak | null => {
  const learned = asked.patterns.find((one) => one.gas === gas);
  const known = GASES.find((one) => one.id === gas);
  return (learned && fromPattern(learned, asked.range)) ?? (known ? fromCatalogue(known, asked.range) : null);
};
