import { query } from '../api/ask.ts';
import type { Span } from '../charts/zoom.ts';

export interface TicketAsked {
  readonly chamber: string;
  readonly span: Span;
  readonly gases: readonly string[];
  readonly alert: string | null;
}

/** The address of the ticket's zip: the same address gives the same bytes, so times are whole seconds. */
export function ticketAddress({ chamber, span, gases, alert }: TicketAsked): string {
  const instant = (ms: number) => new Date(Math.floor(ms / 1000) * 1000).toISOString().replace('.000Z', 'Z');
  return `/api/v1/chambers/${encodeURIComponent(chamber)}/ticket${query({
    from: instant(span.from),
    to: instant(span.to),
    gases: gases.join(','),
    alert,
  })}`;
}
