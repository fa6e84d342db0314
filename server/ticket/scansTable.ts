/** Every scan of the span on a row of its own: what the trend was drawn from. */
import { csv } from '../csv.ts';
import { iso } from '../instant.ts';
import { plain, pressure } from '../present.ts';
import type { TicketFacts } from './facts.ts';

export const scansTable = ({ scans, gases, unit }: TicketFacts): string => {
  const head = [
    'at',
    'scan',
    'state',
    `gauge (${unit})`,
    `sum (${unit})`,
    `floor (${unit})`,
    'decades',
    'unexplained',
    ...gases.flatMap((gas) => [`${gas} (${unit})`, `${gas} low (${unit})`, `${gas} high (${unit})`, `${gas} detected`]),
    'notes',
    'calibration',
    'catalogue',
  ];
  const rows = scans.map((scan) => [
    iso(scan.at),
    scan.scanId,
    scan.state,
    pressure(scan.gaugePa, unit),
    pressure(scan.sumPa, unit),
    pressure(scan.floorPa, unit),
    plain(scan.decades),
    plain(scan.unexplained),
    ...gases.flatMap((name) => {
      const gas = scan.gases.find((one) => one.gas === name);
      if (!gas) return [null, null, null, null];
      // The value of a gas that was not detected would be read as a measurement; its upper limit stands in "high".
      const value = gas.detected ? pressure(gas.valuePa, unit) : null;
      return [value, pressure(gas.lowPa, unit), pressure(gas.highPa, unit), gas.detected];
    }),
    scan.notes.map((note) => note.text).join(' '),
    scan.calibrationVersion,
    scan.catalogueVersion,
  ]);
  return csv(head, rows);
};
