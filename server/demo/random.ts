/**
 * Chance that can be asked for any moment: the same key always gives the same number, so a scan can be made again
 * years later and a feed that restarts repeats itself to the digit.
 */

/** A 32-bit seed from words and numbers (FNV-1a, then a finaliser so that near keys give far seeds). */
export function seedOf(...parts: readonly (string | number)[]): number {
  let hash = 0x811c9dc5;
  for (const character of parts.join('\u001f')) {
    hash ^= character.codePointAt(0) ?? 0;
    hash = Math.imul(hash, 0x01000193);
  }
  return mix(hash);
}

function mix(value: number): number {
  let x = value | 0;
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return (x ^ (x >>> 16)) >>> 0;
}

export interface Chance {
  /** Evenly in (0, 1). */
  readonly even: () => number;
  readonly between: (low: number, high: number) => number;
  /** Mean 0, standard deviation 1. */
  readonly normal: () => number;
  /** Ions that arrive when `mean` are expected: Poisson below 30, its normal limit above. */
  readonly count: (mean: number) => number;
}

/** A stream of chance from one seed (a 32-bit counter through the finaliser above). */
export function chanceFrom(seed: number): Chance {
  let state = seed >>> 0;
  const even = () => {
    state = (state + 0x9e3779b9) >>> 0;
    return (mix(state ^ 0x5bf03635) + 0.5) / 4_294_967_296;
  };
  // Box and Muller's transform: two even numbers make one normal one.
  const normal = () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
  const count = (mean: number) => {
    if (mean <= 0) return 0;
    if (mean > 30) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
    const limit = Math.exp(-mean);
    let arrived = 0;
    for (let product = even(); product > limit; product *= even()) arrived += 1;
    return arrived;
  };
  return { even, between: (low, high) => low + (high - low) * even(), normal, count };
}

const knot = (seed: number, index: number) => chanceFrom(mix(seed ^ Math.imul(index | 0, 0x27d4eb2f))).normal();

function wander(seed: number, position: number): number {
  const left = Math.floor(position);
  const part = position - left;
  const weight = part * part * (3 - 2 * part);
  const blend = knot(seed, left) * (1 - weight) + knot(seed, left + 1) * weight;
  // Between two independent knots the blend is quieter than at them: give the spread back.
  return blend / Math.sqrt(weight * weight + (1 - weight) * (1 - weight));
}

/**
 * A smooth wander with mean 0 and spread 1 that forgets itself in about `hours`: two octaves of interpolated knots.
 * Unlike a random walk it needs no past, so any moment can be asked for alone.
 */
export function driftAt(seed: number, atMs: number, hours: number): number {
  const position = atMs / (hours * 3_600_000);
  return Math.SQRT1_2 * (wander(seed, position) + wander(seed ^ 0x3c6ef372, position * 3.7 + 0.31));
}
