/**
 * Priority by consequence: the usual one of the signature, or what people have set for it, moved by how much, how fast
 * and how sure. High is for what is sure and has a second witness: a wrong alarm at high priority costs trust in all.
 */
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import { PRIORITIES, type Priority, type Signature } from '../contract/words.ts';
import { catalogueGas } from './patterns.ts';
import type { Sureness } from './sureness.ts';

export interface PriorityInput {
  readonly signature: Signature;
  readonly gases: readonly string[];
  readonly lane: string;
  readonly sureness: Sureness;
  /** Factor of the leading gas over its usual pressure; null: unknown. */
  readonly factor: number | null;
  /** Something beside the leading peak says the same (`hasSecondWitness`). */
  readonly witnessed: boolean;
  /** Gases that the chamber is known to handle. */
  readonly named: readonly string[];
  /** In place of the usual one of the signature. */
  readonly set?: Priority | undefined;
}

/** Water that comes at once to this multiple is a circuit rather than a wall. */
const SUDDEN_WATER = 3;
const HAZARDS_FIRST = new Set(['toxic', 'pyrophoric']);

const lower = (priority: Priority): Priority =>
  PRIORITIES[Math.min(PRIORITIES.indexOf(priority) + 1, PRIORITIES.length - 1)]!;

export function priorityOf(input: PriorityInput): Priority {
  const { signature, gases, lane, sureness, factor, witnessed, named, set } = input;
  const usual = set ?? SIGNATURES_BY_ID[signature].priority.usual;
  const sure = sureness === 'nearly certain' || sureness === 'likely';
  if (signature === 'air-leak' && usual === 'high') {
    if (lane === 'day' || !sure) return 'low';
    return lane === 'scan' && witnessed ? 'high' : 'medium';
  }
  if (signature === 'gas-inleak') {
    // Where nobody has such a gas its name is a guess: not one to raise an alarm of people for.
    const hazardous = gases.some(
      (gas) => named.includes(gas) && catalogueGas(gas)?.hazards.some((hazard) => HAZARDS_FIRST.has(hazard)),
    );
    if (hazardous && sure) return 'high';
  }
  if (signature === 'water' && set === undefined && lane === 'scan' && sure && (factor ?? 0) >= SUDDEN_WATER)
    return 'medium';
  return set !== undefined && !sure ? lower(usual) : usual;
}
