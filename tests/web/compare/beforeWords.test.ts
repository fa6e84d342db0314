import { expect, test } from 'vitest';
import { beneath, headSentence } from '../../../web/compare/beforeWords.ts';
import { beforeAfter } from '../fixture/compared.ts';

const standing = beforeAfter(0, 'front-end', null);
const [hydrogen, nitrogen] = standing.gases as [(typeof standing.gases)[0], (typeof standing.gases)[0]];
const fell = { ...hydrogen, ratio: 0.1, ratioLow: 0.08, ratioHigh: 0.12, changed: 'fell' as const };

test('the gases of a standing alert are said before others, also where they fell less', () => {
  const head = headSentence({ ...standing, gases: [fell, nitrogen] });
  expect(head).toBe(
    'The alert still stands: nitrogen is 18 times what it was before it (15–21) and hydrogen fell 10 times.',
  );
  const turned = headSentence({
    ...standing,
    gases: [
      { ...fell, inAlert: true },
      { ...nitrogen, inAlert: false },
    ],
  });
  expect(turned).toBe(
    'The alert still stands: hydrogen fell 10 times and nitrogen is 18 times what it was before it (15–21).',
  );
});

test('nothing that can be told is said as such: no settled value, or no difference', () => {
  const meant = { ...hydrogen, inAlert: true };
  const bent = { ...meant, after: meant.after && { ...meant.after, course: 'curved' as const, growth: null } };
  for (const gases of [[hydrogen], [bent], [meant, bent]])
    expect(headSentence({ ...standing, gases })).toBe(
      'The alert still stands. By how much cannot be told here: a gas that keeps moving has no settled value.',
    );
  expect(headSentence({ ...standing, gases: [meant] })).toBe(
    'The alert still stands, though none of its gases differs from before by more than can be told.',
  );
});

test('a repair that worked in part names what is back and what is not', () => {
  const verdict = { ...standing.verdict, word: 'in part' as const, back: ['N2'], notBack: ['O2', 'Ar'] };
  const differs = standing.likeness.map((one) => ({ ...one, is: 'alike' as const }));
  expect(headSentence({ ...standing, likeness: differs, verdict })).toBe(
    'The repair worked in part: nitrogen is back, oxygen and argon are still above the usual range.',
  );
});

test('what differs between the sides stands beneath, after the word that no repair is proved', () => {
  const likeness = standing.likeness.map((one) =>
    one.name === 'temperature' ? { ...one, is: 'differs' as const } : one,
  );
  const missing = [{ what: 'few scans before' as const, gases: [] }];
  const told = beneath({ ...standing, likeness, verdict: { ...standing.verdict, missing } }, String);
  expect(headSentence({ ...standing, likeness })).toMatch(/^The alert still stands: /);
  expect(told[0]).toMatch(/^Still growing: nitrogen 1\.3 times an hour \(1\.2–1\.4\) and oxygen 1\.3 times/);
  expect(told[1]).toMatch(/this proves no repair/);
  expect(told.slice(2)).toEqual([
    'There are few scans on one side, so the factors are rough.',
    'Before and after differ in temperature.',
  ]);
});
