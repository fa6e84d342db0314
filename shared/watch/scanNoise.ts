/**
 * Noise goes with the time that a scan was measured: counting and read noise fall with its root, so a scan of one second
 * has 5.5 times the noise of one of thirty. What is usual of a chamber is one spectrum; its noise is kept per measuring
 * time (seconds × averages) and per detector. A time that is new is expected from one that is known,
 *
 *   σ²(t) = σ²(t₀) · t₀/t  for a shorter one,  σ²(t₀) for a longer one (what does not average away stays),
 *
 * never below what the scan says of its own read noise, and learned from there within some twenty scans. The gauge reads
 * for itself: its noise stays.
 */
import type { PeakList } from '../analysis/types.ts';
import type { Baseline, Vector } from './memory.ts';
import { DAY, HOUR } from './parameters.ts';
import type { WatchInput } from './types.ts';

export interface NoiseSetting {
  /** seconds × averages. */
  readonly seconds: number;
  /** Null: it is the one in use, and the baseline holds its variance. */
  readonly variance: Vector | null;
  readonly scans: number;
  /** Time for which it was in use lately. */
  readonly heldSeconds: number;
}

/** Per detector ('' where none is told). Plain JSON; replaced, never changed. */
export interface NoiseBook {
  readonly [detector: string]: { readonly inUse: number; readonly settings: readonly NoiseSetting[] };
}

/** Times within a quarter of each other are one: their noise differs by an eighth. */
const SAME_TIME = 1.25;
const MOST_SETTINGS = 6;
/** Which time is the usual one is told from about the last day. */
const HELD_MEMORY_SECONDS = DAY;
/** What was learned without a book counts as learned. */
const LEARNED_SCANS = 100;
/** Until then its noise is expected, not known: it cannot have grown. */
const NEW_SCANS = 20;
/** A scan of less than half of the usual time tells more of noise than of the chamber. */
const HASTY_SHARE = 0.5;
/** Variance of the scan's own read noise that is taken as a floor; its estimate may be high. */
const READ_NOISE_SHARE = 0.5;

const keyOf = ({ inUse }: Baseline): string => inUse ?? '';
const isSame = (a: number, b: number): boolean => a <= SAME_TIME * b && b <= SAME_TIME * a;
const entryOf = (baseline: Baseline) => baseline.noise?.[keyOf(baseline)];

/** For a variance that was learned at this measuring time. */
export const noiseBookOf = (detector: string | null, seconds: number): NoiseBook => ({
  [detector ?? '']: {
    inUse: seconds,
    settings: [{ seconds, variance: null, scans: LEARNED_SCANS, heldSeconds: 0 }],
  },
});

/** Makes the baseline's variance that of this scan's measuring time. After the detector is known. */
export function followSetting(baseline: Baseline, { scan, peaks }: WatchInput, gapSeconds: number): void {
  const seconds = scan.seconds * scan.averages;
  if (!(seconds > 0 && Number.isFinite(seconds))) return;
  const key = keyOf(baseline);
  const entry = entryOf(baseline) ?? noiseBookOf(key, seconds)[key]!;
  const inUse = entry.settings.find((setting) => setting.seconds === entry.inUse)!;
  const known = isSame(inUse.seconds, seconds)
    ? inUse
    : entry.settings.find((setting) => isSame(setting.seconds, seconds));
  const now = known ?? {
    seconds,
    variance: expected(baseline, entry.settings, seconds, peaks),
    scans: 0,
    heldSeconds: 0,
  };
  const left = baseline.variance;
  if (now !== inUse && now.variance) baseline.variance = now.variance;
  const held = Math.min(gapSeconds, HOUR);
  const keep = Math.exp(-held / HELD_MEMORY_SECONDS);
  const next = { ...now, variance: null, scans: now.scans + 1, heldSeconds: now.heldSeconds * keep + held };
  // Most analysers measure all their scans alike.
  const isAlone = known !== undefined && entry.settings.length === 1;
  const settings = isAlone ? [next] : [next, ...othersThan(now, entry.settings, { inUse, left, keep })];
  baseline.noise = { ...baseline.noise, [key]: { inUse: now.seconds, settings } };
}

interface Left {
  /** That was in use until now, and its variance. */
  readonly inUse: NoiseSetting;
  readonly left: Vector;
  readonly keep: number;
}

function othersThan(now: NoiseSetting, settings: readonly NoiseSetting[], { inUse, left, keep }: Left): NoiseSetting[] {
  return settings
    .filter((setting) => setting !== now)
    .map((setting) => ({
      ...setting,
      variance: setting === inUse ? left : setting.variance,
      heldSeconds: setting.heldSeconds * keep,
    }))
    .sort((a, b) => b.heldSeconds - a.heldSeconds)
    .slice(0, MOST_SETTINGS - 1);
}

