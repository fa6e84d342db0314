import { type Span, settled } from '../charts/zoom.ts';
import { RANGE_SECONDS, type SpanAddress } from './address.ts';

/** A fixed span when both ends are in the address, else the range that ends now. */
export function spanOf(address: SpanAddress, nowMs: number): Span {
  const { from, to, range } = address;
  if (from !== null && to !== null && from !== to) return settled({ from, to }, nowMs);
  return { from: nowMs - RANGE_SECONDS[range] * 1000, to: nowMs };
}

export const isFixed = ({ from, to }: Pick<SpanAddress, 'from' | 'to'>): boolean =>
  from !== null && to !== null && from !== to;

/** Ends of a span as the address keeps them: whole seconds. */
export const spanFields = (span: Span): { from: number; to: number } => ({
  from: Math.floor(span.from / 1000) * 1000,
  to: Math.ceil(span.to / 1000) * 1000,
});

/** How a span is asked for: a range moves with the clock and is the same question all the time. */
export const askedSpan = (address: SpanAddress, nowMs: number): Span | { readonly lastSeconds: number } =>
  isFixed(address) ? spanOf(address, nowMs) : { lastSeconds: RANGE_SECONDS[address.range] };
