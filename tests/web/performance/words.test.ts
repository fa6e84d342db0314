import { describe, expect, test } from 'vitest';
import { checkSentence } from '../../../web/performance/ExamplesSection.tsx';
import { closedSentence } from '../../../web/performance/Shares.tsx';
import { metWord, performanceSentence, valueText } from '../../../web/performance/words.ts';
import { performance } from '../fixture/alarms.ts';

const answer = performance(Date.UTC(2026, 10, 27));
const [first] = answer.measures;

describe('measures in words', () => {
  test('a share is a percentage, a count is whole, nothing is “too little to say”', () => {
    expect(valueText({ value: 0.0123, unit: 'share' })).toBe('1.2\u00a0%');
    expect(valueText({ value: 12, unit: '1' })).toBe('12');
    expect(valueText({ value: 1.37, unit: '1/d' })).toBe('1.4\u00a0a day');
    expect(valueText({ value: null, unit: 'share' })).toBe('too little to say');
  });

  test('the head names what is missed', () => {
    expect(performanceSentence(answer)).toBe(
      'The alerts called a person 41 times in 30\u00a0days. One of three measures misses its target: “alerts that chatter”.',
    );
    const good = { ...answer, measures: answer.measures.map((one) => ({ ...one, met: true })) };
    expect(performanceSentence(good)).toMatch(/all five measures that can be judged meet their targets\.$/);
    expect(performanceSentence({ ...good, days: 3 })).toMatch(/meet their targets\. The standard asks for 30.days/);
    expect(performanceSentence({ ...answer, annunciations: 0, measures: [] })).toMatch(
      /^No alert has called anybody in 30.days; that is too little/,
    );
  });

  test('why nothing can be said is said', () => {
    expect(first && metWord({ ...first, value: null, met: null, why: 'Only 3 calls.' })).toBe('Only 3 calls.');
    expect(first && metWord({ ...first, met: false })).toBe('missed');
  });
});

describe('what became of alerts', () => {
  test('planned work is left out of the share; nothing closed is no zero', () => {
    expect(closedSentence({ total: 12, acted: 9, planned: 2, falseAlerts: 1 })).toMatch(
      /^9 of 10 closed alerts led to an action \(90.%\)/,
    );
    expect(closedSentence({ total: 2, acted: 0, planned: 2, falseAlerts: 0 })).toBe(
      'All 2 that were closed were planned work.',
    );
    expect(closedSentence({ total: 0, acted: 0, planned: 0, falseAlerts: 0 })).toMatch(/cannot be said/);
  });

  test('an example says what the watch would call it without itself', () => {
    const check = { named: 'water', right: false, sureness: 'likely', at: '2026-11-27T00:00:00Z' } as const;
    expect(checkSentence({ check, verified: 'solvent' })).toBe(
      'Without it, the watch would call this “water” (likely), not “solvent”: look whether the finding is certain.',
    );
    expect(checkSentence({ check: { ...check, named: null }, verified: 'solvent' })).toMatch(/teaches something new/);
    expect(checkSentence({ check: null, verified: 'solvent' })).toBe('Not checked yet.');
  });
});
