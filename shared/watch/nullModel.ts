/**
 * How the spectrum may differ from its reference when nothing has happened.
 *
 *   Σ = D + Σ_k (w_k u_k)(w_k u_k)ᵀ
 *
 * D: noise of a scan, repeatability of a peak, and what a gas's own ratios move when it moves. The columns: every gas
 * of the background breathing in its own pattern; all of them together (pumping); all of them by their temperature
 * slopes; the sensitivity of the analyser, which the gauge does not share; its zero; the tail that stood out when settling began;
 * and every condition that an open alert already stands for, so that one fault is called once.
 */
import { totalOf, typed } from './channels.ts';
import { detectorError } from './detectorBook.ts';
import type { Baseline, Memory, OwnGas, Standing, Vector } from './memory.ts';
import { meanShareOf } from './onDelay.ts';
import { BACKGROUND, backgroundPatterns, relativeAt } from './ownGases.ts';
import {
  DAY,
  GAIN_DRIFT_PER_MONTH,
  GAIN_WOBBLE,
  OWN_PATTERN_WOBBLE,
  PATTERN_ERROR,
  RELATIVE_FLOOR,
  SETTLE,
  UNEXPLAINED_KELVIN,
} from './parameters.ts';
import { isLetIn } from './processGas.ts';
import type { Reference } from './reference.ts';
import { makeRows, scaledBy } from './rows.ts';
import { tailCaps } from './settling.ts';
import { commonWobble, wobbleOf } from './wobble.ts';
import { zeroWander } from './zeroWander.ts';

export type Lane = 'scan' | 'mean' | 'day';

/** Variance of each lane's average against that of one scan; the factor 1.5 is for the median of three inside it. */
export function noiseFactor(lane: Lane, periodSeconds: number | null): number {
  if (lane !== 'mean') return lane === 'scan' ? 1 : 0.03;
  const share = meanShareOf(periodSeconds);
  return (1.5 * share) / (2 - share);
}
/** Efficiency of the median that made the first baseline: π/2. */
const BASELINE_NOISE = 1.57;
/** A gas that the state lets in is not watched there. */
const FREE = 2;
/** From here on a fall is a fall and not a wobble; its direction is then free up to twice of it. */
const FALL_SIGMAS = 1.5;
const FALL_ROOM = 2;
/** The gauge repeats within 2 % and drifts over weeks. */
const GAUGE = { scan: 0.02, average: 0.011, day: 0.06, settling: 0.1 } as const;
/** No analyser tells less than this share of everything in one scan; those that send zeros would seem to (our choice). */
const LEAST_RESOLVED = 1e-7;
/** m/z 1 carries the foot of the mass filter. */
const FOOT_ERROR = 0.2;
/** An open alert may grow: its direction is free up to this multiple of what it is now. */
const STANDING_ROOM = 5;
const NOTHING = 1e60;

export interface NullModel {
  readonly variance: Float64Array;
  /** Already multiplied by their weights. */
  readonly columns: Float64Array[];
  /** The first so many columns are the gases of the background, with these weights. */
  readonly gases: number;
  readonly weights: readonly number[];
}

export interface NullInput {
  readonly memory: Memory;
  readonly baseline: Baseline;
  readonly reference: Reference;
  readonly lane: Lane;
  readonly atMs: number;
  /**
   * The change that is judged: a gas which has fallen is free to have done so. Less of a gas is no news, and held
   * against its small wobble it would push other gases up to make good for it. Left out where a fall is the question.
   */
  readonly change?: Float64Array;
  /** The same, per gas of `spectra` and already measured: relative, 0 for none. */
  readonly falls?: readonly number[];
}

