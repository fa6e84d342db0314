import type { CatalogueGas, FragmentRecord } from './types.ts';

/** A catalogue entry as it is written down. */
type Entry<Id extends string> = Omit<CatalogueGas, 'id' | 'primarySum'> & {
  readonly id: Id;
  /**
   * Ion current of the primary record at half-integer m/z (doubly charged ions of odd mass): part of the total
   * ionisation, though a scan with one bar per mass never shows it.
   */
  readonly betweenMasses?: number;
};

const sumOfPeaks = (record: FragmentRecord): number =>
  Object.values(record.peaks).reduce((sum, intensity) => sum + intensity, 0);

/** Completes an entry with the sum of its primary record. */
export const gas = <const Id extends string>({
  betweenMasses = 0,
  ...entry
}: Entry<Id>): CatalogueGas & { id: Id } => ({
  ...entry,
  primarySum: sumOfPeaks(entry.records[0]) + betweenMasses,
});
