/**
 * Order statistics without sorting: C. A. R. Hoare, "Algorithm 65: Find", Comm. ACM 4 (1961) 321. Linear time on
 * average; the values are left in another order.
 */

/** The k-th smallest of the first `count` values, which are rearranged; no NaN among them. */
export function selectInPlace(values: Float64Array, count: number, k: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i > j) break;
      const swap = values[i]!;
      values[i++] = values[j]!;
      values[j--] = swap;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else break;
  }
  return values[k]!;
}

/** Quantile by linear interpolation between order statistics (definition 7 of Hyndman and Fan). None: NaN. */
export function quantileInPlace(values: Float64Array, count: number, share: number): number {
  if (count === 0) return Number.NaN;
  const position = share * (count - 1);
  const below = Math.floor(position);
  const low = selectInPlace(values, count, below);
  if (position === below) return low;
  let next = Number.POSITIVE_INFINITY;
  for (let i = below + 1; i < count; i++) if (values[i]! < next) next = values[i]!;
  return low + (position - below) * (next - low);
}

/** Median of the numbers among the first `count` values, which are rearranged; NaN when there is none. */
export function medianInPlace(values: Float64Array, count: number): number {
  let kept = 0;
  for (let i = 0; i < count; i++) {
    const value = values[i]!;
    if (!Number.isNaN(value)) values[kept++] = value;
  }
  return quantileInPlace(values, kept, 0.5);
}
