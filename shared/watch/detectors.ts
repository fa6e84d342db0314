/**
 * Two detectors on one chamber: a Faraday cup and a multiplier. What is usual is of the chamber and goes on when the
 * detector is switched; what belongs to a detector is kept with it: its noise, the gain its currents were divided by,
 * and its trim, by which it reads other than the baseline.
 *
 * A gain that was measured from a pair of scans needs no trim. One that is only on record may be wrong by tens of per cent:
 * the spectrum then steps as a whole at the switch while the gauge stands still. That step is the multiplier's; it is
 * taken off here (so that the chamber is judged as before) and told as what it is (gainStep.ts).
 */
import type { Measurement, PeakList } from '../analysis/types.ts';
import { totalOf, typed } from './channels.ts';
import { commonStep } from './commonStep.ts';
import { newBook, trimmed } from './detectorBook.ts';
import type { DetectorBook, GainSeen } from './instrumentMemory.ts';
import { lastSpectrum } from './lastSpectrum.ts';
import type { Baseline, Memory } from './memory.ts';
import type { Note } from './relearn.ts';
import { rescaleBaseline, rescaleCurrent, rescaleKappa } from './rescale.ts';
import type { WatchContext, WatchInput } from './types.ts';
import { number } from './wording.ts';

/** The scan's own estimate of its noise may be short by this; the scans after it tell better. */
const NOISE_WIDENING = 2;
/** Beyond this the peaks did not move together: no scale. */
const MOST_SPREAD = 0.2;
/** With a gain from a pair a little step is the dependence of the gain on the ion, a larger one is the chamber. */
const PAIR_STEP = 0.05;
/** A change of the gain in use that is worth a look, and one worth a note. */
const GAIN_CHANGED = 0.01;
const GAIN_SAID = 0.05;
const CALIBRATION_MASS = 28;

export interface DetectorStep {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
  readonly notes: Note[];
  readonly baseline: Baseline;
  /** As the detector shows it; channel 0 the gauge. */
  readonly q: Float64Array;
}

/** The spectrum on the scale of the baseline, and what a switch has shown. */
export function onDetector(step: DetectorStep): { q: Float64Array; seen: GainSeen | null } {
  const { baseline, input } = step;
  const detector = input.scan.detector ?? baseline.inUse;
  if (detector === null) return { q: step.q, seen: null };
  const gain = gainOf(step, detector);
  const switched = baseline.inUse !== null && detector !== baseline.inUse;
  const seen = switched ? switchTo(detector, step, gain) : null;
  if (!switched) followGain(detector, step, gain);
  const book = baseline.detectors[detector] ?? newBook();
  baseline.detectors[detector] = {
    ...book,
    variance: null,
    gain: gain.value ?? book.gain,
    measured: gain.from === 'pair',
    scans: book.scans + 1,
  };
  return { q: trimmed(step.q, book.trim), seen };
}

interface Gain {
  readonly value: number | null;
  readonly from: 'pair' | 'record';
  readonly uncertainty: number;
}

export function gainOf({ input, context }: DetectorStep, detector: string): Gain {
  const measured: Measurement['gain'] = input.analysis.measurement?.gain ?? null;
  if (measured) return measured;
  const value = detector === 'multiplier' ? context.calibration.multiplierGain : null;
  return { value, from: 'record', uncertainty: 0 };
}

/** Null: nothing could be measured at this switch. */
function switchTo(detector: string, step: DetectorStep, gain: Gain): GainSeen | null {
  const { memory, baseline, input, q } = step;
  const left = baseline.inUse!;
  const before = lastSpectrum(memory, baseline, input.scan.atMs);
  // Shares, and what is scaled to the gauge, know no gain.
  const absolute = baseline.scaled && memory.instrument.scale?.kind !== 'shares';
  const found = before && absolute ? commonStep(before, q, baseline) : null;
  const book = baseline.detectors[detector] ?? newBook();
  const leftBook = baseline.detectors[left] ?? newBook();
  baseline.detectors[left] = { ...leftBook, variance: baseline.variance };
  baseline.variance = book.variance ?? noiseAtFirst(step);
  baseline.inUse = detector;
  const own = memory.instrument.aside?.detector === detector ? memory.instrument.aside.lastTwo.at(-1) : undefined;
  exchangeLast(memory, left, detector, input.scan.atMs);
  const moved = gainFactor(book, gain);
  if (moved !== 1 && absolute && own?.length === q.length) {
    // Against its own last scan: the other detector may be too noisy to say what the step between them was.
    const since = commonStep(own, trimmed(q, book.trim), baseline);
    if (since !== null && isNearer(since.factor, moved)) {
      baseline.detectors[detector] = book;
      carryGain(detector, step, { factor: moved, gain, book });
      return null;
    }
  }
  const gauge = before ? gaugeStep(before[0]!, q[0]!) : null;
  if (found === null || found.spread > MOST_SPREAD || 2 * found.alike < found.peaks)
    return keep(baseline, detector, book);
  if (gauge !== null && isOfChamber(found.factor, gauge, totalOf(q) / totalOf(typed(before!))))
    return keep(baseline, detector, book);
  if (moved !== 1 && isNearer(found.factor / book.trim, moved)) {
    baseline.detectors[detector] = book;
    carryGain(detector, step, { factor: moved, gain, book });
    return null;
  }
  const trim = found.factor;
  const up = detector === 'multiplier';
  const measured = up ? gain.from === 'pair' : leftBook.measured;
  const away = Math.abs(Math.log(trim / book.trim));
  if (measured && away > PAIR_STEP + 2 * gain.uncertainty) return keep(baseline, detector, book);
  baseline.detectors[detector] = { ...book, trim };
  if (measured) return null;
  const ratio = up ? trim / leftBook.trim : leftBook.trim / trim;
  const { peaks, alike } = found;
  return { ratio, peaks, alike, gauge, gainOnRecord: up ? gain.value : leftBook.gain };
}

