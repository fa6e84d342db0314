import type { Comparison } from '../../shared/contract/comparison.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { gasSpoken } from '../notation/gas.ts';
import { reportedPressure } from '../notation/pressure.ts';
import { capital, sentenceIn } from '../notation/sentence.ts';
import { words } from '../strings/compare.ts';
import { times as sized } from './factor.ts';

export type ComparedGas = Comparison['gases'][number];

/** Which of the two adds gas of its own, or why that cannot be said. */
export function headSentence(comparison: Comparison, unit: PressureUnit): string {
  const { addsGas, verdict } = comparison;
  // The id of an analyser is written as it is, even where it begins a sentence.
  const begins = comparison.analysers.some((id) => verdict.trim().startsWith(id));
  const said = sentenceIn(begins ? verdict.trim() : capital(verdict.trim()), unit);
  if (said !== '') return /[.!?]$/.test(said) ? said : `${said}.`;
  if (addsGas === null) return words.unknownWhich;
  return words.addsGas(addsGas.analyser, words.list(addsGas.gases.map(gasSpoken)));
}

/** Two digits, three below 2 so that 1.0 and 1.1 are not the same. */
const BELOW_TWO = 3;
const times = (ratio: number): string => sized(ratio, BELOW_TWO);

/** `×4.1 (3.2–5.2)`, `at most ×3`, `at least ×12` or `cannot tell`. */
export function ratioText({
  ratio,
  ratioLow,
  ratioHigh,
}: Pick<ComparedGas, 'ratio' | 'ratioLow' | 'ratioHigh'>): string {
  if (ratio !== null && ratio > 0) {
    if (ratioLow === null || ratioHigh === null || ratioLow <= 0) return times(ratio);
    const bounds = [times(ratioLow), times(ratioHigh)];
    const sides = new Set([...bounds, times(ratio)].map((text) => text[0]));
    if (sides.size > 1) return words.rangeTo(times(ratio), bounds[0] ?? '', bounds[1] ?? '');
    const [a = '', b = ''] = bounds.map((text) => text.slice(1));
    return `${times(ratio)} (${ratio >= 1 ? `${a}–${b}` : `${b}–${a}`})`;
  }
  if (ratioHigh !== null && ratioHigh > 0) return words.atMost(times(ratioHigh));
  if (ratioLow !== null && ratioLow > 0) return words.atLeast(times(ratioLow));
  return words.cannot;
}

/** What one analyser shows of a gas, absolute; a gas that few scans show says so. */
export function shownText(side: ComparedGas['first'], unit: PressureUnit): string {
  return reportedPressure({ ...side, detected: side.value !== null && side.value > 0 && side.detectedShare > 0 }, unit);
}

/** Gases that differ stand first, then those that cannot be told, then the rest; each in the order of the server. */
const RANK = { yes: 0, 'cannot tell': 2, no: 1 } as const;
export const byDifference = (gases: readonly ComparedGas[]): ComparedGas[] =>
  [...gases].sort((a, b) => RANK[a.differs] - RANK[b.differs]);

/** Neither analyser sees it: such gases are folded into one line. */
export const isUnseen = ({ first, second }: ComparedGas): boolean => first.value === null && second.value === null;
