import type { Design } from './design.ts';

/**
 * Assembly of H = BᵀWB and b = BᵀWy for a subset B of the columns of a design.
 *
 * A fragment pattern fills a tenth of its column. Every product a_mi a_mk that is not zero is worked out once and
 * kept with the place in H where it belongs; a scan then costs one multiplication and addition per product
 * ("scatter"), some thousand in all, whatever its weights.
 */
export interface AssemblyPlan {
  /** Columns of the design that take part, in the order of rows of H. */
  readonly active: Int32Array;
  readonly free: Uint8Array;
  readonly rowCount: number;
  readonly entryStart: Int32Array;
  readonly entryPlace: Int32Array;
  readonly entryResponse: Float64Array;
  readonly productStart: Int32Array;
  readonly productTarget: Int32Array;
  readonly product: Float64Array;
}

export function planAssembly(design: Design, active: Int32Array): AssemblyPlan {
  const size = active.length;
  const placeOf = new Int32Array(design.columns.length).fill(-1);
  active.forEach((column, place) => {
    placeOf[column] = place;
  });
  const rowCount = design.masses.length;
  const entryStart = new Int32Array(rowCount + 1);
  const productStart = new Int32Array(rowCount + 1);
  const place: number[] = [];
  const response: number[] = [];
  const target: number[] = [];
  const product: number[] = [];
  for (let row = 0; row < rowCount; row++) {
    const begin = place.length;
    for (let e = design.rowStart[row]!; e < design.rowStart[row + 1]!; e++) {
      const at = placeOf[design.entryColumn[e]!]!;
      if (at < 0) continue;
      place.push(at);
      response.push(design.entryResponse[e]!);
    }
    for (let i = begin; i < place.length; i++) {
      for (let k = begin; k <= i; k++) {
        target.push(Math.max(place[i]!, place[k]!) * size + Math.min(place[i]!, place[k]!));
        product.push(response[i]! * response[k]!);
      }
    }
    entryStart[row + 1] = place.length;
    productStart[row + 1] = target.length;
  }
  return {
    active,
    free: Uint8Array.from(active, (column) => design.free[column]!),
    rowCount,
    entryStart,
    entryPlace: Int32Array.from(place),
    entryResponse: Float64Array.from(response),
    productStart,
    productTarget: Int32Array.from(target),
    product: Float64Array.from(product),
  };
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
  const { entryStart, entryPlace, entryResponse, productStart, productTarget, product, rowCount } = plan;
  const size = plan.active.length;
  hessian.fill(0, 0, size * size);
  gradient.fill(0, 0, size);
  for (let row = 0; row < rowCount; row++) {
    const weight = 1 / variance[row]!;
    const end = productStart[row + 1]!;
    for (let q = productStart[row]!; q < end; q++) hessian[productTarget[q]!]! += weight * product[q]!;
    const weighted = weight * heights[row]!;
    const last = entryStart[row + 1]!;
    for (let e = entryStart[row]!; e < last; e++) gradient[entryPlace[e]!]! += weighted * entryResponse[e]!;
  }
}
