import { type Codec, choiceField, listField, textField } from '../address/codec.ts';

/** What is looked for on the round. */
export interface RoundFilter {
  readonly find: string;
  readonly area: string;
  readonly kind: string;
  readonly state: string;
  readonly tag: string;
  /** A gas that stands out of its bed. */
  readonly gas: string;
  /** Only what has changed since the last signed round. */
  readonly since: 'all' | 'changed';
}

export interface RoundAddress extends RoundFilter {
  /** Ids of the groups that stand unfolded, the one that was opened last at the end. */
  readonly open: readonly string[];
}

/** Keeps an address short enough for every mail; whoever opens more folds the first ones. */
export const MOST_OPEN = 30;

export const roundCodec: Codec<RoundAddress> = {
  find: textField(),
  area: textField(64),
  kind: textField(60),
  state: textField(40),
  tag: textField(40),
  gas: textField(40),
  since: choiceField(['all', 'changed'], 'all'),
  open: listField(MOST_OPEN),
};

/** Nothing is looked for. */
export const EVERYTHING: RoundFilter = { find: '', area: '', kind: '', state: '', tag: '', gas: '', since: 'all' };

/** The open groups after a press on one of them. */
export const toggled = (open: readonly string[], group: string): readonly string[] =>
  open.includes(group) ? open.filter((id) => id !== group) : [...open, group].slice(-MOST_OPEN);

/** The list of signed rounds. */
export interface RoundsAddress {
  readonly area: string;
  readonly show: number;
}

export const FIRST_ROUNDS = 50;
/** As many as the server gives at once. */
export const MOST_ROUNDS = 200;
const shownRounds = (asked: number): number => Math.min(MOST_ROUNDS, Math.max(FIRST_ROUNDS, asked));

export const roundsCodec: Codec<RoundsAddress> = {
  area: textField(64),
  show: {
    read: (text) => (text !== null && /^\d{1,3}$/.test(text) ? shownRounds(Number(text)) : FIRST_ROUNDS),
    write: (value) => (value === FIRST_ROUNDS ? null : String(value)),
  },
};
