import type { MeasurementLine } from '../../shared/contract/measurement.ts';
import { counted } from '../notation/counted.ts';
import { capital } from '../notation/sentence.ts';
import { words as all } from '../strings/measurementList.ts';
import type { MeasurementAddress } from './address.ts';

const said = all.lines;

export const needsLook = (line: MeasurementLine): boolean => line.remark !== null;
const isUnseen = (line: MeasurementLine): boolean => line.at === null;

const analysers = (n: number): string => (n === 1 ? 'analyser' : 'analysers');

/**
 * The answer of the page: how many analysers a person should look at before trusting them. One that is silent or has
 * sent nothing yet is never counted among those that are well.
 */
export function listSentence(lines: readonly MeasurementLine[], isStale: (line: MeasurementLine) => boolean): string {
  const all = lines.length;
  const bad = lines.filter(needsLook).length;
  const quiet = lines.filter((line) => !needsLook(line));
  const unseen = quiet.filter(isUnseen).length;
  const stale = quiet.filter((line) => !isUnseen(line) && isStale(line)).length;
  const well = quiet.length - unseen - stale;
  if (all === 0) return said.noAnalyserIsIn;
  if (unseen === all) return said.nothingCanBeSaid(counted(all), analysers(all));
  const missing = missingText(unseen, said.sentNoScanYet) + missingText(stale, said.beenSilentForA);
  if (bad === 0 && well === 0) return said.howTheAnalysersMeasure(missing);
  if (bad === 0) {
    if (all === 1) return said.nothingSpeaksAgainstThe;
    return said.nothingSpeaksAgainstTheAnalysers(well === all ? said.anyOf : said.of(counted(well)), all, missing);
  }
  const them = bad === 1 ? 'it' : 'them';
  return said.ofALookBefore(capital(counted(bad)), all, analysers(all), bad === 1 ? 'needs' : 'need', them, missing);
}

const missingText = (n: number, what: string): string =>
  n === 0 ? '' : ` ${capital(counted(n))} ${n === 1 ? 'has' : 'have'} ${what}.`;

/** Those with a remark first, then by name of the chamber. */
const byNeed = (a: MeasurementLine, b: MeasurementLine): number =>
  Number(needsLook(b)) - Number(needsLook(a)) ||
  a.chamberName.localeCompare(b.chamberName, 'en', { numeric: true }) ||
  a.analyser.localeCompare(b.analyser, 'en', { numeric: true });

export interface AreaLines {
  readonly area: string;
  readonly lines: readonly MeasurementLine[];
}

/** Areas in the given order, then any that the round does not know. */
export function byArea(lines: readonly MeasurementLine[], order: readonly string[]): AreaLines[] {
  const areas = [...new Set([...order, ...lines.map(({ area }) => area)])];
  return areas
    .map((area) => ({ area, lines: lines.filter((line) => line.area === area).sort(byNeed) }))
    .filter((group) => group.lines.length > 0);
}

/** What the address asks for. */
export function wanted(lines: readonly MeasurementLine[], { find, area, show }: MeasurementAddress): MeasurementLine[] {
  const asked = find.toLowerCase().split(/\s+/);
  return lines.filter((line) => {
    if (area !== '' && line.area !== area) return false;
    if (show === 'with-remark' && !needsLook(line)) return false;
    const text =
      `${line.chamberName} ${line.chamber} ${line.analyser} ${line.principle} ${line.remark ?? ''}`.toLowerCase();
    return asked.every((word) => text.includes(word));
  });
}
