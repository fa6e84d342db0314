/** What people had put in force for the readings of a ticket: who, when and from what. */
import type { CalibrationEntry } from '../../shared/contract/calibration.ts';
import { listCalibrations } from '../../shared/db/calibrations.ts';
import type { ScanFacts } from '../../shared/db/ticketFacts.ts';
import { ENFORCED, presentCalibration } from '../calibrationEntry.ts';
import type { Deps } from '../deps.ts';
import { iso } from '../instant.ts';
import { localTime } from '../localTime.ts';

/** What of an entry never changes, so that the same request gives the same bytes whatever is decided later. */
export type TicketCalibration = Pick<
  CalibrationEntry,
  'id' | 'kind' | 'gas' | 'value' | 'source' | 'note' | 'validFrom' | 'setBy' | 'setAt' | 'scans'
> & {
  /** For one that was proposed: who put it in force, and when. */
  enforced: { by: string; at: string } | null;
};

/** The row tells of the last decision, which may be that it was withdrawn; the audit of every one. */
const enforcements = async ({ db }: Deps, ids: readonly string[]) => {
  const rows = await db.sql<{ id: string; by: string; at: Date }[]>`
    select detail ->> 'id' as id, by, at from audit
    where what = ${ENFORCED} and detail ->> 'id' = any(${ids as string[]}::text[])`;
  return new Map(rows.map(({ id, by, at }) => [id, { by, at: iso(at) }]));
};

/** The entries that the versions of these readings name (`analyser/document+entry+entry`), as their validity begins. */
export const calibrationsOf = async (
  deps: Deps,
  analyser: string,
  scans: readonly ScanFacts[],
): Promise<TicketCalibration[]> => {
  const named = new Set(scans.flatMap(({ calibrationVersion }) => calibrationVersion.split('+').slice(1)));
  if (named.size === 0) return [];
  const [rows, enforced] = await Promise.all([listCalibrations(deps.db.sql, analyser), enforcements(deps, [...named])]);
  return rows
    .filter(({ id }) => named.has(id))
    .map(presentCalibration)
    .sort((a, b) => (a.validFrom ?? '').localeCompare(b.validFrom ?? '') || (a.id < b.id ? -1 : 1))
    .map(({ id, kind, gas, value, source, note, validFrom, setBy, setAt, scans: marked }) => ({
      ...{ id, kind, gas, value, source, note, validFrom, setBy, setAt, scans: marked },
      enforced: enforced.get(id) ?? null,
    }));
};

const KIND_WORDS: Record<CalibrationEntry['kind'], string> = {
  sensitivity: 'sensitivity for N2',
  gain: 'multiplier gain',
  transmission: 'transmission exponent',
  'gauge-factor': 'gauge factor',
  pattern: 'pattern',
  background: 'background of the analyser',
};

/** One in a sentence, with times as on site. Names and notes are people's text: the caller sees to marks in them. */
export const calibrationWords = (entry: TicketCalibration, zone: string): string => {
  const { id, kind, gas, value, source, scans, setBy, setAt, enforced, validFrom } = entry;
  const when = (time: string) => localTime(new Date(time), zone);
  const number = 'value' in value ? ` ${value.value}${kind === 'sensitivity' ? ' A/Pa' : ''}` : '';
  const what = `${KIND_WORDS[kind]}${gas === null ? '' : ` of ${gas}`}${number}`;
  const marked = scans === null ? '' : `, ${scans.count} scans from ${when(scans.from)}`;
  const accepted = enforced === null ? '' : `, put in force by ${enforced.by} on ${when(enforced.at)}`;
  const since = validFrom === null ? '' : `; for scans from ${when(validFrom)}`;
  return `${id}: ${what}, from ${source}${marked}; set by ${setBy} on ${when(setAt)}${accepted}${since}. ${entry.note}`;
};
