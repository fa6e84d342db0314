import { type Codec, choiceField, textField } from '../address/codec.ts';
import { type SpanAddress, spanCodec } from '../chamber/address.ts';
import { QUANTITIES, type Quantity } from './quantities.ts';

export interface MeasurementAddress {
  readonly find: string;
  readonly area: string;
  readonly show: 'all' | 'with-remark';
}

export const measurementCodec: Codec<MeasurementAddress> = {
  find: textField(),
  area: textField(64),
  show: choiceField(['all', 'with-remark'], 'all'),
};

export interface AnalyserAddress extends SpanAddress {
  readonly quantity: Quantity;
  readonly view: 'chart' | 'table';
  readonly residuals: 'chart' | 'table';
  readonly plan: 'chart' | 'table';
  /** What the planner is asked: a gas, and a pressure as it was typed, in pascal. */
  readonly gas: string;
  readonly pressure: string;
}

export const analyserCodec: Codec<AnalyserAddress> = {
  quantity: choiceField(QUANTITIES, 'floor'),
  ...spanCodec('7d'),
  view: choiceField(['chart', 'table'], 'chart'),
  residuals: choiceField(['chart', 'table'], 'chart'),
  plan: choiceField(['chart', 'table'], 'chart'),
  gas: textField(40),
  pressure: textField(24),
};
