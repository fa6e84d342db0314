import { type Codec, choiceField, textField } from '../address/codec.ts';

export interface RecordsAddress {
  /** Kind of chamber; empty: what holds for every kind without a record of its own. */
  readonly kind: string;
  readonly find: string;
  readonly show: 'all' | 'written-anew';
}
export const recordsCodec: Codec<RecordsAddress> = {
  kind: textField(60),
  find: textField(),
  show: choiceField(['all', 'written-anew'], 'all'),
};

export interface RecordAddress {
  readonly kind: string;
  /** The form is open. */
  readonly edit: 'no' | 'yes';
  readonly rehearsal: string;
}
export const recordCodec: Codec<RecordAddress> = {
  kind: textField(60),
  edit: choiceField(['no', 'yes'], 'no'),
  rehearsal: textField(64),
};
