import type { ScanHeights } from '../heights.ts';
import type { AnalysisScan, Calibration, InstrumentMemory, ScanAnalysis } from '../types.ts';
import { learnAllan } from './allan.ts';
import { learnGain } from './gain.ts';
import { learnKappa } from './kappa.ts';
import { learnLookAlikes } from './lookAlikes.ts';
import {
  follows,
  type Memory,
  NO_LOOK_ALIKES,
  readMemory,
  SETTINGS_KEPT,
  type SettingMemory,
  settingKey,
  settingOf,
  short,
} from './memory.ts';
import { learnNoise, NO_NOISE } from './noise.ts';
import { learnScale } from './scale.ts';
import { learnSteady, NO_STEADY } from './steady.ts';
import { learnTop, NO_TOP } from './top.ts';

/** In these a valve may stand between analyser and gauge, or the gas is not the chamber's: κ says nothing of either. */
const APART_STATES: ReadonlySet<string> = new Set(['vented', 'roughing', 'leak-check', 'calibration', 'maintenance']);

export interface Learned {
  readonly scan: AnalysisScan;
  readonly calibration: Calibration;
  readonly heights: ScanHeights;
  readonly analysis: ScanAnalysis;
}

/**
 * The next memory; the one that is given stays as it was. A scan that is not newer than the last one of its setting
 * changes nothing, and neither does one without a mass.
 */
export function learn(memory: InstrumentMemory | null, learned: Learned): InstrumentMemory {
  const before = readMemory(memory);
  const { scan, calibration, heights, analysis } = learned;
  const setting = settingOf(before.settings, scan);
  if (heights.masses.length === 0 || !Number.isFinite(scan.atMs) || (setting !== null && scan.atMs <= setting.atMs)) {
    return before as unknown as InstrumentMemory;
  }
  const next = nextSetting(setting, learned);
  const isSameCalibration = before.calibration === calibration.version;
  const { masses, raw, rawNoise, measured } = heights;
  const seen = { scan, masses, heights: raw, sigma: rawNoise, leftOut: measured.leftOut };
  const after: Memory = {
    ...before,
    settings: [next, ...before.settings.filter((other) => other.key !== next.key)].slice(0, SETTINGS_KEPT),
    gain: learnGain(before.gain, seen, { calibration, periodMs: next.periodMs }),
    scale: learnScale(before.scale, measured.massScale, scan.atMs),
    kappa: learnKappa(
      isSameCalibration ? before.kappa : null,
      APART_STATES.has(scan.state) ? null : analysis.kappa,
      scan.atMs,
    ),
    calibration: calibration.version,
    allan: nextAllan(before.allan, next.key, learned),
    lookAlikes: learnLookAlikes(isSameCalibration ? before.lookAlikes : NO_LOOK_ALIKES, analysis),
  };
  return after as unknown as InstrumentMemory;
}

function nextSetting(setting: SettingMemory | null, { scan, heights, analysis }: Learned): SettingMemory {
  const { masses, raw, rawNoise, neighbourError, noiseVisible, measured } = heights;
  const sigmaPa = analysis.measurement?.readNoisePa ?? null;
  const successive = follows(setting, scan);
  const isSameState = setting !== null && setting.state === scan.state;
  const dropOuts = new Set(measured.leftOut.filter(({ why }) => why === 'drop-out').map(({ mass }) => mass));
  return {
    key: settingKey(scan),
    atMs: scan.atMs,
    ...nextPeriod(setting, scan.atMs),
    state: scan.state,
    paPerUnit: sigmaPa === null || !(rawNoise > 0) ? null : short(sigmaPa / rawNoise),
    noise: learnNoise(setting?.noise ?? NO_NOISE, {
      masses,
      heights: raw,
      sigma: rawNoise,
      visible: noiseVisible,
      successive,
    }),
    steady: learnSteady(isSameState ? setting.steady : NO_STEADY, {
      masses,
      heights: raw,
      sigma: rawNoise,
      neighbourError,
      dropOuts,
    }),
    top: learnTop(
      setting?.top ?? NO_TOP,
      raw,
      measured.leftOut.some(({ why }) => why === 'cut off'),
    ),
  };
}

/** Share of a new interval in the usual one; intervals beyond half and twice of it are gaps, until four agree. */
const PERIOD_SHARE = 0.1;
const MISFITS = 4;

function nextPeriod(setting: SettingMemory | null, atMs: number): Pick<SettingMemory, 'periodMs' | 'misfits'> {
  if (setting === null) return { periodMs: null, misfits: 0 };
  const apart = atMs - setting.atMs;
  if (setting.periodMs === null) return { periodMs: apart, misfits: 0 };
  const fits = apart > setting.periodMs / 2 && apart < 2 * setting.periodMs;
  if (fits) return { periodMs: Math.round(setting.periodMs + PERIOD_SHARE * (apart - setting.periodMs)), misfits: 0 };
  const misfits = setting.misfits + 1;
  return misfits >= MISFITS ? { periodMs: apart, misfits: 0 } : { periodMs: setting.periodMs, misfits };
}

function nextAllan(memory: Memory['allan'], key: string, { scan, heights, analysis }: Learned): Memory['allan'] {
  const sigmaPa = analysis.measurement?.readNoisePa ?? null;
  if (sigmaPa === null || !(heights.readNoiseAt28 > 0)) return memory;
  const factor = sigmaPa / heights.readNoiseAt28;
  const { masses, heights: values } = heights;
  return learnAllan(memory, { scan, key, masses, heightsPa: (row) => values[row]! * factor, sigmaPa });
}
