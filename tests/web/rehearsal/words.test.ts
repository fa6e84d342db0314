import { describe, expect, test } from 'vitest';
import { differencesOf } from '../../../web/rehearsal/RehearsedDifferences.tsx';
import { isSame, loadSentence, rehearsalSentence, sameSubject } from '../../../web/rehearsal/words.ts';
import { airRecord, rehearsal } from '../fixture/alarms.ts';

const now = Date.UTC(2026, 10, 27);
const done = rehearsal(now);
const [chamber] = done.chambers;
const nothing = chamber ? { ...chamber, gained: [], lost: [], moved: [] } : undefined;

describe('a rehearsal in words', () => {
  test('what would be another, and the load', () => {
    expect(rehearsalSentence(done)).toBe(
      'With the change in 90\u00a0days: 2 alerts more, 1 alert fewer and 1 alert at another time or priority.',
    );
    expect(loadSentence(done)).toBe('0.022 calls a day as it is, 0.033 with the change.');
    expect(loadSentence({ ...done, perDay: { asIs: 0, asChanged: 0.5, days: 90 } })).toBe(
      'None called a day as it is, 0.5 with the change.',
    );
    expect(loadSentence({ ...done, perDay: null })).toBeNull();
  });

  test('nothing changed, nothing stored, nothing done yet', () => {
    if (!nothing) throw new Error('the fixture has a chamber');
    expect(rehearsalSentence({ ...done, chambers: [nothing] })).toMatch(
      /^It would have changed nothing: the same 2 alerts/,
    );
    expect(rehearsalSentence({ ...done, chambers: [{ ...nothing, asIs: [] }] })).toMatch(
      /^No alert in 90.days, neither/,
    );
    expect(rehearsalSentence({ ...done, chambers: [{ ...nothing, scans: 0 }] })).toMatch(/nothing can be said/);
    expect(rehearsalSentence({ ...done, state: 'waiting', chambers: [{ ...nothing, scans: 1200 }] })).toBe(
      'Working: 1\u202f200 scans so far.',
    );
    expect(rehearsalSentence({ ...done, state: 'failed', chambers: [{ ...nothing, state: 'failed' }] })).toBe(
      'The rehearsal could not be worked out.',
    );
  });

  test('differences stand in order of time', () => {
    expect(differencesOf(done).map(({ kind }) => kind)).toEqual(['lost', 'gained', 'moved', 'gained']);
  });

  test('whether it is what the reader has in mind, whatever the order of the fields', () => {
    expect(isSame({ a: 1, b: [{ c: 2, d: 3 }] }, { b: [{ d: 3, c: 2 }], a: 1 })).toBe(true);
    expect(isSame({ a: 1 }, { a: 2 })).toBe(false);
    const pin = (id: string) => ({ kind: 'baseline', pin: id }) as const;
    expect(sameSubject(pin('1'), pin('2'))).toBe(false);
    expect(sameSubject({ kind: 'limits', limits: [] }, done.request.change)).toBe(true);
    expect(sameSubject({ kind: 'rationalisation', signature: 'water', record: airRecord }, done.request.change)).toBe(
      false,
    );
  });
});
