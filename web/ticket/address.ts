import { PRESSURE_UNITS, type PressureUnit } from '../../shared/contract/words.ts';
import { type Codec, choiceField, listField, textField, writeAddress } from '../address/codec.ts';
import { exactInstantField } from '../address/exactInstant.ts';

/** What a ticket is about. The address says it all, so that the same address is the same ticket. */
export interface TicketAddress {
  /** RFC 3339 to the millisecond; empty: the server finds the span. */
  readonly from: string;
  readonly to: string;
  readonly gases: readonly string[];
  readonly alert: string;
  readonly analyser: string;
  readonly unit: PressureUnit;
}

/** As many as a ticket may name. */
const MOST_GASES = 24;

/** Times are kept to the millisecond: a span that ends with a scan must not lose that scan. */
export const ticketCodec: Codec<TicketAddress> = {
  from: exactInstantField,
  to: exactInstantField,
  gases: listField(MOST_GASES),
  alert: textField(64),
  analyser: textField(64),
  unit: choiceField(PRESSURE_UNITS, 'Pa'),
};

export interface TicketAsked {
  readonly chamber: string;
  readonly span: { readonly from: number; readonly to: number };
  readonly gases: readonly string[];
  readonly alert: string | null;
  readonly analyser?: string;
  readonly unit: PressureUnit;
}

const wholeSecond = (ms: number): string => new Date(Math.floor(ms / 1000) * 1000).toISOString();

/** The address of a ticket's page. Relative spans are settled here: a link to a ticket never moves with the clock. */
export function ticketAddress({ chamber, span, gases, alert, analyser, unit }: TicketAsked): string {
  const address = writeAddress(ticketCodec, {
    from: wholeSecond(span.from),
    to: wholeSecond(span.to),
    gases,
    alert: alert ?? '',
    analyser: analyser ?? '',
    unit,
  });
  return `/chambers/${encodeURIComponent(chamber)}/ticket?${address}`;
}
