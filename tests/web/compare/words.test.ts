import { describe, expect, test } from 'vitest';
import { byDifference, headSentence, ratioText } from '../../../web/compare/words.ts';
import { comparison } from '../fixture/comparison.ts';

const one = comparison('2026-11-25T05:00:00Z', '2026-11-25T06:00:00Z', 'H2O');

describe('what a comparison says', () => {
  test('a ratio with its interval, on one side of 1 or across it', () => {
    expect(ratioText({ ratio: 4.1, ratioLow: 3.4, ratioHigh: 4.9 })).toBe('×4.1 (3.4–4.9)');
    expect(ratioText({ ratio: 0.25, ratioLow: 0.2, ratioHigh: 0.3125 })).toBe('÷4.0 (3.2–5.0)');
    expect(ratioText({ ratio: 1.04, ratioLow: 0.91, ratioHigh: 1.19 })).toBe('×1.04 (÷1.10 to ×1.19)');
  });

  test('a bound on one side, and nothing at all', () => {
    expect(ratioText({ ratio: null, ratioLow: 0, ratioHigh: 3 })).toBe('at most ×3.0');
    expect(ratioText({ ratio: null, ratioLow: 12, ratioHigh: null })).toBe('at least ×12');
    expect(ratioText({ ratio: null, ratioLow: null, ratioHigh: null })).toBe('cannot tell');
  });

  test('the head is the server’s verdict; without one it is said from what was found', () => {
    expect(headSentence(one, 'Pa')).toMatch(/^preparation-2-b adds gas of its own/);
    expect(headSentence({ ...one, verdict: 'they agree' }, 'Pa')).toBe('They agree.');
    expect(headSentence({ ...one, verdict: '' }, 'Pa')).toBe(
      'preparation-2-b adds gas of its own: carbon monoxide and carbon dioxide.',
    );
    expect(headSentence({ ...one, verdict: '', addsGas: null }, 'Pa')).toMatch(/^Nothing can be said/);
  });

  test('what differs stands first, what cannot be told last', () => {
    const order = byDifference(one.gases);
    expect(order.slice(0, 2).map(({ gas }) => gas)).toEqual(['CO', 'CO2']);
    expect(order[order.length - 1]?.gas).toBe('He');
    expect(order).toHaveLength(one.gases.length);
  });
});
