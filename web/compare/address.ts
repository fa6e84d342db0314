import { type Codec, choiceField, instantField, textField } from '../address/codec.ts';
import { type SpanAddress, spanCodec } from '../chamber/address.ts';

export const MODES = ['before', 'sisters', 'two'] as const;
export type Mode = (typeof MODES)[number];

export interface CompareAddress extends SpanAddress {
  /** Empty: not said; see `modeOf`. */
  readonly mode: Mode | '';
  readonly chamber: string;
  /** Before and after: the alert whose repair is meant; `none`: none is. */
  readonly alert: string;
  readonly analyser: string;
  readonly beforeFrom: number | null;
  readonly beforeTo: number | null;
  readonly afterFrom: number | null;
  readonly afterTo: number | null;
  /** Sister chambers: another state than the present one. */
  readonly state: string;
  readonly first: string;
  readonly second: string;
  /** The gas to which both are related. */
  readonly relativeTo: string;
  /** Before and after: one scan of each side is drawn. */
  readonly spectra: '' | 'shown';
  readonly scale: 'log' | 'linear';
}

export const compareCodec: Codec<CompareAddress> = {
  mode: choiceField(['', ...MODES], ''),
  chamber: textField(64),
  alert: textField(64),
  analyser: textField(64),
  beforeFrom: instantField,
  beforeTo: instantField,
  afterFrom: instantField,
  afterTo: instantField,
  state: textField(24),
  first: textField(64),
  second: textField(64),
  relativeTo: textField(40),
  spectra: choiceField(['', 'shown'], ''),
  scale: choiceField(['log', 'linear'], 'log'),
  ...spanCodec('30h'),
};

/** A link that names two analysers means them, also one from before there was a choice. */
export const modeOf = ({ mode, first, second, relativeTo }: CompareAddress): Mode =>
  mode === '' ? (first !== '' || second !== '' || relativeTo !== '' ? 'two' : 'before') : mode;

/** What stays when another chamber is chosen: the kind of comparison alone. */
export const ofChamber = (chamber: string): Partial<CompareAddress> => ({
  chamber,
  alert: '',
  analyser: '',
  beforeFrom: null,
  beforeTo: null,
  afterFrom: null,
  afterTo: null,
  state: '',
  first: '',
  second: '',
  relativeTo: '',
  spectra: '',
});

export type Change = (part: Partial<CompareAddress>, how?: 'push' | 'replace') => void;
