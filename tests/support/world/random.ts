/** Seeded random numbers (mulberry32) with the distributions that the world draws from. */
export interface Random {
  uniform(): number;
  normal(): number;
  range(low: number, high: number): number;
  /** Log-uniform. */
  scale(low: number, high: number): number;
  pick<T>(items: readonly T[]): T;
}

export function makeRandom(seed: number): Random {
  let state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  for (let i = 0; i < 8; i++) uniform();
  // Box–Muller, one of the pair: a world is small enough not to keep the other.
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return {
    uniform,
    normal,
    range: (low, high) => low + (high - low) * uniform(),
    scale: (low, high) => low * (high / low) ** uniform(),
    pick: (items) => items[Math.floor(uniform() * items.length)]!,
  };
}
