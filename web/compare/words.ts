import type { Comparison } from '../../shared/contract/comparison.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { gasSpoken } from '../notation/gas.ts';
import { plain, thousands } from '../notation/number.ts';
import { reportedPressure } from '../notation/pressure.ts';
import { capital, listed, sentenceIn } from '../notation/sentence.ts';

export type ComparedGas = Comparison['gases'][number];

/** Which of the two adds gas of its own, or why that cannot be said. */
export function headSentence(comparison: Comparison, unit: PressureUnit): string {
  const { addsGas, verdict } = comparison;
  // The id of an analyser is written as it is, even where it begins a sentence.
  const begins = comparison.analysers.some((id) => verdict.trim().startsWith(id));
  const said = sentenceIn(begins ? verdict.trim() : capital(verdict.trim()), unit);
  if (said !== '') return /[.!?]$/.test(said) ? said : `${said}.`;
  if (addsGas === null) return 'Nothing can be said of which analyser adds gas of its own.';
  return `${addsGas.analyser} adds gas of its own: ${listed(addsGas.gases.map(gasSpoken))}.`;
}

/** `×4.1`, `÷2.5`: two digits, three below 2 so that 1.0 and 1.1 are not the same. */
const times = (ratio: number): string => {
  const size = ratio >= 1 ? ratio : 1 / ratio;
  const number =
    size >= 1000 ? thousands(String(Math.round(Number(size.toPrecision(2))))) : plain(size, size < 2 ? 3 : 2);
  return `${ratio >= 1 ? '×' : '÷'}${number}`;
};

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
    if (sides.size > 1) return `${times(ratio)} (${bounds[0]} to ${bounds[1]})`;
    const [a = '', b = ''] = bounds.map((text) => text.slice(1));
    return `${times(ratio)} (${ratio >= 1 ? `${a}–${b}` : `${b}–${a}`})`;
  }
  if (ratioHigh !== null && ratioHigh > 0) return `at most ${times(ratioHigh)}`;
  if (ratioLow !== null && ratioLow > 0) return `at least ${times(ratioLow)}`;
  return 'cannot tell';
}

/** What one analyser shows of a gas, absolute; a gas that few scans show says so. */
export function shownText(side: ComparedGas['first'], unit: PressureUnit): string {
  return reportedPressure({ ...side, detected: side.value !== null && side.value > 0 && side.detectedShare > 0 }, unit);
}

/** Gases that differ stand first, then those that cannot be told, then the rest; each in the order of the server. */
const RANK = { yes: 0, 'cannot tell': 2, no: 1 } as const;
export const byDifference = (gases: readonly ComparedGas[]): ComparedGas[] =>
  [...gases].sort((a, b) => RANK[a.differs] - RANK[b.differs]);
