import type { Signature } from '../contract/words.ts';

export interface Variant {
  readonly dense: Float64Array;
  /** Natural log of its weight against the other variants. */
  readonly prior: number;
  readonly gases?: readonly string[];
  /** Of air: share of the oxygen that is still there. */
  readonly oxygen?: number;
}

export interface Cause {
  readonly id: string;
  readonly signature: Signature;
  readonly gases: readonly string[];
  readonly variants: readonly Variant[];
  /** Directions that the lanes watch; a cause without any competes in naming only. */
  readonly triggers: readonly Float64Array[];
  readonly prior: number;
  /** Per trigger: the gas whose own pattern replaces it; `single` for all when left out. */
  readonly triggerGases?: readonly string[];
  /** The gas whose own pattern in this chamber replaces the catalogue's where it is seen well. */
  readonly single: string | null;
}