export function nullModel(input: NullInput): NullModel {
  const { memory, baseline, reference, lane } = input;
  const { spectrum, lifted, spectra } = reference;
  const n = spectrum.length;
  const row = makeRows(n);
  const scale = row().fill(1);
  if (lifted) {
    for (let m = 0; m < n; m++) {
      if (lifted[m] && baseline.mean[m]! > 0) scale[m] = Math.min(1e4, spectrum[m]! / baseline.mean[m]!);
    }
  }
  const columns: Float64Array[] = [];
  const weights: number[] = [];
  const [breathing, together, thermal] = [row(), row(), row()];
  let total = 0;
  for (const { own } of spectra) total += own.pressurePa;
  for (const ownSpectrum of spectra) {
    const { own, channels } = ownSpectrum;
    const fall = input.falls?.[weights.length] ?? (input.change ? -relativeAt(ownSpectrum, input.change, baseline) : 0);
    const usual = weightOf(own, input, total);
    const weight = fall > FALL_SIGMAS * usual ? FALL_ROOM * fall : usual;
    const column = row();
    for (let m = 0; m < n; m++) {
      const u = channels[m]! * scale[m]!;
      if (u === 0) continue;
      column[m] = weight * u;
      breathing[m]! += (weight * u) ** 2;
      together[m]! += u;
      thermal[m]! += u * own.slope;
    }
    columns.push(column);
    weights.push(weight);
  }
  const kelvin =
    (memory.temperatureC === null ? UNEXPLAINED_KELVIN.untold : UNEXPLAINED_KELVIN.told) * (lane === 'day' ? 0.3 : 1);
  scaleInPlace(together, commonWobble(baseline));
  scaleInPlace(thermal, kelvin);
  columns.push(together, thermal, gainColumn(input, row()), zeroWander(baseline, row()));
  const variance = diagonal(input, breathing);
  addTail(input, columns);
  for (const standing of memory.standing) addStanding(standing, input, variance, columns);
  return { variance, columns, gases: weights.length, weights };
}

function scaleInPlace(column: Float64Array, factor: number): void {
  for (let m = 0; m < column.length; m++) column[m]! *= factor;
}

function weightOf(own: OwnGas, { memory, lane, reference }: NullInput, total: number): number {
  const { state } = memory;
  if (isLetIn(own, memory, total)) return FREE;
  const wobble = wobbleOf(own, state);
  const weight = lane === 'day' ? Math.sqrt(0.35 * wobble ** 2 + 0.015 ** 2) : wobble;
  if (!reference.lifted?.[own.marker]) return weight;
  // The tail is less sure than what it ends in: a small rest of it does not make the whole gas unsure.
  const tailShare = Math.min(1, (2 * (reference.doubt?.[own.marker] ?? 0)) / reference.spectrum[own.marker]!);
  return Math.max(weight, SETTLE.wobble * tailShare);
}

function gainColumn({ baseline, reference, lane, atMs }: NullInput, column: Float64Array): Float64Array {
  const months = baseline.pinned ? (atMs - baseline.pinned.atMs) / (30 * DAY * 1000) : 0;
  // Shares of a sum: whatever rises, the rest falls.
  const weight = baseline.scaled ? GAIN_WOBBLE + (lane === 'day' ? GAIN_DRIFT_PER_MONTH * months : 0) : FREE;
  for (let m = 1; m < column.length; m++) column[m] = reference.spectrum[m]! * weight;
  return column;
}

/** What reads wrong by a factor is no witness for or against a gas. */
const isGaugeWrong = ({ standing }: Memory): boolean =>
  standing.some(({ cause, signature }) => signature === 'impossible-pressure' || cause === 'gauge-up');

function diagonal({ memory, baseline, reference, lane }: NullInput, breathing: Float64Array): Float64Array {
  const { spectrum, lifted } = reference;
  const { variance: noise, mean, scans, masses, hasGauge } = baseline;
  const n = spectrum.length;
  const factor = noiseFactor(lane, memory.periodSeconds) + BASELINE_NOISE / Math.max(scans, 1);
  const out = new Float64Array(n);
  const least = (LEAST_RESOLVED * totalOf(spectrum)) ** 2;
  const relative = RELATIVE_FLOOR ** 2 + detectorError(baseline) ** 2;
  for (let m = 1; m < n; m++) {
    let v = least + noise[m]! * factor + relative * spectrum[m]! ** 2 + OWN_PATTERN_WOBBLE ** 2 * breathing[m]!;
    if (lifted?.[m]) {
      // Shot noise grows with the height, and the envelope is known to a few per cent.
      v += (0.05 * spectrum[m]!) ** 2 + noise[m]! * factor * Math.max(0, spectrum[m]! / Math.max(mean[m]!, 1e-300) - 1);
      if (lifted[m] === 2) v += (0.5 * (spectrum[m]! - mean[m]!)) ** 2;
    }
    if (masses[m - 1] === 1) v = Math.max(v, (FOOT_ERROR * spectrum[m]!) ** 2);
    out[m] = v;
  }
  out[0] = NOTHING;
  if (hasGauge && spectrum[0]! > 0 && !isGaugeWrong(memory)) {
    const gauge = spectrum[0]!;
    out[0] = ((lane === 'scan' ? GAUGE.scan : GAUGE.average) * gauge) ** 2 + noise[0]! * factor;
    if (lane === 'day') out[0] += (GAUGE.day * gauge) ** 2;
    if (lifted?.[0]) out[0] += (GAUGE.settling * gauge) ** 2;
  }
  return out;
}

