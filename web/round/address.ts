import { type Codec, choiceField, textField } from '../address/codec.ts';

export interface RoundAddress {
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
export const roundCodec: Codec<RoundAddress> = {
  find: textField(),
  area: textField(64),
  kind: textField(60),
  state: textField(40),
  tag: textField(40),
  gas: textField(40),
  since: choiceField(['all', 'changed'], 'all'),
};
/** Nothing is looked for. */
export const EVERYTHING: RoundAddress = { find: '', area: '', kind: '', state: '', tag: '', gas: '', since: 'all' };
