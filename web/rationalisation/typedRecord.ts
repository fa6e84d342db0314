import type { Consequence, RationalisationRecord, Responder } from '../../shared/contract/rationalisation.ts';
import type { OperatingState, Priority } from '../../shared/contract/words.ts';
import { typedPositive } from '../measurement/typed.ts';
import { brief } from '../notation/number.ts';
import { words } from '../strings/rationalisation.ts';

export const TIME_UNITS = ['min', 'h', 'd'] as const;
export type TimeUnit = (typeof TIME_UNITS)[number];
const MINUTES_IN: Readonly<Record<TimeUnit, number>> = { min: 1, h: 60, d: 1440 };

/** A record as it is typed: lists as lines, numbers as text, empty for "as built in". */
export interface TypedRecord {
  readonly causes: string;
  readonly consequence: string;
  readonly severity: Consequence;
  readonly responseSteps: string;
  readonly time: string;
  readonly timeUnit: TimeUnit;
  readonly priority: Priority;
  readonly basis: string;
  readonly cautions: string;
  readonly responder: Responder;
  readonly armedStates: readonly OperatingState[];
  readonly leastDecades: string;
  readonly onDelayScans: string;
  readonly latching: boolean;
  readonly reAlarmHours: string;
  readonly owner: string;
}

const unitFor = (minutes: number): TimeUnit =>
  minutes >= 1440 && minutes % 1440 === 0 ? 'd' : minutes >= 60 && minutes % 60 === 0 ? 'h' : 'min';
const text = (value: number | null): string => (value === null ? '' : String(value));

export function typedFrom(record: RationalisationRecord): TypedRecord {
  const timeUnit = unitFor(record.timeToRespondMinutes);
  return {
    ...record,
    causes: record.causes.join('\n'),
    responseSteps: record.responseSteps.join('\n'),
    cautions: record.cautions.join('\n'),
    time: brief(record.timeToRespondMinutes / MINUTES_IN[timeUnit]),
    timeUnit,
    leastDecades: text(record.leastDecades),
    onDelayScans: text(record.onDelayScans),
    reAlarmHours: text(record.reAlarmHours),
  };
}

export const minutesOf = ({ time, timeUnit }: Pick<TypedRecord, 'time' | 'timeUnit'>): number | null => {
  const value = typedPositive(time);
  return value === null ? null : value * MINUTES_IN[timeUnit];
};

const linesOf = (lines: string): string[] =>
  lines
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');

/** What is wrong with it before it is sent, by field; empty: nothing. */
export type Faults = Readonly<Partial<Record<keyof TypedRecord, string>>>;

export function faultsOf(typed: TypedRecord): Faults {
  const faults: Partial<Record<keyof TypedRecord, string>> = {};
  const needed = (field: 'consequence' | 'basis' | 'owner' | 'causes' | 'responseSteps') => {
    if (linesOf(typed[field]).length === 0) faults[field] = words.itMustSaySomething;
  };
  for (const field of ['causes', 'consequence', 'responseSteps', 'basis', 'owner'] as const) needed(field);
  if (minutesOf(typed) === null) faults.time = words.aTimeAboveZeroSuch;
  if (typed.armedStates.length === 0) faults.armedStates = words.itMustBeRaised;
  const number = (field: 'leastDecades' | 'onDelayScans' | 'reAlarmHours', spoken: string) => {
    if (typed[field].trim() !== '' && typedPositive(typed[field]) === null) faults[field] = spoken;
  };
  number('leastDecades', words.decadesAboveZeroSuch);
  number('onDelayScans', words.aWholeNumberOfScans);
  number('reAlarmHours', words.hoursSuchAsOrNothing);
  const scans = typedPositive(typed.onDelayScans);
  if (scans !== null && !Number.isInteger(scans)) faults.onDelayScans = words.aWholeNumberOfScans;
  return faults;
}

/** Null while something is wrong. */
export function recordFrom(typed: TypedRecord): RationalisationRecord | null {
  const minutes = minutesOf(typed);
  if (minutes === null || Object.keys(faultsOf(typed)).length > 0) return null;
  return {
    causes: linesOf(typed.causes),
    consequence: typed.consequence.trim(),
    severity: typed.severity,
    responseSteps: linesOf(typed.responseSteps),
    timeToRespondMinutes: minutes,
    priority: typed.priority,
    basis: typed.basis.trim(),
    cautions: linesOf(typed.cautions),
    responder: typed.responder,
    armedStates: [...typed.armedStates],
    leastDecades: typedPositive(typed.leastDecades),
    onDelayScans: typedPositive(typed.onDelayScans),
    latching: typed.latching,
    reAlarmHours: typedPositive(typed.reAlarmHours),
    owner: typed.owner.trim(),
  };
}
