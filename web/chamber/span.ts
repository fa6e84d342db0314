import { type Span, settled } from '../charts/zoom.ts';
import { type ChamberAddress, RANGE_SECONDS } from './address.ts';

/** A fixed span when both ends are in the address, else the range that ends now. */
export function spanOf(address: Pick<ChamberAddress, 'from' | 'to' | 'range'>, nowMs: number): Span {
  const { from, to, range } = address;
  if (from !== null && to !== null && from !== to) return settled({ from, to }, nowMs);
  return { from: nowMs - RANGE_SECONDS[range] * 1000, to: nowMs };
}

export const isFixed = ({ from, to }: Pick<ChamberAddress, 'from' | 'to'>): boolean =>
  from !== null && to !== null && from !== to;

/** Ends of a span as the address keeps them: whole seconds. */
export const spanFields = (span: Span): { from: number; to: number } => ({
  from: Math.floor(span.from / 1000) * 1000,
  to: Math.ceil(span.to / 1000) * 1000,
});
