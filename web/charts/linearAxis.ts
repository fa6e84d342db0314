/** A linear axis from round number to round number, for quantities that may be zero or less. */
export interface LinearAxis {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
  /** Decimals that tell one tick from the next. */
  readonly decimals: number;
}

const ROUND = [1, 2, 2.5, 5, 10];
/** Doubles: 0.3 / 0.1 is not 3. */
const HAIR = 1e-9;

/** The smallest of 1, 2, 2.5, 5 × 10ⁿ that is not below `rough`. */
export function roundStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough) + HAIR);
  return power * (ROUND.find((multiple) => multiple * power >= rough * (1 - HAIR)) ?? 10);
}

const clean = (value: number): number => Number(value.toPrecision(12));

const decimalsOf = (step: number): number => {
  for (let decimals = 0; decimals < 12; decimals += 1) {
    if (Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) < HAIR * 10 ** decimals) return decimals;
  }
  return 12;
};

/** `least`: a span shorter than this would make noise look like an event. */
export function linearAxis(values: readonly (number | null | undefined)[], least: number, most = 6): LinearAxis {
  const known = values.filter((value): value is number => typeof value === 'number' && Number.isFinite(value));
  const smallest = known.length === 0 ? 0 : Math.min(...known);
  const largest = known.length === 0 ? least : Math.max(...known);
  const missing = Math.max(0, least - (largest - smallest)) / 2;
  const step = roundStep((largest - smallest + 2 * missing) / Math.max(1, most - 2));
  const first = Math.floor((smallest - missing) / step + HAIR);
  const last = Math.max(first + 1, Math.ceil((largest + missing) / step - HAIR));
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => clean((first + i) * step));
  return { low: clean(first * step), high: clean(last * step), ticks, decimals: decimalsOf(step) };
}
