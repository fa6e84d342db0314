/**
 * Heights from a scan with one value per mass, or from a list of selected masses.
 * A mass between integers belongs to the nearest one; where several do, the largest value is the peak.
 */
export interface Heights {
  /** Integer masses that were measured, ascending. */
  readonly masses: readonly number[];
  /** In the unit of the scan. */
  readonly heights: Float64Array;
}

/** The zero-mass peak of a quadrupole is no gas; nothing lighter than m/z 1 is read. */
const LIGHTEST = 1;

export function barHeights(masses: ArrayLike<number>, values: Float64Array): Heights {
  return inOrder(masses, values) ?? gathered(masses, values);
}

/** Most scans hold one value per mass, in order: nothing to gather then. null: they do not. */
function inOrder(masses: ArrayLike<number>, values: Float64Array): Heights | null {
  const count = Math.min(masses.length, values.length);
  const measured = new Array<number>(count);
  const heights = new Float64Array(count);
  let last = LIGHTEST - 1;
  for (let i = 0; i < count; i++) {
    const mass = Math.round(masses[i]!);
    if (mass <= last || !Number.isFinite(values[i]!)) return null;
    measured[i] = mass;
    heights[i] = values[i]!;
    last = mass;
  }
  return { masses: measured, heights };
}

function gathered(masses: ArrayLike<number>, values: Float64Array): Heights {
  const byMass = new Map<number, number>();
  const count = Math.min(masses.length, values.length);
  for (let i = 0; i < count; i++) {
    const value = values[i]!;
    const mass = Math.round(masses[i]!);
    if (!Number.isFinite(value) || mass < LIGHTEST) continue;
    const known = byMass.get(mass);
    if (known === undefined || value > known) byMass.set(mass, value);
  }
  const measured = [...byMass.keys()].sort((a, b) => a - b);
  return { masses: measured, heights: Float64Array.from(measured, (mass) => byMass.get(mass)!) };
}

/** Masses of an evenly spaced scan. Computed from the first one each time: no rounding adds up. */
export function spacedMasses(first: number, perUnit: number, count: number): Float64Array {
  const masses = new Float64Array(count);
  for (let i = 0; i < count; i++) masses[i] = first + i / perUnit;
  return masses;
}