function keep(baseline: Baseline, detector: string, book: DetectorBook): null {
  baseline.detectors[detector] = book;
  return null;
}

/** The sum of the spectrum has moved with the gauge: what the peaks share is a pump, not a gain. */
const isOfChamber = (factor: number, gauge: number, sum: number): boolean =>
  Math.abs(Math.log(factor)) > PAIR_STEP && 2 * Math.abs(Math.log(sum / gauge)) < Math.abs(Math.log(factor));

/** Null where one of the two is missing. */
function gaugeStep(before: number, after: number): number | null {
  return before > 0 && after > 0 ? after / before : null;
}

/** Scatter is judged between scans of one detector. */
function exchangeLast(memory: Memory, left: string, detector: string, atMs: number): void {
  const { aside } = memory.instrument;
  const { lastTwo } = memory.quality;
  const longest = 6000 * (memory.periodSeconds ?? 60);
  const known = aside?.detector === detector && atMs - aside.atMs < longest ? aside.lastTwo : [];
  memory.instrument.aside = { detector: left, lastTwo, atMs: memory.lastAtMs ?? atMs };
  memory.quality = { ...memory.quality, lastTwo: known, scatter: 1, noisy: 0, topRepeats: 0 };
}

/** What the scan says of its own noise, until there are scans to compare. */
function noiseAtFirst({ baseline, input, context, q }: DetectorStep): number[] {
  const { readNoisePa, shotPa }: PeakList = input.peaks;
  const { unit } = input.scan;
  const exponent = unit === 'A' || unit === '1' ? context.calibration.transmissionExponent : 0;
  return baseline.variance.map((known, m) => {
    if (m === 0) return known;
    const perHeight = (baseline.masses[m - 1]! / CALIBRATION_MASS) ** exponent;
    const height = Math.max(baseline.mean[m]!, Number.isFinite(q[m]!) ? q[m]! : 0, 0);
    return NOISE_WIDENING * ((readNoisePa * perHeight) ** 2 + shotPa * perHeight * height) + 1e-60;
  });
}

/**
 * The gain by which the currents are divided has changed: measured anew, or another one on record. If the heights have
 * moved with it, the old ones were wrong by that factor, and what is usual is carried over; if they have not, the
 * gain itself had changed and is now followed.
 */
function followGain(detector: string, step: DetectorStep, gain: Gain): void {
  const { memory, baseline, input, q } = step;
  const book = baseline.detectors[detector];
  const factor = book ? gainFactor(book, gain) : 1;
  if (!book || factor === 1) return;
  const before = lastSpectrum(memory, baseline, input.scan.atMs);
  const seen = before && commonStep(before, trimmed(q, book.trim), baseline);
  if (seen ? isNearer(seen.factor, factor) : gain.from === 'record') carryGain(detector, step, { factor, gain, book });
}

/** By which the heights move if the currents have not; 1: no other gain. */
export function gainFactor(book: DetectorBook, gain: Gain): number {
  const factor = book.gain && gain.value ? book.gain / gain.value : 1;
  return Math.abs(Math.log(factor)) < GAIN_CHANGED ? 1 : factor;
}

export const isNearer = (seen: number, factor: number): boolean =>
  Math.abs(Math.log(seen / factor)) < Math.abs(Math.log(seen));

interface Carried {
  readonly factor: number;
  readonly gain: Gain;
  readonly book: DetectorBook;
}

function carryGain(detector: string, { memory, baseline, notes }: DetectorStep, { factor, gain, book }: Carried): void {
  rescaleBaseline(baseline, () => factor);
  rescaleCurrent(memory, baseline.masses, () => factor);
  memory.estimates = [];
  // κ is of the chamber at rest; other states come to their own baseline later.
  if (memory.state === 'base') rescaleKappa(memory, 1 / factor);
  for (const [other, entry] of Object.entries(baseline.detectors)) {
    if (other !== detector) baseline.detectors[other] = { ...entry, trim: entry.trim / factor };
  }
  if (Math.abs(Math.log(factor)) < GAIN_SAID) return;
  notes.push({
    code: 'baseline-carried',
    text: `The gain of the multiplier is now taken as ${number(gain.value!)} instead of ${number(book.gain!)}: what is usual was carried over.`,
  });
}
