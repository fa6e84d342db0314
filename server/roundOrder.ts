/** In which order a round is read: the worst that nobody has yet, then what is in hand, then what is not seen. */
import type { RoundLine } from '../shared/contract/round.ts';
import type { Health } from '../shared/contract/words.ts';
import { PRIORITY_RANK } from './chamberLine.ts';

const NEED = 0;
const IN_HAND = 1;
/** A chamber without an open alert, by its health. */
const PLACE: Record<Health, number> = {
  attention: NEED,
  blind: 2,
  stale: 3,
  changed: 4,
  learning: 6,
  unwatched: 7,
  rest: 8,
};
/** At rest, and it was not at the last round. */
const CAME_TO_REST = 5;

const placeOf = ({ worst, inHand, health, change }: RoundLine): number => {
  if (worst) return inHand ? IN_HAND : NEED;
  return health === 'rest' && change !== 'none' ? CAME_TO_REST : PLACE[health];
};

const NO_ALERT = 3;
const rank = ({ worst }: RoundLine): number => (worst ? PRIORITY_RANK[worst.priority] : NO_ALERT);
/** What has returned by itself stands after what still goes on. */
const returned = ({ worst }: RoundLine): number => (worst?.state === 'returned-unacknowledged' ? 1 : 0);

/** Of one area. Equal ones keep their order. */
export const byPlace = (a: RoundLine, b: RoundLine): number =>
  placeOf(a) - placeOf(b) ||
  rank(a) - rank(b) ||
  returned(a) - returned(b) ||
  (b.worst?.raisedAt ?? '').localeCompare(a.worst?.raisedAt ?? '');

interface Told {
  readonly chambers: readonly RoundLine[];
}
const least = (values: readonly number[]): number => Math.min(NO_ALERT, ...values);

/**
 * Areas by their worst alert, of equal ones by the worst that nobody has; without any, those with chambers that are
 * not seen first. Equal ones keep the order of the fleet document.
 */
export const byWorst = (a: Told, b: Told): number => {
  const worst = ({ chambers }: Told) => least(chambers.map(rank));
  const waiting = ({ chambers }: Told) => least(chambers.filter((line) => !line.inHand).map(rank));
  const unseen = (told: Told) =>
    worst(told) < NO_ALERT || !told.chambers.some(({ health }) => health === 'blind' || health === 'stale') ? 1 : 0;
  return worst(a) - worst(b) || waiting(a) - waiting(b) || unseen(a) - unseen(b);
};