function addTail({ memory, lane, atMs }: NullInput, columns: Float64Array[]): void {
  const { settling } = memory;
  if (!settling || lane === 'day' || !settling.direction.some((value) => value > 0)) return;
  const caps = tailCaps(settling, atMs, () => null);
  columns.push(caps.map((cap, m) => cap * settling.direction[m]!));
}

/** What air brings along: oxygen that was eaten comes back as oxides of carbon, and the air of a room is moist. */
const AIR_COMPANIONS: Readonly<Record<string, number>> = { CO: 0.2, CO2: 0.1, H2O: 0.1 };

function companions({ masses }: Baseline, size: number): Float64Array[] {
  const patterns = backgroundPatterns(masses);
  return BACKGROUND.flatMap((gas, g) => {
    const share = AIR_COMPANIONS[gas];
    return share === undefined ? [] : [scaledBy(patterns[g]!, share * size)];
  });
}

/** Vapours crack on hot cathodes and no two oils are alike: small peaks beside the large ones belong to them. */
export const VAPOUR_SIGNATURES: ReadonlySet<string> = new Set([
  'hydrocarbon-oil',
  'perfluoropolyether',
  'silicone',
  'solvent',
]);
const COMPANY_SHARE = 0.05;
const LEAST_COMPANY_MASS = 12;

const tallest = (shape: Vector): number => Math.max(0, ...shape.slice(1).map(Math.abs));

/** Amplitude now against that of the spectrum which was kept when it was raised. */
export const grownBy = ({ amplitude, observedAmplitude }: Standing): number =>
  observedAmplitude > 0 ? Math.max(0, amplitude) / observedAmplitude : 1;

/** Instrument causes move every peak, also those that the baseline does not show. */
const MOVES_ALL = new Set(['pumping', 'gain-up', 'gain-down', 'mass-shift', 'outgassing']);

function addStanding(
  standing: Standing,
  { baseline, reference }: NullInput,
  variance: Float64Array,
  columns: Float64Array[],
) {
  const { direction, observed, amplitude, cause } = standing;
  const n = variance.length;
  if (!direction || direction.length !== n) return;
  const size = Math.abs(amplitude);
  const grown = grownBy(standing);
  if (cause === 'air') columns.push(...companions(baseline, size));
  // Averages hold it as it was: free up to its peak.
  columns.push(scaledBy(typed(direction), STANDING_ROOM * Math.max(size, standing.peakAmplitude)));
  // What the fault really looks like on this instrument, as it was seen when it was raised.
  if (observed) columns.push(scaledBy(typed(observed), STANDING_ROOM * Math.max(1, grown)));
  const company = VAPOUR_SIGNATURES.has(standing.signature)
    ? COMPANY_SHARE * grown * tallest(observed ?? direction)
    : 0;
  for (let m = 0; m < n; m++) {
    if (m > 0 && baseline.masses[m - 1]! >= LEAST_COMPANY_MASS) variance[m]! += company ** 2;
    // Heavy molecules: the gauge's factor for them is a guess.
    const error = m === 0 ? 2 * PATTERN_ERROR : PATTERN_ERROR;
    const height = Math.max(size * Math.abs(direction[m]!), grown * Math.abs(observed?.[m] ?? 0));
    variance[m]! += (error * height) ** 2;
    if (m === 0 || !MOVES_ALL.has(cause)) continue;
    const usual = Math.abs(reference.spectrum[m]!);
    const sigma = Math.sqrt(baseline.variance[m]!);
    if (Math.abs(direction[m]!) < 0.5 * usual || usual < 4 * sigma) variance[m]! += (size * (usual + 2 * sigma)) ** 2;
  }
}
