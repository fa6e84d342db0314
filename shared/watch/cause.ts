import type { Signature } from '../contract/words.ts';

/** Which pump gives in, by what comes back. */
export type PumpFamily = 'all' | 'light-first' | 'getter' | 'cryopump';

export interface Variant {
  readonly dense: Float64Array;
  /** Natural log of its weight against the other variants. */
  readonly prior: number;
  readonly gases?: readonly string[];
  /** Of air: share of the oxygen that is still there. */
  readonly oxygen?: number;
  readonly pump?: PumpFamily;
  /** Of causes that move the chamber's own gases: relative movement of each, in the order of its own spectra. */
  readonly moves?: readonly number[];
  /** The gauge sees nothing of it: what the analyser makes. */
  readonly unseen?: boolean;
  /** One sigma of every channel per unit amplitude, where it was seen on this very mass list or the shape has errors of its own; the catalogue's otherwise. */
  readonly errors?: Float64Array;
  /** Channels that are small and yet the main peak of a gas: they err less than a small fragment, since other variants hold more or less of that gas. */
  readonly firm?: readonly number[];
  /** Of a verified case of this site. */
  readonly example?: string;
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
