/** Priority by consequence: the usual one of the signature, moved by how much, how fast and how sure. */
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import type { Priority, Signature } from '../contract/words.ts';
import { catalogueGas } from './patterns.ts';
import type { Sureness } from './sureness.ts';

export interface PriorityInput {
  readonly signature: Signature;
  readonly gases: readonly string[];
  readonly lane: string;
  readonly sureness: Sureness;
  /** Factor of the leading gas over its usual pressure; null: unknown. */
  readonly factor: number | null;
  /** Argon or oxygen stand behind it, not mass 28 alone. */
  readonly witnessed: boolean;
  /** Gases that the chamber is known to handle. */
  readonly named: readonly string[];
}

/** Water that comes at once to this multiple is a circuit rather than a wall. */
const SUDDEN_WATER = 3;
const HAZARDS_FIRST = new Set(['toxic', 'pyrophoric']);

export function priorityOf({ signature, gases, lane, sureness, factor, witnessed, named }: PriorityInput): Priority {
  const usual = SIGNATURES_BY_ID[signature].priority.usual;
  const sure = sureness === 'nearly certain' || sureness === 'likely';
  if (signature === 'air-leak') {
    if (lane === 'day' || !sure) return 'low';
    return lane === 'scan' && witnessed ? 'high' : 'medium';
  }
  if (signature === 'gas-inleak') {
    // Where nobody has such a gas its name is a guess: not one to raise an alarm of people for.
    const hazardous = gases.some(
      (gas) => named.includes(gas) && catalogueGas(gas)?.hazards.some((hazard) => HAZARDS_FIRST.has(hazard)),
    );
    return hazardous && sure ? 'high' : usual;
  }
  if (signature === 'water') return lane === 'scan' && sure && (factor ?? 0) >= SUDDEN_WATER ? 'medium' : usual;
  return usual;
}
