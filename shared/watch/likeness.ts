/**
 * How far what has come in looks like something known: like what a declared state let in before, or like the gases of a
 * list. Everything is told from the excess over base, N2-equivalent Pa per channel; the gauge takes no part.
 */
import type { Vector } from './memory.ts';
import { patternsOf } from './patterns.ts';

/** Half of air's argon, a fifth of its oxygen (peaks at 40, 32 against 28; dry air: 0.012–0.016 and 0.2–0.25). */
const AIR_ARGON = 0.006;
const AIR_OXYGEN = 0.04;
/** Twice of each: with more than that it is a mixture of the chamber's own. */
const MOST_AIR_ARGON = 0.035;
const MOST_AIR_OXYGEN = 0.5;
/** Share of all that must lie at 28 for it to be air; how well a known spectrum foretells a peak. */
const AIR_SHARE = 0.1;
const FORETOLD = 0.1;
/** Rounds of the fit: mixtures of process gases overlap little. */
const ROUNDS = 40;

/** Scalar product over the lengths, 0 to 1; what was not measured (NaN) in either takes no part. */
export function likeness(
  a: ArrayLike<number>,
  b: ArrayLike<number>,
): { readonly cosine: number; readonly ratio: number } {
  let [product, own, other] = [0, 0, 0];
  for (let m = 1; m < a.length; m++) {
    if (!(Number.isFinite(a[m]!) && Number.isFinite(b[m]!))) continue;
    product += a[m]! * b[m]!;
    own += a[m]! * a[m]!;
    other += b[m]! * b[m]!;
  }
  if (!(own > 0 && other > 0)) return { cosine: 0, ratio: 0 };
  return { cosine: product / Math.sqrt(own * other), ratio: Math.sqrt(own / other) };
}

/** Share of the excess that a mixture of these gases makes, each as the catalogue has it; and which makes most of it. */
export function mixtureOf(
  gases: readonly string[],
  excess: ArrayLike<number>,
  masses: Vector,
): { readonly share: number; readonly gas: string | null } {
  const known = gases.flatMap((gas) => {
    const pattern = patternsOf(gas, masses)?.variants[0];
    return pattern ? [{ gas, pattern }] : [];
  });
  const amounts = fitted(
    known.map(({ pattern }) => pattern),
    excess,
  );
  const parts = known.map(() => 0);
  let [sum, made] = [0, 0];
  for (let m = 1; m < excess.length; m++) {
    if (!Number.isFinite(excess[m]!)) continue;
    sum += excess[m]!;
    let all = 0;
    known.forEach(({ pattern }, i) => {
      all += amounts[i]! * pattern[m]!;
      parts[i]! += amounts[i]! * pattern[m]!;
    });
    made += Math.min(excess[m]!, all);
  }
  const most = parts.reduce((best, part, i) => (part > (parts[best] ?? 0) ? i : best), -1);
  return { share: sum > 0 ? made / sum : 0, gas: known[most]?.gas ?? null };
}

/** Non-negative least squares, one gas at a time. */
function fitted(patterns: readonly Float64Array[], excess: ArrayLike<number>): Float64Array {
  const amounts = new Float64Array(patterns.length);
  const left = Float64Array.from(excess, (value) => (Number.isFinite(value) ? value : 0));
  const squares = patterns.map((pattern) => pattern.reduce((sum, p, m) => (m > 0 ? sum + p * p : sum), 0));
  for (let round = 0; round < ROUNDS; round++) {
    patterns.forEach((pattern, i) => {
      let product = 0;
      for (let m = 1; m < left.length; m++) product += left[m]! * pattern[m]!;
      const by = Math.max(-amounts[i]!, squares[i]! > 0 ? product / squares[i]! : 0);
      amounts[i]! += by;
      for (let m = 1; m < left.length; m++) left[m]! -= by * pattern[m]!;
    });
  }
  return amounts;
}

export interface AirQuestion {
  readonly excess: ArrayLike<number>;
  readonly masses: Vector;
  /** That the chamber lets in by intent. */
  readonly gases: readonly string[];
  /** What is foretold of it, per channel; null: nothing. */
  readonly foretold: ArrayLike<number> | null;
}

/**
 * Nitrogen with the argon or the oxygen of air. A mixture of listed gases is none where there is more of them than air
 * holds, nor is what was let in with the same argon and oxygen before.
 */
export function looksLikeAir({ excess, masses, gases, foretold }: AirQuestion): boolean {
  const at = (mass: number, of: ArrayLike<number> | null = excess) => {
    const value = of?.[masses.indexOf(mass) + 1] ?? 0;
    return masses.includes(mass) && Number.isFinite(value) ? Math.max(0, value) : 0;
  };
  let sum = 0;
  for (let m = 1; m < excess.length; m++) if (excess[m]! > 0) sum += excess[m]!;
  const nitrogen = at(28);
  if (nitrogen < AIR_SHARE * sum) return false;
  const beyond = (mass: number) => at(mass) - (1 + FORETOLD) * at(mass, foretold);
  if (foretold) return beyond(40) > AIR_ARGON * nitrogen || beyond(32) > AIR_OXYGEN * nitrogen;
  const within = (gas: string, share: number, low: number, high: number) =>
    share > low && !(gases.includes(gas) && share > high);
  return (
    within('Ar', at(40) / nitrogen, AIR_ARGON, MOST_AIR_ARGON) ||
    within('O2', at(32) / nitrogen, AIR_OXYGEN, MOST_AIR_OXYGEN)
  );
}
