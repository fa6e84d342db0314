/** What has changed since the last signed round, who has it in hand, and the sentence over all of it. */

import type { ChamberLine } from '../shared/contract/readings.ts';
import type { RoundLine } from '../shared/contract/round.ts';
import type { Health } from '../shared/contract/words.ts';
import type { ChamberFacts } from '../shared/db/chamberFacts.ts';
import type { SeenChamber } from '../shared/db/rounds.ts';
import { capitalise, times } from '../shared/watch/wording.ts';
import { asksForSomebody, PRIORITY_RANK } from './chamberLine.ts';
import { gasName } from './gasNames.ts';
import { iso } from './instant.ts';

type Change = Pick<RoundLine, 'change' | 'changeText'>;

/** A gas that moved less than this since the last round has not moved for the eye (0.15 decade: 1.4 times). */
const MOVED_DECADES = 0.15;
/** How much a person has to do with a chamber. */
const CALM: Record<Health, number> = {
  attention: 0,
  blind: 0,
  stale: 1,
  changed: 2,
  learning: 3,
  unwatched: 3,
  rest: 3,
};
const SAID: Record<Health, string> = {
  attention: 'needed a person',
  blind: 'was blind',
  stale: 'was stale',
  changed: 'was outside its usual range',
  learning: 'was learning',
  unwatched: 'was not watched',
  rest: 'was at rest',
};

const NONE: Change = { change: 'none', changeText: null };

/** Of the gases that an alert is about, the one that moved most since the last round. */
const movedMost = (line: ChamberLine): { gas: string; decades: number } | null => {
  const moved = line.strip
    .filter((mark) => mark.alert !== null && mark.decades !== null && mark.atLastRound !== null)
    .map((mark) => ({ gas: mark.gas, decades: (mark.decades as number) - (mark.atLastRound as number) }))
    .sort((a, b) => Math.abs(b.decades) - Math.abs(a.decades))[0];
  return moved && Math.abs(moved.decades) >= MOVED_DECADES ? moved : null;
};

const whileAlertStands = (line: ChamberLine, seen: SeenChamber): Change => {
  const before = seen.line.worst;
  if (line.worst && before && PRIORITY_RANK[line.worst.priority] < PRIORITY_RANK[before.priority])
    return { change: 'worse', changeText: `Priority was ${before.priority}.` };
  const moved = movedMost(line);
  if (moved) {
    const factor = times(10 ** Math.abs(moved.decades));
    return moved.decades > 0
      ? { change: 'worse', changeText: `${capitalise(gasName(moved.gas))} has risen ${factor} since the last round.` }
      : {
          change: 'better',
          changeText: `${capitalise(gasName(moved.gas))} has fallen ${factor} since the last round.`,
        };
  }
  return NONE;
};

/** @param seen null: no round of this area was signed yet, or the chamber was not in it */
export const changeSince = (line: ChamberLine, facts: ChamberFacts, seen: SeenChamber | null): Change => {
  const asking = facts.openAlerts.filter(asksForSomebody);
  if (seen === null) return asking.length > 0 ? { change: 'new', changeText: 'Not seen on a signed round yet.' } : NONE;
  if (asking.some(({ id }) => !seen.alerts.includes(id)))
    return { change: 'new', changeText: `At the last round it ${SAID[seen.line.health]}.` };
  const before = CALM[seen.line.health];
  const after = CALM[line.health];
  if (after < before) return { change: 'worse', changeText: `At the last round it ${SAID[seen.line.health]}.` };
  if (after > before) return { change: 'better', changeText: `At the last round it ${SAID[seen.line.health]}.` };
  if (asking.length > 0) return whileAlertStands(line, seen);
  if (line.state !== null && seen.line.state !== null && line.state !== seen.line.state)
    return { change: 'as expected', changeText: `State was ${seen.line.state}, is ${line.state}.` };
  return NONE;
};

