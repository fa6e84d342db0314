/** Causes that are one gas of the catalogue, and mixtures of several as shapes of one cause. */
import type { Signature } from '../contract/words.ts';
import type { Cause, Variant } from './cause.ts';
import type { Vector } from './memory.ts';
import { mixture, patternsOf } from './patterns.ts';

interface OneGas {
  readonly prior?: number;
  readonly watched?: boolean;
}

export function oneGas(
  gas: string,
  signature: Signature,
  masses: Vector,
  { prior = 0, watched = true }: OneGas = {},
): Cause[] {
  const patterns = patternsOf(gas, masses);
  if (!patterns) return [];
  const variants = patterns.variants.map((dense, i) => ({ dense, prior: i === 0 ? 0 : -0.7 }));
  const triggers = watched ? [patterns.variants[0]!] : [];
  return [{ id: gas, signature, gases: [gas], variants, triggers, prior, single: gas }];
}

export function blends(
  masses: Vector,
  rows: readonly (readonly [number, readonly (readonly [string, number])[], string[]?])[],
) {
  return rows.map(
    ([prior, parts, gases]): Variant => ({ dense: mixture(parts, masses), prior, ...(gases && { gases }) }),
  );
}
