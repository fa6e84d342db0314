import { selectInPlace } from './quickselect.ts';

/**
 * Peaks of a profile that show where they stand: the highest point of every unit of mass is found in one pass; those
 * that are local maxima and stand far above the quiet units are strong.
 */
export interface Profile {
  /** Mass of the first point. */
  readonly first: number;
  readonly perUnit: number;
  readonly values: Float64Array;
}

export interface StrongPeak {
  /** Index of the highest point. */
  readonly at: number;
  readonly value: number;
  readonly mass: number;
  /** Position of the apex minus nearest integer mass, −0.5 … 0.5. */
  readonly deviation: number;
  /** The detector ended here: several points in a row at exactly the largest value of the scan. */
  readonly cutOff: boolean;
}

const QUIET_SHARE = 0.25;
const VOTING_SWINGS = 10;
const VOTING_SHARE = 0.1;
/** Distance of the outer points of the parabola from the apex. */
const PARABOLA_U = 0.16;
/** Nothing below this mass is a gas: the zero-mass peak is there. */
const LIGHTEST = 0.55;

/** No peak is narrower than a fifth of a unit: so many points of each unit find it, then those between are looked at. */
const POINTS_LOOKED_AT = 4;

/** Of more units every third one is enough for a quantile. */
const UNITS_FOR_THRESHOLD = 60;

/** Reused from scan to scan: nothing of them outlives a call. Per unit: highest value, its place, and two to be sorted. */
let highs = new Float64Array(0);
let places = new Float64Array(0);
let highsToSort = new Float64Array(0);
let lowsToSort = new Float64Array(0);

function makeRoom(count: number): void {
  if (highs.length >= count) return;
  highs = new Float64Array(2 * count);
  places = new Float64Array(2 * count);
  highsToSort = new Float64Array(2 * count);
  lowsToSort = new Float64Array(2 * count);
}

export function strongPeaks(profile: Profile): StrongPeak[] {
  const { first, perUnit, values } = profile;
  const begin = Math.max(1, Math.ceil((LIGHTEST - first) * perUnit));
  const last = values.length - 1;
  const units = Math.max(0, Math.ceil((last - begin) / perUnit) + 1);
  const stride = Math.max(1, Math.floor(perUnit / POINTS_LOOKED_AT));
  makeRoom(units);
  const sample = units > UNITS_FOR_THRESHOLD ? 3 : 1;
  let kept = 0;
  let sampled = 0;
  let largest = 0;
  // From half mass to half mass, so that most peaks stand in the middle of their unit.
  const halfMass = Math.ceil((Math.ceil(first) - 0.5 - first) * perUnit);
  let to = halfMass;
  while (to <= begin) to += perUnit;
  for (let from = begin; from < last; from = to, to += perUnit) {
    if (to > last) to = last;
    let best = from;
    let value = Number.NEGATIVE_INFINITY;
    for (let i = from; i < to; i += stride) {
      const point = values[i]!;
      if (point > value) {
        value = point;
        best = i;
      }
    }
    if (value === Number.NEGATIVE_INFINITY) continue;
    highs[kept] = value;
    places[kept++] = best;
    if (value > largest) largest = value;
    if (kept % sample !== 0) continue;
    highsToSort[sampled] = value;
    // Border and middle are half a unit apart: one of the two lies in the valley.
    const low = Math.min(values[from]!, values[(from + to) >> 1]!);
    lowsToSort[sampled++] = Number.isNaN(low) ? value : low;
  }
  const threshold = votingThreshold(sampled, largest);
  const found: number[] = [];
  largest = 0;
  for (let k = 0; k < kept; k++) {
    if (!(highs[k]! > threshold)) continue;
    const at = climb(values, places[k]!, stride);
    // Two units may climb to one peak on their border.
    if (at === found.at(-1)) continue;
    if (at <= 0 || at >= last || values[at - 1]! > values[at]! || values[at + 1]! > values[at]!) continue;
    found.push(at);
    if (values[at]! > largest) largest = values[at]!;
  }
  const peaks: StrongPeak[] = [];
  for (const at of found) peaks.push(peakAt(profile, at, largest));
  return peaks;
}

/** From one of the points looked at to the highest one between its neighbours, and to the first of several that are equal. */
function climb(values: Float64Array, from: number, stride: number): number {
  let at = from;
  for (let i = Math.max(0, from - stride + 1); i < from + stride; i++) if (values[i]! > values[at]!) at = i;
  while (values[at - 1] === values[at]) at--;
  return at;
}

