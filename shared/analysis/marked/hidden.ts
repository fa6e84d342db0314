import { FOOT_DECAY_U } from '../artefacts.ts';
import type { Column } from '../columns.ts';
import type { OwnMasses } from './ownMasses.ts';

/**
 * What may stand below the peaks of a pure gas without being seen: a little of the gases that have no peak elsewhere,
 * ions from surfaces, the low-mass foot. It is the reason why a small fragment at m/z 16 or 18 is often better taken
 * from the records.
 */
export interface HiddenQuestion {
  readonly masses: readonly number[];
  readonly own: OwnMasses;
  readonly principle: 'quadrupole' | 'ion trap';
  /** Columns of gases that show at the pure gas's peaks only. */
  readonly hidden: readonly Column[];
  /** Largest peak of the pure gas. */
  readonly largest: number;
  /** What other gases were seen to add, by the mass list. */
  readonly gas: Float64Array;
}

/** A hidden gas may be this share of the largest peak, and this share of what other gases show (own judgement). */
const ALWAYS = 0.002;
const OF_THE_SEEN = 0.1;
/** O⁺, F⁺ and Cl⁺ from surfaces: a few thousandths of the largest peak (common practice). */
const DESORBED_SHARE = 0.003;
const DESORBED_MASSES = [16, 19, 35, 37];
/** As in heightVariance.ts: the upper part of what analysers show at m/z 1. */
const FOOT_SHARE = 0.03;
const FOOT_ENDS = 5;

/** One variance per mass, in the scale of the heights. */
export function hiddenVariance({ masses, own, principle, hidden, largest, gas }: HiddenQuestion): Float64Array {
  const seen = gas.reduce((most, height) => Math.max(most, height), 0);
  const amount = ALWAYS * largest + OF_THE_SEEN * seen;
  const out = new Float64Array(masses.length);
  for (const { rows, response, peakResponse } of hidden) {
    rows.forEach((row, k) => {
      out[row]! += ((amount * response[k]!) / peakResponse) ** 2;
    });
  }
  if (principle === 'ion trap') return out;
  masses.forEach((mass, row) => {
    if (!own.listed.has(mass)) return;
    if (DESORBED_MASSES.includes(mass)) out[row]! += (DESORBED_SHARE * largest) ** 2;
    if (mass <= FOOT_ENDS) out[row]! += (FOOT_SHARE * largest * Math.exp((1 - mass) / FOOT_DECAY_U[1])) ** 2;
  });
  return out;
}
