import type { Fit } from './fit.ts';
import { type Group, inseparable, isOpen, sumInterval } from './groups.ts';
import type { Note } from './heights.ts';
import type { GasInterval } from './intervals.ts';
import { sayPressure } from './say.ts';
import type { Scaling } from './scaling.ts';

/**
 * Nitrogen and carbon monoxide share m/z 28, and an analyser of unit resolution parts them by their small fragments
 * only (14 of N2; 12 and 16 of CO). When those are covered by other gases or doubtful in themselves, the fit still
 * knows the sum well and the parts badly. Then the sum is what is told.
 */
export interface InseparablePair {
  readonly gases: readonly [string, string];
  readonly sumPa: number;
  readonly lowPa: number;
  readonly highPa: number;
  /** Between the two estimates; near −1: only the sum is known. */
  readonly correlation: number;
  readonly text: string;
}

const PAIR = ['N2', 'CO'] as const;
const NAMES = ['nitrogen', 'carbon monoxide'] as const;

export function inseparablePair(fit: Fit, intervals: readonly GasInterval[], scaling: Scaling): InseparablePair | null {
  const columns = PAIR.map((id) => fit.design.columns.findIndex((column) => column.id === id));
  const [first, second] = columns as [number, number];
  if (first < 0 || second < 0) return null;
  const correlation = inseparable(fit, intervals, first, second);
  if (correlation === null) return null;
  const { sum, low, high } = sumInterval(fit, [first, second], scaling);
  const [sumPa, lowPa, highPa] = [sum, low, high].map((value) => value * scaling.factor) as [number, number, number];
  const parts = [intervals[first]!, intervals[second]!];
  const larger = parts[0]!.amount >= parts[1]!.amount ? 0 : 1;
  const known = `together they make ${saySum(sumPa, lowPa, highPa)}`;
  const text = isOpen(parts[larger]!, sum)
    ? `Nitrogen and carbon monoxide cannot be told apart in this scan; ${known}: go by the sum.`
    : `How much of m/z 28 is ${NAMES[1 - larger]} cannot be told beside so much ${NAMES[larger]}; ${known}.`;
  return { gases: PAIR, sumPa, lowPa, highPa, correlation, text };
}

/** For groups other than nitrogen with carbon monoxide, which have their own sentence. */
export function groupRemarks({ design }: Fit, groups: readonly Group[], scaling: Scaling): Note[] {
  return groups.flatMap(({ columns, sum, low, high }) => {
    const names = columns.map((j) => design.columns[j]!.id);
    if (names.every((name) => (PAIR as readonly string[]).includes(name))) return [];
    const { factor } = scaling;
    const made = saySum(sum * factor, low * factor, high * factor);
    const text = `${sayList(names)} cannot be told apart in this scan; together they make ${made}: go by the sum.`;
    return [{ code: 'cannot-separate', text }];
  });
}

/** A lower end of zero is no number to write: there may be nothing of them. */
const saySum = (sumPa: number, lowPa: number, highPa: number): string =>
  lowPa > 0
    ? `${sayPressure(sumPa)} (between ${sayPressure(lowPa)} and ${sayPressure(highPa)})`
    : `${sayPressure(sumPa)} (at most ${sayPressure(highPa)}, and there may be nothing of them)`;

const sayList = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
