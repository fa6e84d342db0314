import type { Rehearsal, RehearsedAlert, RehearsedChamber, RehearsedChange } from '../../shared/contract/rehearsal.ts';
import { gasTitle } from '../notation/gas.ts';
import { brief, count } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { capital, listed, several } from '../notation/sentence.ts';
import { SIGNATURE_TITLE } from '../notation/words.ts';
import { words as all } from '../strings/rehearsal.ts';

const words = all.wordsSaid;

const total = (chambers: readonly RehearsedChamber[], of: (chamber: RehearsedChamber) => readonly unknown[]): number =>
  chambers.reduce((sum, chamber) => sum + of(chamber).length, 0);

export interface Tally {
  readonly gained: number;
  readonly lost: number;
  readonly moved: number;
  readonly asIs: number;
  readonly asChanged: number;
}

export const tallyOf = (chambers: readonly RehearsedChamber[]): Tally => ({
  gained: total(chambers, ({ gained }) => gained),
  lost: total(chambers, ({ lost }) => lost),
  moved: total(chambers, ({ moved }) => moved),
  asIs: total(chambers, ({ asIs }) => asIs),
  asChanged: total(chambers, ({ asChanged }) => asChanged),
});

/** What the change would have done, in one sentence. */
export function rehearsalSentence({ chambers, state, perDay }: Rehearsal): string {
  const done = chambers.filter((chamber) => chamber.state === 'done');
  const scans = chambers.reduce((sum, chamber) => sum + chamber.scans, 0);
  if (state === 'failed' && done.length === 0) return words.theRehearsalCouldNot;
  if (state === 'waiting') {
    return chambers.length > 1
      ? words.workingOfDoneSo(
          done.length,
          several(chambers.length, 'chamber'),
          several(scans, 'scan').replace(/^\d+/, count(scans)),
        )
      : words.workingSoFar(count(scans), scans === 1 ? 'scan' : 'scans');
  }
  if (scans === 0) return words.noScanOfThat;
  const { gained, lost, moved, asIs } = tallyOf(done);
  const over = perDay ? words.in(count(perDay.days), NBSP, perDay.days === 1 ? 'day' : 'days') : '';
  if (gained + lost + moved === 0) {
    return asIs === 0 ? words.noAlertNeitherAs(over) : words.itWouldHaveChanged(several(asIs, 'alert'), over);
  }
  const parts = [
    gained > 0 ? words.more(several(gained, 'alert')) : null,
    lost > 0 ? words.fewer(several(lost, 'alert')) : null,
    moved > 0 ? words.atAnotherTimeOr(several(moved, 'alert')) : null,
  ].filter((part) => part !== null);
  return words.withTheChange(over, listed(parts));
}

const perDayText = (value: number): string => (value === 0 ? 'none' : brief(value, 2));

/** `0.4 calls a day now, 0.2 then`; null until a chamber is done. */
export const loadSentence = ({ perDay }: Rehearsal): string | null =>
  perDay === null
    ? null
    : words.aDayAsIt(
        capital(perDayText(perDay.asIs)),
        perDay.asIs === 0 ? 'called' : 'calls',
        perDayText(perDay.asChanged),
      );

export const alertTitle = ({ signature, gases }: RehearsedAlert): string => {
  const gas = gases.map(gasTitle);
  return gas.length === 0 ? SIGNATURE_TITLE[signature] : `${SIGNATURE_TITLE[signature]} (${listed(gas)})`;
};

/** One baseline is no other version of another baseline; limits of one chamber are. */
export const sameSubject = (a: RehearsedChange, b: RehearsedChange): boolean =>
  a.kind === b.kind &&
  (a.kind !== 'baseline' || b.kind !== 'baseline' || a.pin === b.pin) &&
  (a.kind !== 'rationalisation' || b.kind !== 'rationalisation' || a.signature === b.signature);

/** What the reader has in mind now is not what was rehearsed. */
export const isSame = (asked: unknown, rehearsed: unknown): boolean => sorted(asked) === sorted(rehearsed);

/** The database gives the fields of a document back in an order of its own. */
const sorted = (value: unknown): string =>
  JSON.stringify(value, (_key, part: unknown) =>
    part !== null && typeof part === 'object' && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
