import type { CatalogueGas } from '../../catalogue/types.ts';

/**
 * Where a gas may have ions: at the masses of its records, and in small amounts where records are often silent, which
 * is at isotopes of its large peaks, at doubly charged ions, and below the mass at which all its records begin.
 * Everywhere else a peak is another gas.
 */
export interface OwnMasses {
  /** In one of the records. */
  readonly listed: ReadonlySet<number>;
  /** Not in a record, yet possible: mass → the most it may be, as a share of the largest peak. */
  readonly near: ReadonlyMap<number, number>;
  /** Records begin above this mass. */
  readonly silentBelow: number;
}

/** Smaller peaks have no isotope or doubly charged ion that anybody sees. */
const LARGE_SHARE = 0.1;
/**
 * ¹³C, ¹⁵N and ¹⁷O make up to 1.1 % per atom, ¹⁸O 0.2 % (IUPAC 2009); records of chlorine, sulphur and silicon compounds
 * list their isotopes.
 */
const ONE_ABOVE = 0.03;
const TWO_ABOVE = 0.004;
/** Doubly charged molecules that a record leaves out: CO2 has 1.9 %, a noble gas far more, and those are listed. */
const HALF = 0.03;

export function ownMasses({ records }: CatalogueGas): OwnMasses {
  const listed = new Set<number>();
  const near = new Map<number, number>();
  const allow = (mass: number, share: number) => near.set(mass, Math.max(share, near.get(mass) ?? 0));
  for (const { peaks } of records) {
    const largest = Math.max(...Object.values(peaks));
    for (const [key, intensity] of Object.entries(peaks)) {
      if (!(intensity > 0)) continue;
      const mass = Number(key);
      const share = intensity / largest;
      listed.add(mass);
      if (share < LARGE_SHARE) continue;
      allow(mass + 1, ONE_ABOVE * share);
      allow(mass + 2, TWO_ABOVE * share);
      if (mass % 2 === 0) allow(mass / 2, HALF * share);
    }
  }
  for (const mass of listed) near.delete(mass);
  return { listed, near, silentBelow: Math.min(...records.map((record) => record.lowMassCutoff)) };
}

/** The gas cannot show there. */
export const isForeign = ({ listed, silentBelow }: OwnMasses, mass: number): boolean =>
  !listed.has(mass) && mass >= silentBelow;
