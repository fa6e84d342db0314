/** A span of time in a query string: `from` and `to`, each optional. */
import { Instant, Type } from '../shared/contract/schema.ts';
import { impossible } from './errors.ts';
import { queryInstant } from './instant.ts';

export const SpanQuery = {
  from: Type.Optional({ ...Instant, description: 'RFC 3339; default: 24 h before `to`' }),
  to: Type.Optional({ ...Instant, description: 'RFC 3339; default: now' }),
};

export interface Span {
  from: Date;
  to: Date;
}

const DAY_MS = 86_400_000;

/** @throws 400 for what is no time, 422 for a span that ends before it begins */
export const readSpan = (query: { from?: string; to?: string }, defaultTo: Date): Span => {
  const to = queryInstant('to', query.to) ?? defaultTo;
  const from = queryInstant('from', query.from) ?? new Date(to.getTime() - DAY_MS);
  if (from >= to) throw impossible('from', 'must lie before to');
  return { from, to };
};
