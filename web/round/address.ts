import { type Codec, textField } from '../address/codec.ts';

export interface RoundAddress {
  readonly find: string;
  readonly area: string;
  readonly kind: string;
  readonly state: string;
  readonly tag: string;
}
export const roundCodec: Codec<RoundAddress> = {
  find: textField(),
  area: textField(64),
  kind: textField(60),
  state: textField(40),
  tag: textField(40),
};
