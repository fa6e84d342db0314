/** Where a quantity has stood: the middle 95 % of its buckets, so that one bad hour does not widen it. */
export interface Usual {
  readonly low: number;
  readonly high: number;
}

/** Fewer buckets say nothing about what is usual. */
const LEAST_BUCKETS = 20;
const TAIL = 0.025;

export function usualOf(values: readonly number[]): Usual | null {
  if (values.length < LEAST_BUCKETS) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))] ?? 0;
  const low = at(TAIL);
  const high = at(1 - TAIL);
  return high > low ? { low, high } : null;
}

export const isOutside = (value: number, usual: Usual): 'above' | 'below' | null =>
  value > usual.high ? 'above' : value < usual.low ? 'below' : null;
