import { type Codec, choiceField, type Field, instantField, listField, textField } from '../address/codec.ts';
import { exactInstantField } from '../address/exactInstant.ts';
import { MOST_LINES } from '../charts/strokes.ts';

export const RANGES = ['8h', '30h', '7d', '90d'] as const;
export type Range = (typeof RANGES)[number];
const HOUR = 3600;
export const RANGE_SECONDS: Readonly<Record<Range, number>> = {
  '8h': 8 * HOUR,
  '30h': 30 * HOUR,
  '7d': 7 * 24 * HOUR,
  '90d': 90 * 24 * HOUR,
};

/** The span that a page shows, as its address keeps it. */
export interface SpanAddress {
  readonly range: Range;
  /** Both set: a fixed span instead of the range. */
  readonly from: number | null;
  readonly to: number | null;
}

export const spanCodec = (fallback: Range): Codec<SpanAddress> => ({
  range: choiceField(RANGES, fallback),
  from: instantField,
  to: instantField,
});

export interface ChamberAddress extends SpanAddress {
  readonly alert: string;
  readonly analyser: string;
  readonly gases: readonly string[];
  readonly view: 'chart' | 'table';
  readonly scale: 'log' | 'linear';
  /** The scan whose spectrum is shown, by its time; empty: the newest. */
  readonly scan: string;
  readonly peaks: 'bars' | 'profile';
  /** What stands behind the spectrum: what is usual, nothing, or the scan of this time. */
  readonly ghost: string;
  /** The moment at which the trend is read. */
  readonly cross: number | null;
  /** A task whose recomputed readings are drawn beside those that were judged. */
  readonly recomputation: string;
  /** A rehearsal of other limits that is shown in their form; one of a baseline, beside its proposal. */
  readonly rehearsal: string;
  readonly pinned: string;
}

export const USUAL = 'usual';
export const NO_GHOST = 'none';

const ghostField: Field<string> = {
  read: (text) => (text === NO_GHOST ? NO_GHOST : exactInstantField.read(text) || USUAL),
  write: (value) => (value === USUAL ? null : value === NO_GHOST ? NO_GHOST : exactInstantField.write(value)),
};

export const chamberCodec: Codec<ChamberAddress> = {
  alert: textField(64),
  analyser: textField(64),
  ...spanCodec('30h'),
  gases: listField(MOST_LINES),
  view: choiceField(['chart', 'table'], 'chart'),
  scale: choiceField(['log', 'linear'], 'log'),
  scan: exactInstantField,
  peaks: choiceField(['bars', 'profile'], 'bars'),
  ghost: ghostField,
  cross: instantField,
  recomputation: textField(64),
  rehearsal: textField(64),
  pinned: textField(64),
};
