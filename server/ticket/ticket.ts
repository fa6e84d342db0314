/**
 * The zip for a maintenance ticket. The same facts give the same bytes: fixed order, fixed times, no clock inside. What
 * people add to the span later (a move of an alert, a note) is a new fact, and only that changes them.
 */
import { createHash } from 'node:crypto';
import { strToU8, zipSync } from 'fflate';
import { iso } from '../instant.ts';
import { trendTable } from '../trend.ts';
import type { TicketFacts } from './facts.ts';
import { picture } from './picture.ts';
import { scansTable } from './scansTable.ts';
import { summary } from './summary.ts';
import { calibrationVersions, catalogueVersions, permalink } from './versions.ts';

/** The earliest time that a zip can hold. A zip keeps the local clock's figures, so the same figures are made anywhere. */
const fixedTime = (): Date => new Date(1980, 0, 1);

const json = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

const manifest = (facts: TicketFacts, files: Record<string, string>): string => {
  const { scans, chamber, analyser, span, unit, gases, alert } = facts;
  const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');
  return json({
    product: 'Ullage',
    version: facts.version,
    chamber: chamber.id,
    analyser,
    alert: alert?.id ?? null,
    from: iso(span.from),
    to: iso(span.to),
    timeZone: chamber.timeZone,
    unit,
    gases,
    scans: scans.length,
    gaps: facts.trend.gaps,
    notes: facts.notes,
    calibrationVersions: calibrationVersions(facts),
    calibrations: facts.calibrations,
    catalogueVersions: catalogueVersions(facts),
    permalink: permalink(facts),
    sha256: Object.fromEntries(Object.entries(files).map(([name, text]) => [name, sha256(text)])),
  });
};

/** The files of a ticket by their names, the manifest last: it holds the digests of the others. */
export const ticketFiles = (facts: TicketFacts) => {
  const files = {
    'summary.md': summary(facts),
    'trend.csv': trendTable(facts.trend),
    'trend.svg': picture(facts),
    'scans.csv': scansTable(facts),
    'alert.json': json(facts.alert ?? { alerts: facts.alerts }),
  };
  return { ...files, 'manifest.json': manifest(facts, files) };
};

export const zipOf = (files: Readonly<Record<string, string>>): Uint8Array =>
  zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])), {
    mtime: fixedTime(),
    level: 6,
    os: 3,
    attrs: 0o100644 << 16,
  });

export const ticketZip = (facts: TicketFacts): Uint8Array => zipOf(ticketFiles(facts));
