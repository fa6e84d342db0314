import type { Design } from './design.ts';

/**
 * Assembly of H = BᵀWB and b = BᵀWy for a subset B of the columns of a design.
 *
 * A fragment pattern fills a tenth of its column. Every product a_mi a_mk that is not zero is worked out once and kept
 * with its row, pair of columns by pair of columns; an element of H then costs one multiplication and addition per row
 * that both columns share, whatever the weights, and an element that nobody asks for costs nothing.
 */
export interface AssemblyPlan {
  /** Columns of the design that take part, in the order of rows of H. */
  readonly active: Int32Array;
  readonly free: Uint8Array;
  readonly rowCount: number;
  /** Column i has the entries `columnStart[i] … columnStart[i + 1]`, rows ascending. */
  readonly columnStart: Int32Array;
  readonly entryRow: Int32Array;
  readonly entryResponse: Float64Array;
  /** The pair (i, k ≤ i) has the products from `pairStart[i (i + 1) / 2 + k]` to the next one's. */
  readonly pairStart: Int32Array;
  readonly productRow: Int32Array;
  readonly product: Float64Array;
  /** Places of columns, those that share rows with the fewest others first: factors in this order stay sparse. */
  readonly sparseFirst: Int32Array;
  /** Room for the weight per row. */
  readonly weight: Float64Array;
}

export function planAssembly(design: Design, active: Int32Array): AssemblyPlan {
  const size = active.length;
  const columnStart = new Int32Array(size + 1);
  const entryRow: number[] = [];
  const entryResponse: number[] = [];
  active.forEach((column, i) => {
    const { rows, response } = design.columns[column]!;
    rows.forEach((row, e) => {
      entryRow.push(row);
      entryResponse.push(response[e]!);
    });
    columnStart[i + 1] = entryRow.length;
  });
  const columns = { columnStart, entryRow: Int32Array.from(entryRow), entryResponse: Float64Array.from(entryResponse) };
  const pairs = pairsOf(size, columns);
  return {
    active,
    free: Uint8Array.from(active, (column) => design.free[column]!),
    rowCount: design.masses.length,
    weight: new Float64Array(design.masses.length),
    ...columns,
    ...pairs,
    sparseFirst: sparseFirst(size, pairs.pairStart),
  };
}

type Columns = Pick<AssemblyPlan, 'columnStart' | 'entryRow' | 'entryResponse'>;

function pairsOf(
  size: number,
  { columnStart, entryRow, entryResponse }: Columns,
): Pick<AssemblyPlan, 'pairStart' | 'productRow' | 'product'> {
  const pairStart = new Int32Array((size * (size + 1)) / 2 + 1);
  const productRow: number[] = [];
  const product: number[] = [];
  let pair = 0;
  for (let i = 0; i < size; i++) {
    for (let k = 0; k <= i; k++) {
      let f = columnStart[k]!;
      for (let e = columnStart[i]!; e < columnStart[i + 1]!; e++) {
        while (f < columnStart[k + 1]! && entryRow[f]! < entryRow[e]!) f++;
        if (f === columnStart[k + 1]!) break;
        if (entryRow[f] !== entryRow[e]) continue;
        productRow.push(entryRow[e]!);
        product.push(entryResponse[e]! * entryResponse[f]!);
      }
      pairStart[++pair] = product.length;
    }
  }
  return { pairStart, productRow: Int32Array.from(productRow), product: Float64Array.from(product) };
}

/** The idea of minimum degree (W. F. Tinney and J. W. Walker, Proc. IEEE 55 (1967) 1801, from memory), once for all scans. */
function sparseFirst(size: number, pairStart: Int32Array): Int32Array {
  const partners = new Int32Array(size);
  let pair = 0;
  for (let i = 0; i < size; i++) {
    for (let k = 0; k <= i; k++, pair++) {
      if (pairStart[pair + 1] === pairStart[pair]) continue;
      partners[i]!++;
      partners[k]!++;
    }
  }
  return Int32Array.from({ length: size }, (_, i) => i).sort((a, b) => partners[a]! - partners[b]!);
}

export interface WeightedHeights {
  readonly heights: Float64Array;
  /** Variance per row, > 0. */
  readonly variance: Float64Array;
}

/** Fills the lower triangle of `hessian` (size × size, row after row) and `gradient` (size). */
export function assemble(
  plan: AssemblyPlan,
  { heights, variance }: WeightedHeights,
  hessian: Float64Array,
  gradient: Float64Array,
): void {
  const { columnStart, entryRow, entryResponse, pairStart, productRow, product, weight, rowCount } = plan;
  for (let row = 0; row < rowCount; row++) weight[row] = 1 / variance[row]!;
  const size = plan.active.length;
  let pair = 0;
  for (let i = 0; i < size; i++) {
    for (let k = 0; k <= i; k++) {
      let sum = 0;
      const end = pairStart[pair + 1]!;
      for (let e = pairStart[pair]!; e < end; e++) sum += product[e]! * weight[productRow[e]!]!;
      hessian[i * size + k] = sum;
      pair++;
    }
    let sum = 0;
    const last = columnStart[i + 1]!;
    for (let e = columnStart[i]!; e < last; e++) {
      const row = entryRow[e]!;
      sum += heights[row]! * weight[row]! * entryResponse[e]!;
    }
    gradient[i] = sum;
  }
}
