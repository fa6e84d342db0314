/** The areas of a round with their chambers, put together from what is known at one instant. */
import type { Handover } from '../shared/contract/handover.ts';
import type { RoundLine } from '../shared/contract/round.ts';
import type { PressureUnit } from '../shared/contract/words.ts';
import { type ChamberFacts, readChamberFacts } from '../shared/db/chamberFacts.ts';
import type { Transaction } from '../shared/db/connect.ts';
import { listClosedSince, listEntries, readHandoverAlerts } from '../shared/db/handover.ts';
import { type LastRound, readLastRounds } from '../shared/db/rounds.ts';
import { chamberLine } from './chamberLine.ts';
import { handoverOf } from './handover.ts';
import { changeSince, inHand } from './roundLines.ts';
import { byPlace } from './roundOrder.ts';

export interface AreaRow {
  readonly id: string;
  readonly name: string;
  readonly timeZone: string;
  readonly shifts: string[];
}

export interface AreaRound {
  readonly area: AreaRow;
  readonly last: LastRound | undefined;
  readonly facts: readonly ChamberFacts[];
  readonly lines: RoundLine[];
}

interface Asked {
  /** Undefined: all areas. */
  readonly area: string | undefined;
  readonly unit: PressureUnit;
  readonly now: Date;
  /** Under which it is remembered what was seen at the last rounds: the transaction ends, this does not. */
  readonly database: object;
}

const linesOf = (
  facts: readonly ChamberFacts[],
  { last, unit, now }: { last: LastRound | undefined; unit: PressureUnit; now: Date },
): RoundLine[] =>
  facts
    .map((one) => {
      const seen = last?.seen.get(one.id) ?? null;
      const line = chamberLine(one, { unit, now, seen });
      return { ...line, ...changeSince(line, one, seen), inHand: inHand(one) };
    })
    .sort(byPlace);

/** In the order of the fleet document. Empty where the area is not there. */
export const readAreaRounds = async (sql: Transaction, { area, unit, now, database }: Asked): Promise<AreaRound[]> => {
  const [areas, facts, rounds] = await Promise.all([
    sql<AreaRow[]>`
      select id, name, time_zone as "timeZone", shifts from areas
      where retired_at is null and (${area ?? null}::text is null or id = ${area ?? null})
      order by position, id`,
    readChamberFacts(sql, area === undefined ? { all: true } : { area }),
    readLastRounds(sql, database),
  ]);
  return areas.map((one) => {
    const last = rounds.get(one.id);
    const own = facts.filter((chamber) => chamber.area === one.id);
    return { area: one, last, facts: own, lines: linesOf(own, { last, unit, now }) };
  });
};

/** More entries than a shift can read: beyond them the list is cut, the oldest promise first. */
const MOST_ENTRIES = 2_000;

export const readHandovers = async (
  sql: Transaction,
  rounds: readonly AreaRound[],
  { area, now }: Pick<Asked, 'area' | 'now'>,
): Promise<Handover[]> => {
  const [alerts, entries, ...closed] = await Promise.all([
    readHandoverAlerts(sql, area ?? null),
    listEntries(sql, { area, open: true, limit: MOST_ENTRIES }),
    ...rounds.map(({ area: one, last }) => (last ? listClosedSince(sql, one.id, last.at) : [])),
  ]);
  return rounds.map(({ area: one, lines }, i) =>
    handoverOf({
      area: one,
      now,
      lines,
      alerts: alerts.filter((alert) => alert.area === one.id),
      entries: entries.filter((entry) => entry.area === one.id),
      closed: [...(closed[i] ?? [])],
    }),
  );
};
