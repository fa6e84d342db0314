import type { AnalysisScan, InstrumentMemory } from '../types.ts';
import type { AllanMemory } from './allan.ts';
import type { GainMemory } from './gain.ts';
import type { KappaMemory } from './kappa.ts';
import type { LookAlikeMemory } from './lookAlikes.ts';
import type { NoiseMemory } from './noise.ts';
import type { ScaleMemory } from './scale.ts';
import type { SteadyMemory } from './steady.ts';
import type { TopMemory } from './top.ts';

/**
 * What is kept of an analyser between scans: plain JSON with finite numbers only, some kilobytes, never changed in place.
 * Everything in it runs on the times of the scans: the same scans give the same memory, whenever they arrive.
 */
export interface Memory {
  readonly format: typeof FORMAT;
  /** One per detector and way of scanning, the latest first. */
  readonly settings: readonly SettingMemory[];
  readonly gain: GainMemory | null;
  readonly scale: ScaleMemory | null;
  readonly kappa: KappaMemory | null;
  /** The calibration with which `kappa` and `lookAlikes` were learned: with another they would mean something else. */
  readonly calibration: string | null;
  readonly allan: AllanMemory | null;
  readonly lookAlikes: LookAlikeMemory;
}

/** What belongs to one detector with one time per mass and one list of masses. */
export interface SettingMemory {
  readonly key: string;
  readonly atMs: number;
  /** Usual time from scan to scan; null: one scan so far. */
  readonly periodMs: number | null;
  readonly misfits: number;
  readonly state: string;
  /** N2-equivalent Pa at m/z 28 per unit of the scan, as of the last one; null: no scale. */
  readonly paPerUnit: number | null;
  readonly noise: NoiseMemory;
  readonly steady: SteadyMemory;
  readonly top: TopMemory;
}

/** Changes whenever the meaning of anything above does: an older memory is then begun anew. */
const FORMAT = 1;
/** Two detectors, each with full scans and a list of selected masses. */
export const SETTINGS_KEPT = 4;
/** Scans farther apart than this many periods do not follow each other. */
export const GAP_PERIODS = 3;

export const NO_LOOK_ALIKES: LookAlikeMemory = { scans: 0, pairs: [] };

const EMPTY: Memory = {
  format: FORMAT,
  settings: [],
  gain: null,
  scale: null,
  kappa: null,
  calibration: null,
  allan: null,
  lookAlikes: NO_LOOK_ALIKES,
};

/** A memory of another format, or none, is an empty one. */
export const readMemory = (memory: InstrumentMemory | null): Memory =>
  memory !== null && memory.format === FORMAT ? (memory as unknown as Memory) : EMPTY;

/** Two scans of one key have the same noise, if the analyser has. */
export function settingKey({ detector, unit, seconds, averages, masses, values }: AnalysisScan): string {
  const grid =
    'perUnit' in masses
      ? `${masses.first}:${masses.perUnit}:${values.length}`
      : `${masses.length}:${fingerprint(masses)}`;
  return `${detector ?? ''} ${unit} ${seconds}x${averages} ${grid}`;
}

/** FNV-1a over the list of masses in hundredths of a unit. */
function fingerprint(masses: readonly number[]): string {
  let hash = 0x811c9dc5;
  for (const mass of masses) hash = Math.imul(hash ^ Math.round(mass * 100), 0x01000193);
  return (hash >>> 0).toString(36);
}

export function settingOf(settings: readonly SettingMemory[], scan: AnalysisScan): SettingMemory | null {
  const key = settingKey(scan);
  return settings.find((setting) => setting.key === key) ?? null;
}

/** Does the scan follow the last one of its setting without a gap and in the same state? */
export const follows = (setting: SettingMemory | null, scan: AnalysisScan): boolean =>
  setting !== null &&
  setting.state === scan.state &&
  (setting.periodMs === null || scan.atMs - setting.atMs <= GAP_PERIODS * setting.periodMs);

/** Powers of ten that are exact: a quotient of exact numbers prints as short as it is meant. */
const POWERS = Float64Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));

/** A number with so many significant digits: short in JSON. */
export function short(value: number, digits = 5): number {
  if (value === 0 || !Number.isFinite(value)) return 0;
  const power = digits - 1 - Math.floor(Math.log10(Math.abs(value)));
  const scale = POWERS[power];
  return scale === undefined ? Number(value.toPrecision(digits)) : Math.round(value * scale) / scale;
}
