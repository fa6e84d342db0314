/** The page of a ticket that a person reads: what is wrong, how sure, the numbers behind it, and what to mind. */
import { SIGNATURES_BY_ID } from '../../shared/catalogue/signatures.ts';
import { gasName } from '../gasNames.ts';
import { localTime } from '../localTime.ts';
import { calibrationWords } from './calibrations.ts';
import { ticketCautions } from './cautions.ts';
import type { AlertWithMoves, TicketFacts } from './facts.ts';
import { gasNumbers } from './gasNumbers.ts';
import { noteLife } from './notes.ts';
import { gapSeconds, lasting } from './paper.ts';
import { calibrationVersions, catalogueVersions, permalink } from './versions.ts';

/** Names and notes are people's text: nothing in them may become a heading, a table or a link. */
const text = (value: string): string => value.replace(/[\\`*_{}[\]|<>~]/g, '\\$&').replace(/\s*[\r\n]+\s*/g, ' ');

const table = (head: readonly string[], rows: readonly (readonly string[])[]): string[] => [
  `| ${head.join(' | ')} |`,
  `|${head.map(() => '---').join('|')}|`,
  ...rows.map((row) => `| ${row.join(' | ')} |`),
];

/** Files write powers as `3.1e-8`; two digits, as measured. */
const figure = (value: number | null): string => {
  if (value === null) return '';
  const size = Math.abs(value);
  return size >= 0.01 && size < 9999.5 ? String(Number(value.toPrecision(2))) : value.toExponential(1);
};
/** A ratio has the unit 1, which nobody writes. */
const withUnit = (value: string, unit: string): string => (unit === '1' || unit === '' ? value : `${value} ${unit}`);

const evidenceOf = (alert: AlertWithMoves): string[] => [
  '### Evidence',
  '',
  ...table(
    ['what', 'found', 'expected', 'so'],
    alert.evidence.map(({ name, value, low, high, unit, expected, verdict }) => {
      const interval = low == null || high == null ? '' : ` (${figure(low)} to ${figure(high)})`;
      const found = value === null ? 'cannot tell' : withUnit(`${figure(value)}${interval}`, unit);
      return [name, found, expected ?? '', verdict].map(text);
    }),
  ),
  '',
];

const lifeOf = (alert: AlertWithMoves, zone: string): string[] => [
  '### What was done',
  '',
  ...table(
    ['when', 'who', 'move', 'state', 'note'],
    alert.moves.map((move) =>
      [localTime(new Date(move.at), zone), move.by ?? 'the watch', move.move, move.to, move.note ?? ''].map(text),
    ),
  ),
  '',
];

const alertPart = (alert: AlertWithMoves, zone: string): string[] => {
  const sheet = SIGNATURES_BY_ID[alert.signature];
  const rate = alert.leakRate;
  return [
    `## ${text(sheet.title)}`,
    '',
    text(alert.summary),
    '',
    `- Priority: ${alert.priority}; state: ${alert.state}`,
    `- Raised: ${localTime(new Date(alert.raisedAt), zone)}`,
    ...(alert.returnedAt ? [`- Condition returned: ${localTime(new Date(alert.returnedAt), zone)}`] : []),
    `- How sure: ${alert.sureness}`,
    ...(alert.gases.length > 0 ? [`- Gases: ${alert.gases.map((gas) => text(gasName(gas))).join(', ')}`] : []),
    ...(rate ? [`- Leak rate: ${figure(rate.value)} Pa·m³/s (${figure(rate.low)} to ${figure(rate.high)})`] : []),
    ...(alert.firstStep ? [`- ${text(alert.firstStep)}`] : []),
    ...(alert.settle ? [`- What would settle it: ${text(alert.settle)}`] : []),
    ...alert.alternatives.map(
      ({ signature, why }) => `- It could also be ${text(SIGNATURES_BY_ID[signature].title)}: ${text(why)}`,
    ),
    '',
    ...evidenceOf(alert),
    ...lifeOf(alert, zone),
  ];
};

const gasRow = (gas: string, facts: TicketFacts): string[] => {
  const { name, scans, detected, median, least, greatest, limit } = gasNumbers(gas, facts);
  const head = `${gas} (${name})`;
  if (scans === 0) return [head, 'not measured', '', '', ''].map(text);
  const seen = `${detected} of ${scans}`;
  if (median === null) return [head, limit === null ? 'no answer' : `below ${figure(limit)}`, '', '', seen].map(text);
  return [head, figure(median), figure(least), figure(greatest), seen].map(text);
};

const gapLines = ({ trend, scans }: TicketFacts, zone: string): string[] => {
  if (scans.length === 0) return ['- There is no scan in this span at all.'];
  if (trend.gaps.length === 0) return ['- None: scans cover the span.'];
  return trend.gaps.map((gap) => {
    const [from, to] = [localTime(new Date(gap.from), zone), localTime(new Date(gap.to), zone)];
    return `- No scans from ${from} to ${to}: ${lasting(gapSeconds(gap))}`;
  });
};

const notesPart = ({ notes }: TicketFacts, zone: string): string[] =>
  notes.length === 0
    ? ['- None in this span.']
    : table(
        ['moment', 'note', 'by'],
        notes.map((note) => [localTime(new Date(note.at), zone), note.text, noteLife(note, zone)].map(text)),
      );

export const summary = (facts: TicketFacts): string => {
  const { chamber, span, unit, alert, alerts, scans } = facts;
  const zone = chamber.timeZone;
  const calibrations = calibrationVersions(facts);
  const catalogues = catalogueVersions(facts);
  return [
    `# ${text(chamber.name)} (${text(chamber.id)})`,
    '',
    `${text(facts.site)}, ${text(chamber.areaName)}. From ${localTime(span.from, zone)} to ${localTime(span.to, zone)} (${zone}); analyser ${text(facts.analyser)}, ${scans.length} scans.`,
    '',
    ...(alert === null ? alerts.flatMap((one) => alertPart(one, zone)) : alertPart(alert, zone)),
    ...(alert === null && alerts.length === 0 ? ['No alert stood in this span.', ''] : []),
    `## Partial pressures, ${unit}`,
    '',
    ...table(
      ['gas', 'median', 'least', 'greatest', 'scans that detect it'],
      facts.gases.map((gas) => gasRow(gas, facts)),
    ),
    '',
    'Intervals at 95 % and every single scan: scans.csv. Below detection there is a limit and no value.',
    '',
    '## Data gaps',
    '',
    ...gapLines(facts, zone),
    '',
    '## Notes',
    '',
    ...notesPart(facts, zone),
    '',
    '## Cautions',
    '',
    ...ticketCautions(facts).map((line) => `- ${text(line)}`),
    '',
    '## In force',
    '',
    `- Calibration: ${calibrations.map(text).join(', ') || 'none'}`,
    ...facts.calibrations.map((entry) => `- ${text(calibrationWords(entry, zone))}`),
    `- Catalogue: ${catalogues.map(text).join(', ') || 'none'}`,
    `- Ullage ${facts.version}`,
    `- Address of this ticket on the server: ${permalink(facts)}`,
    '- It gives the same files, byte for byte, until a scan, a move of an alert or a note is added to this span.',
    '',
  ].join('\n');
};