/** Null while anybody is still wanted; else who acknowledged the worst of the open alerts, and when. */
export const inHand = ({ openAlerts }: ChamberFacts): RoundLine['inHand'] => {
  const asking = openAlerts.filter(asksForSomebody);
  if (asking.length === 0 || asking.some(({ state }) => state !== 'acknowledged')) return null;
  const [worst] = [...asking].sort((a, b) => PRIORITY_RANK[a.priority] - PRIORITY_RANK[b.priority]);
  return worst?.acknowledgedAt ? { by: worst.acknowledgedBy ?? 'somebody', at: iso(worst.acknowledgedAt) } : null;
};

/** What the headline looks at. */
export type HeadlineLine = Pick<ChamberLine, 'health' | 'worst'> & Partial<Pick<RoundLine, 'inHand'>>;

const SMALL = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];
const said = (count: number): string => SMALL[count] ?? String(count);
const of = (count: number, total: number): string => (count === total ? `all ${total}` : `${said(count)} of ${total}`);
const asks = ({ health, worst }: HeadlineLine): boolean => health === 'attention' || worst != null;

/** The largest share of the chambers that need a person and are told once: more than two, or nobody is served by it. */
const oneCause = (need: readonly HeadlineLine[], groups: readonly (readonly string[])[]): string => {
  const asking = new Set(need.flatMap(({ worst }) => (worst ? [worst.id] : [])));
  const largest = Math.max(0, ...groups.map((alerts) => alerts.filter((id) => asking.has(id)).length));
  if (largest < LEAST_TOLD_ONCE) return '';
  return largest === asking.size ? ', with one cause by the look of it' : `, ${said(largest)} of them with one cause`;
};
const LEAST_TOLD_ONCE = 3;

/**
 * The sentence with which the round begins. Chambers whose open alerts are all acknowledged need nobody else.
 * @param groups the alerts of each group that shares a cause
 */
export const headline = (lines: readonly HeadlineLine[], groups: readonly (readonly string[])[] = []): string => {
  const total = lines.length;
  if (total === 0) return 'There are no chambers yet.';
  const count = (...words: Health[]) => lines.filter(({ health }) => words.includes(health)).length;
  const need = lines.filter((line) => asks(line) && !line.inHand);
  const held = lines.filter((line) => asks(line) && line.inHand).length;
  const unseen = count('blind', 'stale');
  if (unseen === total) return 'Nothing can be said: no chamber has sent a fresh scan.';
  const hand = held === 0 ? '' : `; ${said(held)} ${held === 1 ? 'is' : 'are'} in hand`;
  const blind = unseen === 0 ? '' : `; ${said(unseen)} cannot be seen`;
  if (need.length > 0) {
    const which = total === 1 ? 'the chamber' : `${of(need.length, total)} chambers`;
    const needs = `${which} ${need.length === 1 ? 'needs' : 'need'} a person`;
    return `${capitalise(needs)}${oneCause(need, groups)}${hand}${blind}.`;
  }
  if (held > 0) return `No chamber waits for a person${hand}${blind}.`;
  if (unseen > 0) return `No alert asks for a person, but ${of(unseen, total)} chambers cannot be seen.`;
  if (count('rest') === total) return total === 1 ? 'The chamber is at rest.' : `All ${total} chambers are at rest.`;
  return 'No chamber needs a person.';
};

/** The shift that runs at an instant, by the clock of the area; null when the area names no shifts. */
export const shiftAt = (
  shifts: readonly string[],
  timeZone: string,
  now: Date,
): { from: string; to: string } | null => {
  if (shifts.length === 0) return null;
  const clock = new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
  const time = clock.format(now);
  const sorted = [...shifts].sort();
  const index = sorted.findLastIndex((start) => start <= time);
  // Before the first start of the day the last shift of yesterday still runs.
  const from = sorted.at(index === -1 ? -1 : index) as string;
  const to = sorted[(sorted.indexOf(from) + 1) % sorted.length] as string;
  return { from, to };
};
