/** What a rationalisation record may say, beyond its form: nothing that the watch would not do, nothing without a reason. */
import { priorityByMatrix } from '../shared/catalogue/rationalisation/matrix.ts';
import { BUILT_IN_RATIONALISATION, isAboutMeasurement } from '../shared/catalogue/rationalisation.ts';
import type { RationalisationRecord } from '../shared/contract/rationalisation.ts';
import type { Signature } from '../shared/contract/words.ts';
import { DEAD_BAND_DECADES, ON_DELAY } from '../shared/watch/parameters.ts';
import type { FieldProblem } from './schemaWords.ts';

/** Found in the spectrum against the baseline: only there is a dead band and an on-delay of this kind. */
const isSpectral = (signature: Signature): boolean =>
  !isAboutMeasurement(signature) && signature !== 'limit' && signature !== 'pump-down-late';

const BLANK_LISTS = ['causes', 'responseSteps', 'cautions'] as const;

function blanks(record: RationalisationRecord): FieldProblem[] {
  const problem = 'must not be empty';
  const texts = (['consequence', 'basis', 'owner'] as const).filter((field) => record[field].trim() === '');
  const lines = BLANK_LISTS.flatMap((field) =>
    record[field].flatMap((line, i) => (line.trim() === '' ? [{ path: `/record/${field}/${i}`, problem }] : [])),
  );
  return [...texts.map((field) => ({ path: `/record/${field}`, problem })), ...lines];
}

function priority({ severity, timeToRespondMinutes, priority: set, basis }: RationalisationRecord): FieldProblem[] {
  const follows = priorityByMatrix(severity, timeToRespondMinutes);
  if (set === follows || /\bpriority\b/i.test(basis)) return [];
  const why = `${severity} within ${timeToRespondMinutes} minutes gives ${follows}; where it is to be ${set}, the basis must say why, with the word "priority"`;
  return [{ path: '/record/priority', problem: why }];
}

function states(signature: Signature, record: RationalisationRecord): FieldProblem[] {
  const path = '/record/armedStates';
  const judged: readonly string[] = BUILT_IN_RATIONALISATION[signature].record.armedStates;
  const beyond = record.armedStates.filter((state) => !judged.includes(state));
  if (beyond.length > 0) {
    return [
      { path, problem: `the watch does not judge ${signature} in ${beyond.join(', ')}, only in ${judged.join(', ')}` },
    ];
  }
  if (isAboutMeasurement(signature) && record.armedStates.length < judged.length) {
    return [{ path, problem: 'a fault of the measurement is never suppressed: all of its states stay armed' }];
  }
  return [];
}

function thresholds(signature: Signature, { leastDecades, onDelayScans }: RationalisationRecord): FieldProblem[] {
  const set = [
    {
      path: '/record/leastDecades',
      value: leastDecades,
      least: DEAD_BAND_DECADES,
      what: `narrower than the built-in ${DEAD_BAND_DECADES} decade`,
    },
    {
      path: '/record/onDelayScans',
      value: onDelayScans,
      least: ON_DELAY,
      what: `shorter than the built-in ${ON_DELAY} scans`,
    },
  ];
  return set.flatMap(({ path, value, least, what }) => {
    if (value === null) return [];
    if (!isSpectral(signature)) return [{ path, problem: `must be null: ${signature} is not judged by it` }];
    return value < least ? [{ path, problem: `must not be ${what}` }] : [];
  });
}

/** @returns what is wrong with it; empty: it may be put in force */
export const judgeRecord = (signature: Signature, record: RationalisationRecord): FieldProblem[] => [
  ...blanks(record),
  ...priority(record),
  ...states(signature, record),
  ...thresholds(signature, record),
];
