/**
 * Did the repair work? Only this counts as a yes: every gas of the alert stood above its usual range before and is back
 * in it after, in the same state and as long after a vent. Whatever is missing for a yes or a no is named. While the alert
 * stands and nothing was opened since, there is no repair to judge, and that is what is said.
 */
import type { BeforeAfter } from '../contract/beforeAfter.ts';
import type { SameMeasure } from './changeFactor.ts';
import { LEAST_SCANS, type Likeness, type LikenessName } from './likeness.ts';
import { isBack, type Place } from './usualPlace.ts';

export type RepairWord = BeforeAfter['verdict']['word'];
export type MissingWord = BeforeAfter['verdict']['missing'][number]['what'];

export interface Missing {
  readonly what: MissingWord;
  readonly gases: readonly string[];
}

export interface AlertGas {
  readonly gas: string;
  readonly before: Place;
  readonly after: Place;
}

export interface RepairQuestion {
  /** Null: no alert is meant, so nothing can have been repaired. */
  readonly gases: readonly AlertGas[] | null;
  readonly scans: { readonly before: number; readonly after: number };
  readonly likeness: Readonly<Record<LikenessName, Likeness>>;
  readonly measure: SameMeasure;
  /** What is usual was learned before the fault, so that it can be a measure. */
  readonly usualIsOlder: boolean;
  /** The alert stands and nothing was opened since: whatever differs, no repair is proved by it. */
  readonly noRepairYet: boolean;
}

export interface RepairVerdict {
  readonly word: RepairWord;
  /** Gases of the alert that are back, and those that are not. */
  readonly back: readonly string[];
  readonly notBack: readonly string[];
  readonly missing: readonly Missing[];
}

const missingScans = ({ scans: { before, after } }: RepairQuestion): Missing[] => {
  const found: Missing[] = [];
  const say = (what: MissingWord) => found.push({ what, gases: [] });
  if (before === 0) say('no scans before');
  else if (before < LEAST_SCANS) say('few scans before');
  if (after === 0) say('no scans after');
  else if (after < LEAST_SCANS) say('few scans after');
  return found;
};

const missingLikeness = ({ likeness, scans, measure }: RepairQuestion): Missing[] => {
  if (scans.before === 0 || scans.after === 0) return [];
  const found: MissingWord[] = [];
  if (likeness.state !== 'alike') found.push('other state');
  if (likeness['time since vent'] === 'differs') found.push('other time since vent');
  if (likeness['time since vent'] === 'unknown') found.push('time since vent not known');
  if (measure === 'other analyser') found.push('other analyser');
  return found.map((what) => ({ what, gases: [] }));
};

const missingOfGases = (gases: readonly AlertGas[], usualIsOlder: boolean): Missing[] => {
  const those = (what: MissingWord, which: (gas: AlertGas) => boolean): Missing[] => {
    const found = gases.filter(which).map(({ gas }) => gas);
    return found.length === 0 ? [] : [{ what, gases: found }];
  };
  return [
    ...(usualIsOlder ? [] : [{ what: 'usual range is younger' as const, gases: [] }]),
    ...those('gas not looked for', ({ before, after }) => before === 'not looked for' || after === 'not looked for'),
    ...those('no usual range', ({ before, after }) => before === 'no usual range' || after === 'no usual range'),
    ...those('at the edge', ({ after }) => after === 'unclear'),
  ];
};

export function repairVerdict(question: RepairQuestion): RepairVerdict {
  const { gases, usualIsOlder } = question;
  const nothing = { back: [], notBack: [] };
  if (gases === null) return { word: 'no alert', ...nothing, missing: missingScans(question) };
  if (gases.length === 0)
    return { word: 'cannot tell', ...nothing, missing: [{ what: 'alert without gases', gases: [] }] };
  const stood = gases.filter(({ before }) => before === 'above');
  const back = stood.filter(({ after }) => isBack(after)).map(({ gas }) => gas);
  const notBack = gases.filter(({ after }) => after === 'above').map(({ gas }) => gas);
  const few = missingScans(question);
  if (question.noRepairYet && question.scans.before > 0 && question.scans.after > 0)
    return { word: 'still stands', back, notBack, missing: few };
  const missing = [
    ...few,
    ...missingLikeness(question),
    ...(question.scans.before === 0 || question.scans.after === 0 ? [] : missingOfGases(gases, usualIsOlder)),
  ];
  if (missing.length === 0 && stood.length === 0)
    missing.push({ what: 'was usual before', gases: gases.map(({ gas }) => gas) });
  if (missing.length > 0) return { word: 'cannot tell', back, notBack, missing };
  const word = notBack.length === 0 ? 'worked' : back.length > 0 ? 'in part' : 'did not work';
  return { word, back, notBack, missing: [] };
}
