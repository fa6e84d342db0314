/** What people are told of gas that came in while no state was sent, and was known. */
import { gasName } from './patterns.ts';
import type { Note } from './relearn.ts';
import type { Episode } from './stateMemory.ts';
import { duration, number } from './wording.ts';

const WHY: Readonly<Record<string, string>> = {
  list: 'This chamber uses it',
  declared: 'It looks like what was let in here in a state that was sent',
  habit: 'It has come and gone at this level before',
  shape: 'A mixture like this has come and gone here before',
};

export function episodeNote({ gas, level, by, longestSeconds, state }: Episode): Note {
  const what = gas === '' ? 'gas' : gasName(gas).toLowerCase();
  const came = `No state was sent, but ${what} came in within one scan, to ${number(level)} times the usual total`;
  const why = `${WHY[by ?? '']}; if it stays longer than ${duration(longestSeconds)}, it is called`;
  return { code: 'state-recognised', text: `${came}. ${why}: the chamber is judged as in ${state}.` };
}
