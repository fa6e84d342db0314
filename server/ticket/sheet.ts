/** A ticket as its page shows it: what the zip holds, with the digest of every file, so that the two can be compared. */
import { createHash } from 'node:crypto';
import type { TicketSheet } from '../../shared/contract/ticket.ts';
import { iso } from '../instant.ts';
import { calibrationWords } from './calibrations.ts';
import { ticketCautions } from './cautions.ts';
import type { TicketFacts } from './facts.ts';
import { gasNumbers } from './gasNumbers.ts';
import { ticketFiles, zipOf } from './ticket.ts';
import { calibrationVersions, catalogueVersions, permalink, zipName, zipPath } from './versions.ts';

const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex');

export const ticketSheet = (facts: TicketFacts): TicketSheet => {
  const { chamber, span, alert, alerts, trend } = facts;
  const files = ticketFiles(facts);
  const zip = zipOf(files);
  return {
    site: facts.site,
    version: facts.version,
    chamber: { ...chamber },
    analyser: facts.analyser,
    from: iso(span.from),
    to: iso(span.to),
    unit: facts.unit,
    scans: facts.scans.length,
    gases: facts.gases.map((gas) => gasNumbers(gas, facts)),
    alert,
    alerts: [...alerts],
    notes: [...facts.notes],
    gaps: trend.gaps.map((gap) => ({ ...gap })),
    calibrationVersions: calibrationVersions(facts),
    calibrations: facts.calibrations.map((entry) => calibrationWords(entry, chamber.timeZone)),
    catalogueVersions: catalogueVersions(facts),
    cautions: ticketCautions(facts),
    picture: files['trend.svg'],
    permalink: permalink(facts),
    file: { path: zipPath(facts), name: zipName(facts), bytes: zip.length, sha256: sha256(zip) },
    sha256: Object.fromEntries(Object.entries(files).map(([name, text]) => [name, sha256(text)])),
  };
};
