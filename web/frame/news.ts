import type { Round, RoundLine } from '../../shared/contract/round.ts';
import { words } from '../strings/frame.ts';

export interface News {
  readonly high: boolean;
  readonly sentence: string;
}

/** Scans come late, so a new alert may be a little older than the round before it. */
const LATE_MS = 10 * 60_000;

const linesOf = (round: Round): Map<string, RoundLine> =>
  new Map(round.areas.flatMap(({ chambers }) => chambers.map((line) => [line.id, line] as const)));

/**
 * What is said to those who do not see the page. An alert that only comes to light because a worse one has been
 * acknowledged is not new; one that hides behind a worse one is said by its count.
 */
export function newsBetween(before: Round, after: Round): News[] {
  const old = linesOf(before);
  return [...linesOf(after).values()].flatMap((line): News[] => {
    const was = old.get(line.id);
    const more = line.openAlerts > (was?.openAlerts ?? 0);
    const { worst } = line;
    if (worst?.state !== 'unacknowledged') return [];
    if (worst.id === was?.worst?.id)
      return more ? [{ high: false, sentence: words.moreAlerts(line.name, line.openAlerts) }] : [];
    const isNew = more || Date.parse(worst.raisedAt) > Date.parse(before.at) - LATE_MS;
    if (!isNew) return [];
    const high = worst.priority === 'high';
    return [{ high, sentence: (high ? words.newHigh : words.newAlert)(line.name, worst.summary) }];
  });
}
