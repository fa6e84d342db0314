import { type Codec, choiceField, instantField, textField } from '../address/codec.ts';
import type { PerformanceAsked } from '../api/alarmQuestions.ts';
import { isFixed } from '../chamber/span.ts';
import type { Span } from '../charts/zoom.ts';

export const SPANS = ['7d', '30d', '90d', '365d'] as const;
export type LookBack = (typeof SPANS)[number];
const DAYS: Readonly<Record<LookBack, number>> = { '7d': 7, '30d': 30, '90d': 90, '365d': 365 };
const DAY_MS = 86_400_000;

export const RESPONDER_CHOICES = ['all', 'operator', 'engineer'] as const;

export interface PerformanceAddress {
  readonly area: string;
  readonly responder: (typeof RESPONDER_CHOICES)[number];
  readonly last: LookBack;
  /** Both set: a fixed span instead. */
  readonly from: number | null;
  readonly to: number | null;
}

export const performanceCodec: Codec<PerformanceAddress> = {
  area: textField(64),
  responder: choiceField(RESPONDER_CHOICES, 'all'),
  last: choiceField(SPANS, '30d'),
  from: instantField,
  to: instantField,
};

export const shownSpan = (address: PerformanceAddress, nowMs: number): Span =>
  address.from !== null && address.to !== null && isFixed(address)
    ? { from: Math.min(address.from, address.to), to: Math.max(address.from, address.to) }
    : { from: nowMs - DAYS[address.last] * DAY_MS, to: nowMs };

/** A look back moves with the clock and is the same question all the time. */
export const askedOf = (address: PerformanceAddress, nowMs: number): PerformanceAsked => ({
  area: address.area,
  responder: address.responder === 'all' ? '' : address.responder,
  span: isFixed(address) ? shownSpan(address, nowMs) : { lastDays: DAYS[address.last] },
});
