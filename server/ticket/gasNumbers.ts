/** Each gas of a ticket over its scans: what the summary tells, and the page. */
import type { TicketGas } from '../../shared/contract/ticket.ts';
import { middleAndExtremes } from '../../shared/db/series.ts';
import { gasName } from '../gasNames.ts';
import { iso } from '../instant.ts';
import { pressure } from '../present.ts';
import type { TicketFacts } from './facts.ts';

const lastOf = (gas: string, { scans, unit }: TicketFacts): TicketGas['last'] => {
  for (const scan of [...scans].reverse()) {
    const found = scan.gases.find((one) => one.gas === gas);
    if (found)
      return {
        at: iso(scan.at),
        // Below detection there is a limit and no value.
        value: found.detected ? pressure(found.valuePa, unit) : null,
        low: pressure(found.lowPa, unit),
        high: pressure(found.highPa, unit),
        detected: found.detected,
      };
  }
  return null;
};

export const gasNumbers = (gas: string, facts: TicketFacts): TicketGas => {
  const { scans, unit } = facts;
  const estimates = scans.flatMap((scan) => scan.gases.filter((one) => one.gas === gas));
  const found = middleAndExtremes(estimates.filter((one) => one.detected).map((one) => one.valuePa));
  const limits = middleAndExtremes(estimates.filter((one) => !one.detected).map((one) => one.highPa));
  return {
    gas,
    name: gasName(gas),
    scans: estimates.length,
    detected: estimates.filter((one) => one.detected).length,
    median: pressure(found?.median, unit),
    least: pressure(found?.min, unit),
    greatest: pressure(found?.max, unit),
    limit: pressure(limits?.max, unit),
    last: lastOf(gas, facts),
  };
};
