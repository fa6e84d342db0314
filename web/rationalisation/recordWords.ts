import type { Rationalisation, RationalisationRecord } from '../../shared/contract/rationalisation.ts';
import { duration } from '../notation/age.ts';
import { counted } from '../notation/counted.ts';
import { brief } from '../notation/number.ts';
import { capital, listed } from '../notation/sentence.ts';
import { PRIORITY_WORD, SEVERITY_MEANING } from '../notation/words.ts';
import { words } from '../strings/rationalisation.ts';

import { priorityByMatrix } from './matrix.ts';

type FieldName = keyof RationalisationRecord;

/** Fields in the order in which they are read, as a person calls them. */
export const FIELD_TITLE: Readonly<Record<FieldName, string>> = {
  causes: words.whatUsuallyCauses,
  consequence: words.ifNobodyResponds,
  severity: words.howBadThatIs,
  responseSteps: words.whatToDoInOrder,
  timeToRespondMinutes: words.timeToRespond,
  priority: words.priority,
  basis: words.whyAndWhereTheLimits,
  cautions: words.cautions,
  responder: words.whoseResponse,
  armedStates: words.raisedIn,
  leastDecades: words.deadBand,
  onDelayScans: 'On-delay',
  latching: words.latching,
  reAlarmHours: words.asksAgain,
  owner: words.ownerField,
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
      return record.leastDecades === null ? words.asBuilt : words.decadesOfWhatIsUsual(brief(record.leastDecades));
    case 'onDelayScans':
      return record.onDelayScans === null ? words.asBuilt : words.scans(record.onDelayScans);
    case 'latching':
      return record.latching ? words.staysUntilAPersonResets : words.endsByItself;
    case 'reAlarmHours':
      return record.reAlarmHours === null
        ? words.neverOnceItIsAcknowledged
        : words.afterAcknowledgedAndStillStanding(duration(record.reAlarmHours * 3600));
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
  const all = capital(counted(records.length));
  if (own === 0) return kind === '' ? words.noneWrittenAnew(all) : words.noneWrittenAnewFor(all, kind);
  return kind === '' ? words.someWrittenAnew(all, counted(own)) : words.someWrittenAnewFor(all, counted(own), kind);
}
