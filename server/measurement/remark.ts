/** What a person should look at first on one analyser, in a sentence: the worst of what its figures say, or nothing. */
import type { Calibration } from '../../shared/analysis/types.ts';
import type { MeasurementFacts } from '../../shared/db/measurement.ts';
import { sayDuration, sayRatio } from '../../shared/measurement/say.ts';
import { judgeSilence } from '../../shared/watch/silence.ts';
import { gasName } from '../gasNames.ts';
import type { Beside } from './beside.ts';

export interface Remarked {
  readonly facts: MeasurementFacts;
  readonly beside: Beside | null;
  readonly calibration: Calibration;
  readonly now: Date;
}

type Remark = (about: Remarked & { readonly at: Date }) => string | null;

/** A gain this far from its record moves every pressure with it. */
const GAIN_FACTOR = 1.4;
/** From here on a reading at a fixed mass begins to miss the top of a peak that is a unit wide (common practice). */
const MASS_OFFSET_U = 0.15;
/** Peaks of neighbouring masses run into each other. */
const WIDTH_U = 1.2;
/** Analyser and gauge: gauges differ by ±15 %, so that closer agreement than this cannot be asked for. */
const KAPPA_FACTOR = 1.4;
const KAPPA_SCANS = 10;
const KAPPA_SPREADS = 3;
const FLOOR_FACTOR = 10;
const POOR_FIT = 3;
const MUCH_UNEXPLAINED = 0.1;
/** More of the gas is made by the analyser than comes from the chamber. */
const ANALYSER_LIMITED = 0.5;
/** Sensitivity is what changes most and needs checking most often (ISO/TS 20175); once a year is common practice. */
const OLD_CALIBRATION_DAYS = 365;
const DAY_MS = 86_400_000;
const WITHIN_95 = 1.96;

const percent = (share: number): string => `${Math.round(100 * share)} %`;
const two = (value: number): string => String(Number(value.toPrecision(2)));
const ago = (ms: number, now: Date): string => `${sayDuration(Math.max(0, now.getTime() - ms) / 1000)} ago`;

const noteOf = (beside: Beside | null, codes: RegExp): string | null =>
  beside?.notes.find(({ code }) => codes.test(code))?.text ?? null;

const silence: Remark = ({ at, facts, now }) => {
  const { scanPeriodSeconds: periodSeconds, state } = facts;
  const clock = { lastScanAtMs: at.getTime(), periodSeconds, state, nowMs: now.getTime() };
  const { silent, ageSeconds } = judgeSilence(clock);
  return silent ? `No scan has come for ${sayDuration(ageSeconds ?? 0)}: these figures are as old.` : null;
};

const noAnswer: Remark = ({ beside }) =>
  beside === null || beside.answered ? null : (beside.notes[0]?.text ?? 'The newest scan gave no partial pressures.');

const leftOut = ({ facts }: Remarked, why: 'cut off' | 'drop-out'): string | null => {
  const masses = (facts.measurement?.leftOut ?? []).filter((one) => one.why === why).map(({ mass }) => mass);
  return masses.length === 0 ? null : masses.join(', ');
};

const cutOff: Remark = (about) => {
  const masses = leftOut(about, 'cut off');
  return masses && `m/z ${masses} gives more than the detector can show and was not used.`;
};

const gain: Remark = ({ facts, calibration, now }) => {
  const { measurement, instrument } = facts;
  const used = measurement?.gain?.from === 'pair' ? measurement.gain : (instrument?.gain ?? null);
  const record = calibration.multiplierGain;
  if (used === null || used.atMs === null || record === null) return null;
  const ratio = used.value / record;
  const size = Math.abs(Math.log(ratio));
  if (size < Math.log(GAIN_FACTOR) || size < WITHIN_95 * used.uncertainty) return null;
  const moved = ratio < 1 ? `fell to ${percent(ratio)} of` : `rose to ${sayRatio(ratio)}`;
  return `The multiplier's gain ${moved} the one on record, measured ${ago(used.atMs, now)}.`;
};

