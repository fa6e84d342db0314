/** Counts of the accuracy bench and how they are printed. */
import { median, quantileOfSorted, sortedNumbers } from '../../shared/analysis/robust.ts';
import type { ScanAnalysis } from '../../shared/analysis/types.ts';
import type { RivalAnswer } from './accuracyRivals.ts';
import type { Pressures } from './accuracyScenes.ts';

export interface Tally {
  present: number;
  detected: number;
  covered: number;
  undetected: number;
  limitHolds: number;
  absent: number;
  phantoms: number;
  plainPhantoms: number;
  singlePhantoms: number;
  /** Gas → how often it was called present while absent. */
  readonly phantomNames: Map<string, number>;
  /** log10(estimate / truth) where the gas was detected; the rivals for the same gases of the same scans. */
  readonly ours: number[];
  readonly plain: number[];
  readonly single: number[];
}

export const freshTally = (): Tally => ({
  present: 0,
  detected: 0,
  covered: 0,
  undetected: 0,
  limitHolds: 0,
  absent: 0,
  phantoms: 0,
  plainPhantoms: 0,
  singlePhantoms: 0,
  phantomNames: new Map(),
  ours: [],
  plain: [],
  single: [],
});

export interface Answers {
  readonly truth: Pressures;
  readonly analysis: ScanAnalysis;
  readonly plain: RivalAnswer;
  readonly single: RivalAnswer;
}

/** A zero of a rival stands as a miss by three decades. */
const MISSED_DECADES = -3;
const decades = (estimate: number, truth: number): number =>
  estimate > 0 ? Math.max(MISSED_DECADES, Math.log10(estimate / truth)) : MISSED_DECADES;

export function count(tallies: readonly ((gas: string) => Tally)[], { truth, analysis, plain, single }: Answers): void {
  for (const estimate of analysis.gases) {
    const value = truth[estimate.gas] ?? 0;
    for (const tallyOf of tallies) {
      const tally = tallyOf(estimate.gas);
      if (value === 0) {
        tally.absent++;
        if (estimate.detected) {
          tally.phantoms++;
          tally.phantomNames.set(estimate.gas, (tally.phantomNames.get(estimate.gas) ?? 0) + 1);
        }
        if (plain.found.has(estimate.gas)) tally.plainPhantoms++;
        if (single.found.has(estimate.gas)) tally.singlePhantoms++;
        continue;
      }
      tally.present++;
      if (!estimate.detected) {
        tally.undetected++;
        if (value <= estimate.highPa) tally.limitHolds++;
        continue;
      }
      tally.detected++;
      if (value >= estimate.lowPa && value <= estimate.highPa) tally.covered++;
      tally.ours.push(decades(estimate.valuePa, value));
      tally.plain.push(decades(plain.amounts.get(estimate.gas) ?? 0, value));
      tally.single.push(decades(single.amounts.get(estimate.gas) ?? 0, value));
    }
  }
}

const percent = (part: number, whole: number, digits = 1): string =>
  whole === 0 ? '–' : ((100 * part) / whole).toFixed(digits);
const signed = (value: number): string => (value < 0 ? '' : '+') + value.toFixed(3);

/** Median and half of the range of the middle 68 %, decades. */
function biasAndSpread(errors: readonly number[]): [string, string] {
  if (errors.length === 0) return ['–', '–'];
  const sorted = sortedNumbers(errors);
  const spread = (quantileOfSorted(sorted, 0.841) - quantileOfSorted(sorted, 0.159)) / 2;
  return [signed(median(errors)), spread.toFixed(3)];
}

const WIDTHS = [18, 7, 8, 8, 8, 8, 7, 8, 7, 8, 7];
export const row = (cells: readonly string[]): string =>
  cells.map((cell, i) => (i === 0 ? cell.padEnd(WIDTHS[0]!) : cell.padStart(WIDTHS[i] ?? 9))).join(' ');

export const HEAD = [
  row(['', '', 'seen', 'covered', 'limit', 'ours', '', 'plain', '', 'single', '']),
  row(['gas', 'cases', '%', '%', 'holds %', 'bias', 'spread', 'bias', 'spread', 'bias', 'spread']),
].join('\n');

export function tallyRow(name: string, tally: Tally): string {
  return row([
    name,
    String(tally.present),
    percent(tally.detected, tally.present, 0),
    percent(tally.covered, tally.detected),
    percent(tally.limitHolds, tally.undetected),
    ...biasAndSpread(tally.ours),
    ...biasAndSpread(tally.plain),
    ...biasAndSpread(tally.single),
  ]);
}

export function phantomLine({ absent, phantoms, plainPhantoms, singlePhantoms, phantomNames }: Tally): string {
  const names = [...phantomNames].sort((a, b) => b[1] - a[1]).map(([gas, times]) => `${gas} ${times}`);
  return (
    `absent gases called present: ${percent(phantoms, absent, 3)} % (${phantoms} of ${absent}` +
    `${names.length > 0 ? `: ${names.join(', ')}` : ''}); ` +
    `plain ${percent(plainPhantoms, absent)} %, single peak ${percent(singlePhantoms, absent)} %`
  );
}
