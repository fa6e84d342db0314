/** What the catalogue says of a gas. Every number stands beside its source: a fact without one does not compile. */
import type { SourceId } from './sources.ts';

export type SourceKind = 'published' | 'calculated' | 'common practice' | 'from memory';

export interface Source {
  readonly kind: SourceKind;
  readonly ref: string;
}

/** How far a relative sensitivity can be trusted: two agreeing published values are `good`, none is `none`. */
export type SensitivityQuality = 'good' | 'fair' | 'weak' | 'poor' | 'conflicting' | 'none';

/** One published (or remembered) electron-ionisation record, largest peak 100. */
export interface FragmentRecord {
  readonly energyElectronVolt: number | null;
  /** Below this mass the record says nothing; 0: it says everything. */
  readonly lowMassCutoff: number;
  /** Integer m/z → intensity, largest 100. */
  readonly peaks: Readonly<Record<number, number>>;
  readonly source: SourceId;
}

export interface CatalogueGas {
  /** As it crosses the API: a formula in plain text, or the id of a mixture (`hydrocarbon-oil`). */
  readonly id: string;
  readonly name: string;
  readonly formula: string;
  /** Other ways in which people write it; matched without regard to case. */
  readonly aliases: readonly string[];
  readonly kind: 'gas' | 'solvent' | 'mixture';
  readonly molarMassGramsPerMole: { readonly value: number; readonly source: SourceId } | null;
  /** The first is the primary record and fixes the sensitivity of the reference peak. */
  readonly records: readonly [FragmentRecord, ...FragmentRecord[]];
  /** Sum of all peaks of the primary record, including those above m/z 200. */
  readonly primarySum: number;
  /** Total ionisation relative to N2; also the gauge's gas factor. */
  readonly relativeSensitivity: {
    readonly value: number;
    readonly low: number;
    readonly high: number;
    readonly quality: SensitivityQuality;
    readonly source: SourceId;
  };
  /** Carbon or silicon compounds: records omit small peaks (a floor of model error applies). */
  readonly organic: boolean;
  /** Hazard classes in common use; general, never a substitute for the site's data sheets. */
  readonly hazards: readonly string[];
  /**
   * Peaks that must be there and that no record lists, mostly heavy isotopes: m/z → intensity on the scale of the first
   * record. Counted as an error where they stand, never as evidence: traces of other gases are as small.
   */
  readonly unlisted?: { readonly peaks: Readonly<Record<number, number>>; readonly source: SourceId };
}

/** The gases that one chamber may hold, in the order in which they are reported. */
export interface Catalogue {
  readonly version: string;
  readonly gases: readonly CatalogueGas[];
  /** Ids that any chamber may hold: they stay in every fit. */
  readonly protectedIds: ReadonlySet<string>;
}
