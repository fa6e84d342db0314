import { SOURCES } from '../catalogue/sources.ts';
import type { CatalogueGas, FragmentRecord } from '../catalogue/types.ts';

/**
 * One fragment pattern from all published records of a gas, with how far the records disagree.
 *
 * Each record is scaled to 100 at the base peak of the first; a mass that a record could have listed but does not
 * counts as 0 there, a mass below the record's cut-off says nothing. The mean is the pattern; the relative standard
 * deviation between records, capped at 1, is the spread. Records from different instruments disagree by 20–50 % in
 * many fragments (acetone 58/43: 25, 30 and 50 %), which is what an instrument of one's own must be expected to do.
 */
export interface MeanPattern {
  readonly masses: readonly number[];
  /** Mean intensity, base peak of the first record = 100. */
  readonly intensity: readonly number[];
  /** Relative standard deviation between the records that speak about this mass; 0 with one record. */
  readonly spread: readonly number[];
  readonly baseMass: number;
  /** No record of this gas was read in a publication. */
  readonly remembered: boolean;
}

/** A fragment that some records lack may be off by its whole size, not more. */
const LARGEST_SPREAD = 1;

export function meanPattern(gas: CatalogueGas): MeanPattern {
  const baseMass = strongestMass(gas.records[0]);
  const scaled = gas.records.map((record) => ({ record, factor: 100 / (record.peaks[baseMass] ?? strongest(record)) }));
  const masses = [...new Set(gas.records.flatMap((record) => Object.keys(record.peaks).map(Number)))].sort(
    (a, b) => a - b,
  );
  const intensity: number[] = [];
  const spread: number[] = [];
  for (const mass of masses) {
    const values = scaled
      .filter(({ record }) => record.peaks[mass] !== undefined || mass >= record.lowMassCutoff)
      .map(({ record, factor }) => factor * (record.peaks[mass] ?? 0));
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    intensity.push(mean);
    spread.push(values.length > 1 ? Math.min(LARGEST_SPREAD, Math.sqrt(squares / (values.length - 1)) / mean) : 0);
  }
  const remembered = gas.records.every((record) => SOURCES[record.source].kind === 'from memory');
  return { masses, intensity, spread, baseMass, remembered };
}

const strongest = (record: FragmentRecord): number => Math.max(...Object.values(record.peaks));

function strongestMass(record: FragmentRecord): number {
  let best = 0;
  let height = 0;
  for (const [mass, value] of Object.entries(record.peaks)) {
    if (value > height) {
      height = value;
      best = Number(mass);
    }
  }
  return best;
}