const massScale: Remark = ({ facts }) => {
  const offset = facts.measurement?.massScale?.offsetU;
  if (offset === undefined || Math.abs(offset) < MASS_OFFSET_U) return null;
  return `Peaks stand ${Math.abs(offset).toFixed(2)} u ${offset > 0 ? 'above' : 'below'} their masses.`;
};

const kappa: Remark = ({ facts }) => {
  const { kappa: now } = facts;
  const known = facts.instrument?.kappa ?? null;
  if (known === null || known.scans <= KAPPA_SCANS) return null;
  const left = now === null ? 0 : Math.abs(Math.log(now / known.usual));
  if (now !== null && left > Math.max(Math.log(KAPPA_FACTOR), KAPPA_SPREADS * known.spread))
    return `Kappa is ${two(now)} where it has stood at ${two(known.usual)}: analyser or gauge has changed.`;
  if (Math.abs(Math.log(known.usual)) <= Math.log(KAPPA_FACTOR)) return null;
  return `Kappa stands at ${two(known.usual)}: the gauge reads ${sayRatio(known.usual)} what the partial pressures add up to.`;
};

const floor: Remark = ({ facts, beside }) => {
  const usual = beside?.usualFloorPa ?? null;
  if (usual === null || facts.floorPa === null || facts.floorPa < FLOOR_FACTOR * usual) return null;
  return `The floor is ${sayRatio(facts.floorPa / usual)} what it was on the days before.`;
};

const gauge: Remark = ({ beside }) => noteOf(beside, /^(no-gauge|gauge-not-believed)$/);

const fit: Remark = ({ facts }) => {
  const found = facts.measurement?.chiSquarePerDof ?? null;
  return found === null || found <= POOR_FIT
    ? null
    : `The gases fit the spectrum badly: chi square per degree of freedom is ${two(found)}.`;
};

const unexplained: Remark = ({ facts }) =>
  facts.unexplained === null || facts.unexplained <= MUCH_UNEXPLAINED
    ? null
    : `No gas explains ${percent(facts.unexplained)} of the signal.`;

const ownGas: Remark = ({ beside }) => {
  const worst = [...(beside?.ownGas ?? [])].sort((a, b) => b.share - a.share)[0];
  return worst === undefined || worst.share <= ANALYSER_LIMITED
    ? null
    : `Analyser limited: ${percent(worst.share)} of its ${gasName(worst.gas)} is its own, by the background on record.`;
};

const width: Remark = ({ facts }) => {
  const half = facts.measurement?.widthU?.half;
  return half === undefined || half <= WIDTH_U
    ? null
    : `Peaks are ${half.toFixed(2)} u wide at half height: neighbouring masses run into each other.`;
};

const dropOut: Remark = (about) => {
  const masses = leftOut(about, 'drop-out');
  return masses && `The signal dropped out at m/z ${masses} and was not used there.`;
};

const age: Remark = ({ facts, now }) => {
  const { calibratedAt } = facts;
  const days = calibratedAt === null ? 0 : (now.getTime() - calibratedAt.getTime()) / DAY_MS;
  return days <= OLD_CALIBRATION_DAYS ? null : `Its newest calibration is ${Math.round(days)} days old.`;
};

/** Worst first: what makes all figures void, then what moves them, then what makes them less certain. */
const IN_ORDER: readonly Remark[] = [
  silence,
  noAnswer,
  cutOff,
  gain,
  massScale,
  kappa,
  floor,
  gauge,
  fit,
  unexplained,
  ownGas,
  dropOut,
  width,
  age,
];

export const remarkOf = (about: Remarked): string | null => {
  const { at } = about.facts;
  if (at === null) return 'No scan of it has been analysed yet.';
  for (const remark of IN_ORDER) {
    const said = remark({ ...about, at });
    if (said !== null) return said;
  }
  return null;
};
