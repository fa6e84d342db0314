import type { Rationalisation, RationalisationRecord } from '../../shared/contract/rationalisation.ts';
import { duration } from '../notation/age.ts';
import { counted } from '../notation/counted.ts';
import { brief } from '../notation/number.ts';
import { capital, listed, several } from '../notation/sentence.ts';
import { PRIORITY_WORD, SEVERITY_MEANING } from '../notation/words.ts';
import { priorityByMatrix } from './matrix.ts';

type FieldName = keyof RationalisationRecord;

/** Fields in the order in which they are read, as a person calls them. */
export const FIELD_TITLE: Readonly<Record<FieldName, string>> = {
  causes: 'What usually causes it',
  consequence: 'If nobody responds',
  severity: 'How bad that is',
  responseSteps: 'What to do, in order',
  timeToRespondMinutes: 'Time to respond',
  priority: 'Priority',
  basis: 'Why, and where the limits are from',
  cautions: 'Cautions',
  responder: 'Whose response',
  armedStates: 'Raised in',
  leastDecades: 'Dead band',
  onDelayScans: 'On-delay',
  latching: 'Latching',
  reAlarmHours: 'Asks again',
  owner: 'Owner',
};
export const FIELDS = Object.keys(FIELD_TITLE) as readonly FieldName[];

/** One field in words; a list stays a list. */
export function fieldText(record: RationalisationRecord, field: FieldName): string | readonly string[] {
  switch (field) {
    case 'causes':
    case 'responseSteps':
    case 'cautions':
      return record[field].length === 0 ? 'none' : record[field];
    case 'severity':
      return `${record.severity}: ${SEVERITY_MEANING[record.severity]}`;
    case 'timeToRespondMinutes':
      return duration(record.timeToRespondMinutes * 60);
    case 'priority':
      return PRIORITY_WORD[record.priority];
    case 'armedStates':
      return listed(record.armedStates);
    case 'leastDecades':
      return record.leastDecades === null ? 'as built in' : `${brief(record.leastDecades)} decades of what is usual`;
    case 'onDelayScans':
      return record.onDelayScans === null ? 'as built in' : several(record.onDelayScans, 'scan');
    case 'latching':
      return record.latching ? 'stays until a person resets it' : 'ends by itself when the condition returns';
    case 'reAlarmHours':
      return record.reAlarmHours === null
        ? 'never, once it is acknowledged'
        : `after ${duration(record.reAlarmHours * 3600)}, acknowledged and still standing`;
    default:
      return record[field];
  }
}

export interface FieldChange {
  readonly field: FieldName;
  readonly before: string | readonly string[];
  readonly after: string | readonly string[];
}

/** What is another between two versions, in the order of reading. */
export function changedFields(before: RationalisationRecord, after: RationalisationRecord): readonly FieldChange[] {
  return FIELDS.filter((field) => JSON.stringify(before[field]) !== JSON.stringify(after[field])).map((field) => ({
    field,
    before: fieldText(before, field),
    after: fieldText(after, field),
  }));
}

export const matrixOf = ({ severity, timeToRespondMinutes }: RationalisationRecord) =>
  priorityByMatrix(severity, timeToRespondMinutes);

/** The head of the list: how many the site has made its own. */
export function recordsSentence(records: readonly Rationalisation[], kind: string): string {
  const own = records.filter(({ version }) => version > 0).length;
  const who = kind === '' ? '' : ` for the kind ${kind}`;
  const all = `${capital(counted(records.length))} kinds of alert, each with what it asks for`;
  if (own === 0) return `${all}. The site has changed none of them${who} yet.`;
  return `${all}. The site has written ${own === 1 ? 'one' : counted(own)} of them anew${who}.`;
}
