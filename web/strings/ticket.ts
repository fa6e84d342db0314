import { catalogue } from './catalogue.ts';
import { many } from './plural.ts';

const SCAN = { one: 'scan', other: 'scans' };
const GAP = { one: 'gap', other: 'gaps' };

export const words = catalogue({
  ticket: 'Ticket',
  titleOf: (chamber: string) => `Ticket for ${chamber}`,
  what: 'The ticket',
  /** Name of the chamber, its area, its analyser. */
  about: (area: string, analyser: string) => `ticket · ${area} · analyser ${analyser}`,
  span: (from: string, to: string, zone: string) => `${from} to ${to} (${zone})`,
  scans: (n: number) => many(n, SCAN),
  noAlert: 'No alert stood in this span.',
  alertsStood: (n: number) => `${many(n, { one: 'alert', other: 'alerts' })} stood in this span.`,
  noScan: 'There is no scan in this span.',

  print: 'Print or save as PDF',
  download: 'Download the files (zip)',
  backToChamber: 'The chamber',
  backToAlert: 'The alert',
  zipHolds: 'The zip holds the summary, the trend as a table and a picture, every scan, the alert and a manifest.',

  impossible: 'No ticket can be made of this.',
  fault: (field: string, problem: string) => `${field}: ${problem}`,
  askShorter: 'Choose another span on the chamber’s page.',

  evidence: 'Evidence',
  alsoStood: 'Also stood in this span',

  trend: 'Trend',
  pictureMargin: 'the same picture as trend.svg in the zip',
  pictureSays: (chamber: string, span: string, gases: string, unit: string) =>
    `Partial pressures of ${chamber} in ${unit}, ${span}: ${gases}. The numbers stand in the table below.`,

  numbers: 'Numbers',
  numbersMargin: (unit: string) => `partial pressures in ${unit}; intervals at 95\u00a0%`,
  gas: 'Gas',
  median: 'Median',
  leastToGreatest: 'Least to greatest',
  last: 'Last scan',
  seenBy: 'Detected by',
  seenOf: (detected: number, scans: number) => `${detected} of ${scans}`,
  notMeasured: 'not measured',
  noAnswer: 'no answer',
  below: (limit: string) => `below ${limit}`,
  range: (from: string, to: string) => `${from} to ${to}`,
  valueIn: (number: string, unit: string) => `${number}, ${unit}`,

  gaps: 'Data gaps',
  noGaps: 'None: scans cover the span.',
  gapsSum: (n: number, length: string) => `${many(n, GAP)}, ${length} in all.`,
  gap: (from: string, to: string, length: string) => `No scans from ${from} to ${to}: ${length}.`,

  done: 'What was done',
  when: 'When',
  who: 'Who',
  move: 'Move',
  state: 'State then',
  note: 'Note',
  theWatch: 'the watch',

  notes: 'Notes',
  notesMargin: 'in the zip: summary.md and manifest.json',
  noteAt: (when: string, text: string) => `${when}: ${text}`,
  noteBy: (by: string, when: string) => `${by}, written ${when}.`,
  noteWithdrawn: (by: string, when: string) => `Withdrawn by ${by}, ${when}.`,

  inForce: 'Worked out with',
  calibration: 'Calibration',
  catalogue: 'Catalogue',
  software: 'Software',
  ullage: (version: string) => `Ullage ${version}`,
  none: 'none',

  cautions: 'Cautions',

  foot: 'This ticket',
  address: 'Address',
  file: 'File',
  digest: 'SHA-256',
  bytes: (name: string, bytes: string) => `${name}, ${bytes} bytes`,
  sameBytes: 'The same address gives the same bytes until a scan, a move of an alert or a note is added to this span.',
});