/** While the first scans are gathered: which measuring time most of them have. */
export function noteFirst(baseline: Baseline, { scan }: WatchInput): void {
  const seconds = scan.seconds * scan.averages;
  const key = keyOf(baseline);
  const settings = entryOf(baseline)?.settings ?? [];
  const known = settings.find((setting) => isSame(setting.seconds, seconds));
  const next = { seconds: known?.seconds ?? seconds, variance: null, scans: (known?.scans ?? 0) + 1, heldSeconds: 0 };
  const all = [next, ...settings.filter((setting) => setting !== known)].sort((a, b) => b.scans - a.scans);
  baseline.noise = { [key]: { inUse: all[0]!.seconds, settings: all } };
}

/** The first noise was learned: a median over the first scans is of the time that most of them have. */
export function startNoise(baseline: Baseline): void {
  const seconds = secondsInUse(baseline);
  delete baseline.noise;
  if (seconds !== null && seconds > 0) baseline.noise = noiseBookOf(baseline.inUse, seconds);
}

/** From the next longer time that is known, else from the longest of the shorter ones. */
function expected(baseline: Baseline, settings: readonly NoiseSetting[], seconds: number, peaks: PeakList): Vector {
  const byTime = [...settings].sort((a, b) => a.seconds - b.seconds);
  const from = byTime.find((setting) => setting.seconds >= seconds) ?? byTime.at(-1)!;
  const factor = Math.max(1, from.seconds / seconds);
  const floor = READ_NOISE_SHARE * peaks.readNoisePa ** 2;
  const known = from.variance ?? baseline.variance;
  return known.map((value, m) => (m === 0 ? value : Math.max(value * factor, Number.isFinite(floor) ? floor : 0)));
}

/** Measuring time of the scan that the variance is of; null: not known. */
export const secondsInUse = (baseline: Baseline): number | null => entryOf(baseline)?.inUse ?? null;

/** More than one measuring time is known with the detector in use. */
export const hasSettings = (baseline: Baseline): boolean => (entryOf(baseline)?.settings.length ?? 0) > 1;

/** The noise of a scan of that measuring time; as now where it is not known. */
export function varianceAt(baseline: Baseline, seconds: number | undefined): Vector {
  const found = entryOf(baseline)?.settings.find((setting) => setting.seconds === seconds);
  return found?.variance ?? baseline.variance;
}

function usualOf(baseline: Baseline): NoiseSetting | null {
  let most: NoiseSetting | null = null;
  for (const setting of entryOf(baseline)?.settings ?? [])
    if (most === null || setting.heldSeconds > most.heldSeconds) most = setting;
  return most;
}

/** Measured much shorter than usual: nothing but noise is learned from such a scan. */
export function isHasty(baseline: Baseline): boolean {
  const usual = usualOf(baseline);
  return usual !== null && secondsInUse(baseline)! < HASTY_SHARE * usual.seconds;
}

/** The noise of this measuring time is still an expectation. */
export const isNewSetting = (baseline: Baseline): boolean => settingScans(baseline) < NEW_SCANS;

/** Scans of the measuring time in use; many where its noise was learned with the baseline. */
export function settingScans(baseline: Baseline): number {
  const entry = entryOf(baseline);
  return entry?.settings.find(({ seconds }) => seconds === entry.inUse)?.scans ?? LEARNED_SCANS;
}

/** Variance of a scan of this measuring time over that of the usual one: geometric mean over the masses. */
export function noiseLevel(baseline: Baseline): number {
  const usual = hasSettings(baseline) ? usualOf(baseline)?.variance : null;
  if (!usual) return 1;
  let sum = 0;
  for (let m = 1; m < usual.length; m++) sum += Math.log(baseline.variance[m]! / usual[m]!);
  return Math.exp(sum / Math.max(1, usual.length - 1));
}

/** On another scale of the heights. */
export function rescaledNoise(
  book: NoiseBook | undefined,
  rescale: (variance: Vector) => Vector,
): NoiseBook | undefined {
  if (!book) return undefined;
  return Object.fromEntries(
    Object.entries(book).map(([detector, { inUse, settings }]) => [
      detector,
      {
        inUse,
        settings: settings.map((setting) => ({ ...setting, variance: setting.variance && rescale(setting.variance) })),
      },
    ]),
  );
}

/** Noise in a running mean whose scans were not all measured alike, in scans of the usual time. */
export interface MeanNoise {
  readonly share: number;
  /** Weight that the mean holds with this scan. */
  readonly weight: number;
  /** Of the last scans, newest last: what enters the mean is the middle one of them. */
  readonly levels: readonly number[];
}

/** Σ (weights² × level) of an exponential mean; `before`: undefined where all were alike. */
export function meanNoise(before: number | undefined, { share, weight, levels }: MeanNoise): number {
  const weightBefore = Math.max(0, (weight - share) / (1 - share));
  const start = before ?? alike(share, weightBefore);
  return (1 - share) ** 2 * start + share ** 2 * Math.max(...levels);
}

/** The same where every scan is as the newest: how far its standard deviation is above that, at least 1. */
export function meanExcess(noise: number | undefined, { share, weight, levels }: MeanNoise): number {
  if (noise === undefined || weight <= 0) return 1;
  return Math.max(1, Math.sqrt(noise / (alike(share, weight) * levels.at(-1)!)));
}

const alike = (share: number, weight: number): number => (share / (2 - share)) * weight * (2 - weight);
