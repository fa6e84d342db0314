/** What takes hours to months and is seen in any state: pump-downs, recoveries after gas, a getter and an analyser that age. */
import { judgeLife } from './endOfLifeCall.ts';
import { followGetter } from './getter.ts';
import type { PumpDownInput } from './pumpDown.ts';
import { judgePumpDown } from './pumpDownLate.ts';
import { judgeRecovery } from './recoverySlow.ts';
import type { WatchEvent } from './types.ts';

/** After the spectrum has been judged: a cause that has just been named says why. */
export function judgeCourses(step: PumpDownInput): WatchEvent[] {
  const { memory, input } = step;
  return [
    ...judgePumpDown(step),
    ...judgeRecovery(memory, input),
    ...followGetter(memory, input),
    ...judgeLife(memory, input),
  ];
}
