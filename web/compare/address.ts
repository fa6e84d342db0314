import { type Codec, textField } from '../address/codec.ts';
import { type SpanAddress, spanCodec } from '../chamber/address.ts';

export interface CompareAddress extends SpanAddress {
  readonly chamber: string;
  readonly first: string;
  readonly second: string;
  /** The gas to which both are related. */
  readonly relativeTo: string;
}

export const compareCodec: Codec<CompareAddress> = {
  chamber: textField(64),
  first: textField(64),
  second: textField(64),
  relativeTo: textField(40),
  ...spanCodec('30h'),
};
