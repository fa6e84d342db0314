import { type Profile, parabolaStep, type StrongPeak } from './massScale.ts';
import { median } from './robust.ts';

/** The shape that peaks of one profile share: a Gaussian of the median width of its strong peaks. */
export interface PeakShape {
  /** Full width at half height. */
  readonly widthU: number;
  /** False: no strong peak, a usual width is taken. */
  readonly measured: boolean;
  /** Points to either side of the centre that are used. */
  readonly reach: number;
  readonly templates: Map<number, Float64Array>;
}

/** One unit wide at a tenth of the height, as unit resolution is usually set: 0.55 u at half (common practice). */
const USUAL_WIDTH_U = 0.55;
const NARROWEST_U = 0.2;
const WIDEST_U = 1.1;
/** Points farther away belong more to the neighbour. */
const REACH_U = 0.5;
/** A neighbour whose tail has less weight than this in the window is left out of the fit. */
const NEGLIGIBLE_OVERLAP = 1e-12;
/** Templates are made for this many positions between two points. */
const PHASES = 8;
/** At least this share of a template's weight must have been measured: half a peak at the end of a scan is enough. */
const MEASURED_SHARE = 0.45;
const SIGMA_PER_WIDTH = 1 / (2 * Math.sqrt(2 * Math.LN2));

export function shapeOf(profile: Profile, strong: readonly StrongPeak[], level: (mass: number) => number): PeakShape {
  // Linear interpolation between few points makes a Gaussian too wide; the curvature of a flat top has no meaning.
  // The smaller of the two is right for both.
  const crossing = median(strong.map((peak) => crossingWidth(profile, peak, level(peak.mass))));
  const curvature = median(strong.map((peak) => curvatureWidth(profile, peak, level(peak.mass))));
  const measured = !Number.isNaN(crossing);
  const found = Number.isNaN(curvature) ? crossing : Math.min(crossing, curvature);
  const widthU = measured ? Math.min(WIDEST_U, Math.max(NARROWEST_U, found)) : USUAL_WIDTH_U;
  return {
    widthU,
    measured,
    reach: Math.max(1, Math.floor(REACH_U * profile.perUnit)),
    templates: new Map(),
  };
}

/** Full width at half height by linear interpolation on both sides; NaN when a side does not fall to half. */
function crossingWidth({ perUnit, values }: Profile, { at, value }: StrongPeak, level: number): number {
  const half = level + (value - level) / 2;
  let width = 0;
  for (const direction of [-1, 1]) {
    let i = at;
    let steps = 0;
    while (values[i]! > half && steps <= perUnit) {
      i += direction;
      steps++;
    }
    const outside = values[i];
    const inside = values[i - direction];
    if (outside === undefined || !(outside <= half) || inside === undefined) return Number.NaN;
    width += steps - 1 + (inside - half) / (inside - outside);
  }
  return width / perUnit;
}

/** Full width at half height of the Gaussian through three points around the apex: ln y is a parabola. */
function curvatureWidth({ perUnit, values }: Profile, { at }: StrongPeak, level: number): number {
  const step = parabolaStep(perUnit);
  const left = values[at - step]! - level;
  const middle = values[at]! - level;
  const right = values[at + step]! - level;
  if (!(left > 0 && middle > 0 && right > 0)) return Number.NaN;
  const curvature = Math.log(left / middle) + Math.log(right / middle);
  return curvature < 0 ? step / Math.sqrt(-curvature) / SIGMA_PER_WIDTH / perUnit : Number.NaN;
}

/**
 * What remains of a neighbour in a height, as a share of the neighbour: a twentieth of the overlap of two Gaussians one
 * unit apart, e^(−1/4σ²). On simulated profiles with Gaussian and flat-topped peaks it was 2–7 % of it.
 */
export const neighbourError = ({ widthU }: PeakShape): number =>
  UNCERTAIN_OVERLAP * Math.exp(-1 / (4 * (widthU * SIGMA_PER_WIDTH) ** 2));
const UNCERTAIN_OVERLAP = 0.05;

/**
 * Least-squares height of a peak of this shape at `position`, on top of `level`, fitted together with a neighbour of the
 * same shape on either side: what their tails bring is not counted as its own.
 * NaN when the place is outside the scan or too few of its points were measured.
 */
export function templateHeight(profile: Profile, shape: PeakShape, position: number, level: number): number {
  const { first, perUnit, values } = profile;
  const place = (position - first) * perUnit;
  const nearest = Math.round(place);
  const template = templateAt(shape, perUnit, Math.round((place - nearest) * PHASES));
  const begin = nearest - shape.reach;
  if (begin >= 0 && nearest + shape.reach < values.length) {
    let sum = 0;
    for (let i = 0; i < template.length; i++) sum += template[i]! * (values[begin + i]! - level);
    if (!Number.isNaN(sum)) return sum;
  }
  return partialHeight(values, template, begin, level);
}

/** The same from those points that were measured. */
function partialHeight(values: Float64Array, template: Float64Array, begin: number, level: number): number {
  let sum = 0;
  let kept = 0;
  let whole = 0;
  for (let i = 0; i < template.length; i++) {
    const square = template[i]! * template[i]!;
    const value = values[begin + i];
    whole += square;
    if (value === undefined || Number.isNaN(value)) continue;
    kept += square;
    sum += template[i]! * (value - level);
  }
  return kept >= MEASURED_SHARE * whole ? (sum * whole) / kept : Number.NaN;
}

/** Weights for a centre that lies `phase` eighths of a point beyond the middle one. */
function templateAt(shape: PeakShape, perUnit: number, phase: number): Float64Array {
  const known = shape.templates.get(phase);
  if (known !== undefined) return known;
  const sigma = shape.widthU * SIGMA_PER_WIDTH * perUnit;
  const gaussian = (centre: number) =>
    Float64Array.from({ length: 2 * shape.reach + 1 }, (_, i) =>
      Math.exp(-0.5 * ((i - shape.reach - phase / PHASES - centre) / sigma) ** 2),
    );
  const template = blindTo(gaussian(0), [gaussian(-perUnit), gaussian(perUnit)]);
  shape.templates.set(phase, template);
  return template;
}

/**
 * The part of a peak's shape that its neighbours cannot imitate, scaled so that its product with the shape is one:
 * the row of the pseudo-inverse that belongs to the peak when all three are fitted together.
 */
function blindTo(own: Float64Array, neighbours: readonly Float64Array[]): Float64Array {
  const rest = own.slice();
  const basis: Float64Array[] = [];
  for (const neighbour of neighbours) {
    const direction = neighbour.slice();
    for (const earlier of basis) subtractAlong(direction, earlier);
    if (dot(direction, direction) < NEGLIGIBLE_OVERLAP) continue;
    basis.push(direction);
    subtractAlong(rest, direction);
  }
  const scale = dot(rest, own);
  return rest.map((weight) => weight / scale);
}

function subtractAlong(vector: Float64Array, direction: Float64Array): void {
  const share = dot(vector, direction) / dot(direction, direction);
  for (let i = 0; i < vector.length; i++) vector[i]! -= share * direction[i]!;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
