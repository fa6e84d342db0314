/** What is to be minded by whoever acts on a ticket: cautions of its alerts, hazards of its gases, and who comes first. */
import { GASES } from '../../shared/catalogue/gases.ts';
import { SIGNATURES_BY_ID } from '../../shared/catalogue/signatures.ts';
import type { TicketFacts } from './facts.ts';

export const ticketCautions = ({ alert, alerts, gases }: TicketFacts): string[] => {
  const about = alert === null ? alerts : [alert];
  const words = new Set(about.flatMap(({ signature }) => SIGNATURES_BY_ID[signature].cautions));
  const hazards = GASES.filter((gas) => gases.includes(gas.id)).flatMap((gas) =>
    gas.hazards.length === 0 ? [] : [`${gas.name}: ${gas.hazards.join(', ')}`],
  );
  return [
    ...words,
    ...(hazards.length > 0 ? [`Gases named here: ${hazards.join('; ')}.`] : []),
    'Local codes, the site’s procedures and licensed practice come first. Never bypass an interlock because of what stands here.',
  ];
};
