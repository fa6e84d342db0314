/** With what the readings of a ticket were worked out, and where the same ticket is found again. */
import { iso } from '../instant.ts';
import type { TicketFacts } from './facts.ts';

const distinct = (words: readonly string[]): string[] => [...new Set(words)].sort();

export const calibrationVersions = ({ scans }: Pick<TicketFacts, 'scans'>): string[] =>
  distinct(scans.map((scan) => scan.calibrationVersion));
export const catalogueVersions = ({ scans }: Pick<TicketFacts, 'scans'>): string[] =>
  distinct(scans.map((scan) => scan.catalogueVersion));

/** Everything that was asked, with the span that was found for it: nothing of it follows the clock. */
const question = ({ span, gases, alert, analyser, unit }: TicketFacts): string => {
  const fields = new URLSearchParams({ from: iso(span.from), to: iso(span.to), gases: gases.join(',') });
  if (alert !== null) fields.set('alert', alert.id);
  fields.set('analyser', analyser);
  if (unit !== 'Pa') fields.set('unit', unit);
  return fields.toString();
};

/** The page of the ticket: an address on this server, without its name, which a request may spell in many ways. */
export const permalink = (facts: TicketFacts): string =>
  `/chambers/${encodeURIComponent(facts.chamber.id)}/ticket?${question(facts)}`;

/** The zip of the same ticket. */
export const zipPath = (facts: TicketFacts): string => `/api/v1${permalink(facts)}`;

export const zipName = ({ chamber, span }: TicketFacts): string =>
  `ticket-${chamber.id}-${iso(span.to).slice(0, 10)}.zip`;
