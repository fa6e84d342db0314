import type { Alert } from '../../shared/contract/alerts.ts';
import type { Round, RoundArea, RoundLine } from '../../shared/contract/round.ts';
import type { Priority } from '../../shared/contract/words.ts';
import { isOld } from '../notation/age.ts';
import { gasLabel, gasSpoken } from '../notation/gas.ts';
import { isOut } from '../strip/geometry.ts';
import { secondsSinceScan } from '../strip/scanAge.ts';
import type { RoundFilter } from './address.ts';

export type Group = 'need' | 'hand' | 'blind' | 'changed' | 'rest';

/** The chambers of an area, by what a person has to do with them. */
export interface AreaRows extends Readonly<Record<Group, readonly RoundLine[]>> {
  readonly area: RoundArea;
}

/** Health words that a chamber loses when its last scan has grown old, whatever the server said before. */
const CLAIMS_TO_KNOW: ReadonlySet<string> = new Set(['rest', 'changed', 'learning']);

/** An alert that somebody has put aside: it asks for nobody, but it is not forgotten. */
export interface Shelved {
  readonly id: string;
  readonly priority: Priority;
  readonly until: string | null;
}

export interface Looking {
  readonly nowMs: number;
  /** By chamber. */
  readonly shelved: ReadonlyMap<string, Shelved>;
}

export const shelvedByChamber = (alerts: readonly Alert[]): ReadonlyMap<string, Shelved> =>
  new Map(
    alerts
      .filter(({ state }) => state === 'shelved')
      .map(({ id, chamber, priority, shelvedUntil }) => [chamber, { id, priority, until: shelvedUntil }]),
  );

/** Of which areas a round was signed, the newest first. */
export const signedOf = ({ areas }: Round): readonly NonNullable<RoundArea['lastSigned']>[] =>
  areas
    .flatMap(({ lastSigned }) => (lastSigned ? [lastSigned] : []))
    .sort((a, b) => Date.parse(b.at) - Date.parse(a.at));

/** The last scan says nothing of now: by the server's word, or because it has grown old since. */
export function isUnseen(line: RoundLine, nowMs: number): boolean {
  const { health, scanPeriodSeconds } = line;
  if (health === 'blind' || health === 'stale') return true;
  return CLAIMS_TO_KNOW.has(health) && isOld(secondsSinceScan(line, nowMs), scanPeriodSeconds);
}

/** Where a chamber stands on the round at `nowMs`; a chamber that is not heard is never at rest. */
export function groupOf(line: RoundLine, nowMs: number, isShelved = false): Group {
  if (line.worst !== null || line.health === 'attention') return line.inHand ? 'hand' : 'need';
  if (isUnseen(line, nowMs)) return 'blind';
  if (line.health === 'rest' && line.change === 'none' && !isShelved) return 'rest';
  return 'changed';
}

/** The server's order is kept inside each group: worst first. */
export function rowsOf(area: RoundArea, lines: readonly RoundLine[], { nowMs, shelved }: Looking): AreaRows {
  const groups: Record<Group, RoundLine[]> = { need: [], hand: [], blind: [], changed: [], rest: [] };
  for (const line of lines) groups[groupOf(line, nowMs, shelved.has(line.id))].push(line);
  return { area, ...groups };
}

/** Rows that somebody has to look at before signing: what nobody has in hand, and what is not seen. */
export const needALook = (areas: readonly AreaRows[]): readonly RoundLine[] =>
  areas.flatMap((rows) => [...rows.need, ...rows.blind]);

/** A chamber is found by its name, id, area, kind, state, tag, sentence, or by a gas that stands out of its bed. */
export function isFound(line: RoundLine, filter: RoundFilter): boolean {
  if (filter.kind !== '' && line.kind !== filter.kind) return false;
  if (filter.state !== '' && line.state !== filter.state) return false;
  if (filter.tag !== '' && !line.tags.includes(filter.tag)) return false;
  if (filter.since === 'changed' && line.change === 'none') return false;
  if (filter.gas !== '' && !line.strip.some((mark) => mark.gas === filter.gas && isOut(mark))) return false;
  const words = filter.find
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0) return true;
  const gases = line.strip.filter(isOut).flatMap(({ gas }) => [gas, gasLabel(gas), gasSpoken(gas)]);
  const text = [line.name, line.id, line.kind, line.state, ...line.tags, line.say, ...gases].join('\n').toLowerCase();
  return words.every((word) => text.includes(word));
}

export function shownAreas(round: Round, filter: RoundFilter, looking: Looking): readonly AreaRows[] {
  return round.areas
    .filter((area) => filter.area === '' || area.id === filter.area)
    .map((area) =>
      rowsOf(
        area,
        area.chambers.filter((line) => isFound(line, filter)),
        looking,
      ),
    );
}

const distinct = (words: readonly (string | null)[]): string[] =>
  [...new Set(words.filter((word): word is string => word !== null && word !== ''))].sort();

/** What there is to choose from. */
export function choicesOf(round: Round) {
  const lines = round.areas.flatMap((area) => area.chambers);
  return {
    kinds: distinct(lines.map((line) => line.kind)),
    states: distinct(lines.map((line) => line.state)),
    tags: distinct(lines.flatMap((line) => line.tags)),
    /** Those that stand out of their bed somewhere. */
    gases: distinct(lines.flatMap((line) => line.strip.filter(isOut).map(({ gas }) => gas))),
  };
}
