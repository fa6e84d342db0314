import { expect, test } from 'vitest';
import { episodeNote } from '../../../shared/watch/episodeNote.ts';

test('says what came, why it is known and from when on it is called', () => {
  const episode = { gas: 'N2', atMs: 0, level: 12, state: 'transfer', longestSeconds: 1800 };
  const habit = episodeNote({ ...episode, by: 'habit' });
  expect({ ...habit, text: habit.text.replaceAll('\u00a0', ' ') }).toEqual({
    code: 'state-recognised',
    text: 'No state was sent, but nitrogen came in within one scan, to 12 times the usual total. It has come and gone at this level before; if it stays longer than 30 minutes, it is called: the chamber is judged as in transfer.',
  });
  const mixture = episodeNote({ ...episode, gas: '', by: 'shape', state: 'gas-on' });
  expect(mixture.text).toContain('but gas came in');
  expect(mixture.text).toContain('A mixture like this has come and gone here before');
});
