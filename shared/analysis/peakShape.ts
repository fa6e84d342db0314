import type { Profile } from './strongPeaks.ts';

/** The shape that peaks of one profile share: a Gaussian of the median width of its strong peaks. */
export interface PeakShape {
  /** Full width at half height. */
  readonly widthU: number;
  /** False: no strong peak, a usual width is taken. */
  readonly measured: boolean;
  /** Points to either side of the centre that are used. */
  readonly reach: number;
  /** One per position between two points, by `phase`. */
  readonly templates: (Template | undefined)[];
}

interface Template {
  /** Height = Σ weights · values − level · weightSum. */
  readonly weights: Float64Array;
  readonly weightSum: number;
  /** The shape itself: what points that were not measured would have brought. */
  readonly shape: Float64Array;
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
const PHASES = 32;
/** At least this share of a template's weight must have been measured: half a peak at the end of a scan is enough. */
const MEASURED_SHARE = 0.45;
const SIGMA_PER_WIDTH = 1 / (2 * Math.sqrt(2 * Math.LN2));
/** Widths are taken in steps of this, so that templates can be kept: 0.3 % of a height at most, the same for all. */
const WIDTH_STEP_U = 0.005;

/** `halfWidthU`: full width at half height of the strong peaks; null: not seen. */
export function shapeOf(perUnit: number, halfWidthU: number | null): PeakShape {
  const widthU = halfWidthU === null ? USUAL_WIDTH_U : Math.min(WIDEST_U, Math.max(NARROWEST_U, halfWidthU));
  return {
    widthU,
    measured: halfWidthU !== null,
    reach: Math.max(1, Math.floor(REACH_U * perUnit)),
    templates: templatesFor(perUnit, Math.round(widthU / WIDTH_STEP_U)),
  };
}

/** Templates depend on nothing but spacing and width: kept from scan to scan, a bounded number of sets. */
const kept = new Map<number, (Template | undefined)[]>();
const SETS_KEPT = 200;
const WIDTHS = 1000;

function templatesFor(perUnit: number, steps: number): (Template | undefined)[] {
  const key = perUnit * WIDTHS + steps;
  let set = kept.get(key);
  if (set === undefined) {
    if (kept.size >= SETS_KEPT) kept.clear();
    const reach = Math.max(1, Math.floor(REACH_U * perUnit));
    const sigma = steps * WIDTH_STEP_U * SIGMA_PER_WIDTH * perUnit;
    set = Array.from({ length: PHASES + 1 }, (_, k) => templateFor({ reach, sigma, perUnit }, k - PHASES / 2));
    kept.set(key, set);
  }
  return set;
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
  const { values } = profile;
  const place = (position - profile.first) * profile.perUnit;
  const nearest = Math.round(place);
  const template = shape.templates[Math.round((place - nearest) * PHASES) + PHASES / 2]!;
  const { weights } = template;
  const begin = nearest - shape.reach;
  if (begin >= 0 && nearest + shape.reach < values.length) {
    let even = 0;
    let odd = 0;
    const end = weights.length - 1;
    // Two sums side by side: an addition need not wait for the one before it.
    for (let i = 0; i < end; i += 2) {
      even += weights[i]! * values[begin + i]!;
      odd += weights[i + 1]! * values[begin + i + 1]!;
    }
    const sum = even + odd + weights[end]! * values[begin + end]! - level * template.weightSum;
    if (!Number.isNaN(sum)) return sum;
  }
  return partialHeight(values, template, { begin, level, isUsed: Number.isFinite });
}

/** The same without the points that are not to be used. */
export function heightWithout(
  profile: Profile,
  shape: PeakShape,
  { position, level, left }: { readonly position: number; readonly level: number; readonly left: readonly number[] },
): number {
  const place = (position - profile.first) * profile.perUnit;
  const nearest = Math.round(place);
  const template = shape.templates[Math.round((place - nearest) * PHASES) + PHASES / 2]!;
  const isUsed = (value: number, i: number) => Number.isFinite(value) && !left.includes(i);
  return partialHeight(profile.values, template, { begin: nearest - shape.reach, level, isUsed });
}

interface Partial {
  readonly begin: number;
  readonly level: number;
  readonly isUsed: (value: number, index: number) => boolean;
}

/** From those points that were measured: scaled so that a peak of this shape has its height. */
function partialHeight(values: Float64Array, { weights, shape }: Template, { begin, level, isUsed }: Partial): number {
  let sum = 0;
  let seen = 0;
  let kept = 0;
  let whole = 0;
  for (let i = 0; i < weights.length; i++) {
    const square = weights[i]! * weights[i]!;
    const value = values[begin + i];
    whole += square;
    if (value === undefined || !isUsed(value, begin + i)) continue;
    kept += square;
    sum += weights[i]! * (value - level);
    seen += weights[i]! * shape[i]!;
  }
  return kept >= MEASURED_SHARE * whole ? sum / seen : Number.NaN;
}

interface TemplateWidth {
  readonly reach: number;
  /** In points. */
  readonly sigma: number;
  readonly perUnit: number;
}

/**
 * Weights for a centre that lies `phase` / PHASES of a point beyond the middle one. The outermost points fade in and out
 * with the place: when a centre crosses from one middle point to the next, no point comes in or goes at once. What a large
 * neighbour leaves in a small peak would jump with it, and look like a gas that comes and goes.
 */
function templateFor({ reach, sigma, perUnit }: TemplateWidth, phase: number): Template {
  const away = (i: number) => i - reach - phase / PHASES;
  const fade = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.sqrt(Math.min(1, Math.max(0, reach + 0.5 - Math.abs(away(i))))),
  );
  const gaussian = (centre: number) => fade.map((_, i) => Math.exp(-0.5 * ((away(i) - centre) / sigma) ** 2));
  const faded = (values: Float64Array) => values.map((value, i) => value * fade[i]!);
  const shape = gaussian(0);
  const weights = faded(blindTo(faded(shape), [faded(gaussian(-perUnit)), faded(gaussian(perUnit))]));
  return { weights, weightSum: weights.reduce((sum, weight) => sum + weight, 0), shape };
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