function peakAt(profile: Profile, at: number, largest: number): StrongPeak {
  const value = profile.values[at]!;
  const width = value === largest ? plateau(profile.values, at) : 1;
  const cutOff = width >= PLATEAU_POINTS;
  const step = cutOff ? (width - 1) / 2 : apexShift(profile, at);
  const position = profile.first + (at + step) / profile.perUnit;
  const mass = Math.round(position);
  return { at, value, mass, deviation: position - mass, cutOff };
}

/** So many equal points at the largest value, falling away by at least this share within two points, are no top of a peak. */
const PLATEAU_POINTS = 3;
const PLATEAU_EDGE = 0.02;
/** Values of so few digits are equal by themselves on the top of a peak. */
const COARSE_DIGITS = 3;

/** Points in a row from `at` on that have its value; 1 where they are equal for another reason. */
function plateau(values: Float64Array, at: number): number {
  const value = values[at]!;
  let end = at + 1;
  while (values[end] === value) end++;
  if (end - at < PLATEAU_POINTS) return 1;
  const outside = value * (1 - PLATEAU_EDGE);
  const falls = (near: number, far: number) => Math.min(values[near] ?? 0, values[far] ?? 0) <= outside;
  const isCoarse = [at - 1, end].every((i) => Number((values[i] ?? 0).toPrecision(COARSE_DIGITS)) === (values[i] ?? 0));
  return falls(at - 1, at - 2) && falls(end, end + 1) && !isCoarse ? end - at : 1;
}

/**
 * Peaks that vote stand far above what a unit of mass without ions shows: ten times its swing, from the quieter quarter
 * of the units. Where every unit holds a peak that would silence all of them: a tenth of the largest always votes.
 */
function votingThreshold(count: number, largest: number): number {
  if (count === 0) return 0;
  const rank = Math.floor(QUIET_SHARE * (count - 1));
  const quiet = selectInPlace(highsToSort, count, rank);
  const level = selectInPlace(lowsToSort, count, rank);
  return Math.min(quiet + VOTING_SWINGS * (quiet - level), level + VOTING_SHARE * (largest - level));
}

/** Position of the apex of a Gaussian through three points around `at`, in points from `at`; at most ± the spacing. */
export function apexShift({ perUnit, values }: Profile, at: number): number {
  const step = parabolaStep(perUnit);
  const left = values[at - step]!;
  const middle = values[at]!;
  const right = values[at + step]!;
  if (!(left > 0 && middle > 0 && right > 0)) return 0;
  const a = Math.log(left / middle);
  const b = Math.log(right / middle);
  const curvature = a + b;
  if (!(curvature < 0)) return 0;
  return Math.max(-step, Math.min(step, (0.5 * step * (a - b)) / curvature));
}

/** Height above `level` of the Gaussian through three points around a highest point. NaN: no peak there. */
export function apexHeight({ perUnit, values }: Profile, at: number, level: number): number {
  const step = parabolaStep(perUnit);
  const middle = values[at]! - level;
  const left = values[at - step]! - level;
  const right = values[at + step]! - level;
  if (!(middle > 0)) return Number.NaN;
  if (!(left > 0 && right > 0)) return middle;
  const a = Math.log(left / middle);
  const b = Math.log(right / middle);
  if (!(a + b < 0)) return middle;
  const shift = Math.max(-1, Math.min(1, (0.5 * (a - b)) / (a + b)));
  const rise = 0.5 * shift * (b - a) + 0.5 * shift * shift * (a + b);
  // The highest point is at most half a point from the apex; beside the edge of a flat top the parabola says more.
  const most = -0.5 * (a + b) * (0.5 / step) ** 2;
  return middle * Math.exp(Math.min(rise, most));
}

export const parabolaStep = (perUnit: number): number => Math.max(1, Math.round(PARABOLA_U * perUnit));

/** More peaks than this would not place the scale better, and their pairs grow with the square. */
export const VOTES = 12;

/** The strongest, ordered by mass as they came. */
export function strongest(peaks: readonly StrongPeak[], count = VOTES): readonly StrongPeak[] {
  if (peaks.length <= count) return peaks;
  makeRoom(peaks.length);
  for (let k = 0; k < peaks.length; k++) highsToSort[k] = peaks[k]!.value;
  const least = selectInPlace(highsToSort, peaks.length, peaks.length - count);
  const kept: StrongPeak[] = [];
  for (const peak of peaks) if (peak.value >= least) kept.push(peak);
  return kept;
}
