import type {
  BackgroundValue,
  CalibrationEntry,
  CalibrationKind,
  CalibrationSource,
  CalibrationValue,
  NumberValue,
  PatternValue,
} from '../../shared/contract/calibration.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { gasTitle } from '../notation/gas.ts';
import { brief, plain, scientific } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { several } from '../notation/sentence.ts';
import { words as all } from '../strings/calibration.ts';

const words = all.calibrationWords;

export const KIND_TITLE: Readonly<Record<CalibrationKind, string>> = {
  sensitivity: words.sensitivityForNitrogen,
  gain: words.gainOfTheMultiplier,
  transmission: words.transmissionExponent,
  'gauge-factor': words.factorBetweenGaugeAnd,
  pattern: words.fragmentPattern,
  background: words.theAnalyserSOwn,
};

export const KIND_SHORT: Readonly<Record<CalibrationKind, string>> = {
  sensitivity: 'sensitivity',
  gain: 'gain',
  transmission: 'transmission',
  'gauge-factor': words.gaugeFactor,
  pattern: 'pattern',
  background: 'background',
};

/** Kinds that a person enters as one number. */
export const ENTERED_KINDS = ['sensitivity', 'gain', 'transmission', 'gauge-factor'] as const;
export type EnteredKind = (typeof ENTERED_KINDS)[number];

export const KIND_UNIT: Readonly<Record<EnteredKind, string>> = {
  sensitivity: 'A/Pa',
  gain: '',
  transmission: '',
  'gauge-factor': '',
};

/** Where a number is from: the contract's words, and what a person reads. */
export const SOURCE_TITLE: Readonly<Record<CalibrationSource, string>> = {
  certificate: words.certificate,
  gauge: words.gauge,
  'detector pair': words.detectorPair,
  'pure gas': words.pureGas,
  'closed valve': words.closedValve,
  'second analyser': words.secondAnalyser,
  other: words.other,
};
export const SOURCES = Object.keys(SOURCE_TITLE) as readonly CalibrationSource[];

/** How the analyser's own gas is told from the chamber's. */
const BACKGROUND = { 'closed valve': true, 'second analyser': true } as const;
export const [BEHIND_VALVE, AGAINST_ANOTHER] = Object.keys(BACKGROUND) as ['closed valve', 'second analyser'];

export const isNumber = (value: CalibrationValue): value is NumberValue => 'value' in value;
export const isPattern = (value: CalibrationValue): value is PatternValue => 'fragmentUncertainty' in value;
const isBackground = (value: CalibrationValue): value is BackgroundValue => 'unsteadiness' in value;

export const entryTitle = ({ kind, gas }: Pick<CalibrationEntry, 'kind' | 'gas'>): string =>
  gas === null ? KIND_TITLE[kind] : words.of(KIND_TITLE[kind], gasTitle(gas));

const percent = (share: number): string => `${brief(share * 100)}${NBSP}%`;

/** `2.1×10⁻⁶ A/Pa ± 5 %`. */
export function numberText(kind: CalibrationKind, { value, relativeUncertainty }: NumberValue): string {
  const unit = kind === 'sensitivity' ? `${NBSP}A/Pa` : '';
  const number = kind === 'sensitivity' ? scientific(value, 3) : brief(value);
  return `${number}${unit}${relativeUncertainty === null ? '' : ` ±\u00a0${percent(relativeUncertainty)}`}`;
}

/** Beyond this many peaks a value is counted, not written. */
const MOST_PEAKS = 6;

function patternText({ peaks, fragmentUncertainty, responseAtLargest, responseUncertainty }: PatternValue): string {
  const sorted = Object.entries(peaks).sort(([, a], [, b]) => b - a);
  const shown = sorted.slice(0, MOST_PEAKS).map(([mass, height]) => `${mass}: ${brief(height)}`);
  const more = sorted.length > MOST_PEAKS ? words.andMore(sorted.length - MOST_PEAKS) : '';
  const response =
    responseAtLargest === null
      ? ''
      : words.response(
          plain(responseAtLargest, 3),
          responseUncertainty === null ? '' : ` ±\u00a0${percent(responseUncertainty)}`,
        );
  return `${shown.join(', ')}${more}, ±\u00a0${percent(fragmentUncertainty)}${response}`;
}

function backgroundText({ peaks, unsteadiness }: BackgroundValue, unit: PressureUnit): string {
  const sorted = Object.entries(peaks).sort(([, a], [, b]) => b.heightPa - a.heightPa);
  const shown = sorted
    .slice(0, MOST_PEAKS)
    .map(([mass, { heightPa }]) => `${mass}: ${scientific(fromPascal(heightPa, unit))}`);
  const most = sorted.length > MOST_PEAKS ? words.largestOf(several(sorted.length, 'mass', 'masses')) : '';
  return words.unsteadyBy(shown.join(', '), NBSP, unit, most, percent(unsteadiness));
}

/** A value with its uncertainty, as it is written in the history. */
export function valueText(kind: CalibrationKind, value: CalibrationValue, unit: PressureUnit): string {
  if (isNumber(value)) return numberText(kind, value);
  if (isPattern(value)) return patternText(value);
  return isBackground(value) ? backgroundText(value, unit) : words.cannotBeShown;
}

/** What holds now in the place that a proposal would take. */
export const rivalInForce = (
  proposal: CalibrationEntry,
  entries: readonly CalibrationEntry[],
  nowMs: number,
): CalibrationEntry | null =>
  entries
    .filter(({ state, kind, gas }) => state === 'in-force' && kind === proposal.kind && gas === proposal.gas)
    .filter(
      ({ validFrom, validTo }) =>
        validFrom !== null && Date.parse(validFrom) <= nowMs && (validTo === null || Date.parse(validTo) > nowMs),
    )
    .sort((a, b) => Date.parse(b.validFrom ?? '') - Date.parse(a.validFrom ?? ''))[0] ?? null;

/** What holds where nobody has set anything. */
export const FALLBACK: Readonly<Record<CalibrationKind, string>> = {
  sensitivity: words.theFleetDocumentS,
  gain: words.theFleetDocumentS,
  transmission: words.theFleetDocumentS,
  'gauge-factor': words.noneTheGaugeIs,
  pattern: words.theCatalogueS,
  background: words.noneNothingIsSubtracted,
};

/** Proposals first, then the newest. */
export const newestFirst = (entries: readonly CalibrationEntry[]): CalibrationEntry[] =>
  [...entries].sort((a, b) => Date.parse(b.setAt) - Date.parse(a.setAt));

/** A withdrawal never changes what was judged: its word says so. */
export const STATE_WORD: Readonly<Record<CalibrationEntry['state'], string>> = {
  proposed: 'proposed',
  'in-force': words.inForce,
  withdrawn: 'withdrawn',
};
