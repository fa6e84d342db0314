/** How factors are written: LOOK.md's own examples, `÷37 (31–45)`, `÷1 700 at least`, `cannot tell`. */
import { describe, expect, test } from 'vitest';
import { factorText, timesOf } from '../../../web/compare/factor.ts';
import { ladderOf } from '../../../web/compare/ladderScale.ts';
import { driftRow, factorScale, levelRow } from '../../../web/compare/sisterScale.ts';
import { zText } from '../../../web/compare/sisterWords.ts';
import { sisters } from '../fixture/compared.ts';

const ratio = (value: number | null, low: number | null, high: number | null) => ({
  ratio: value,
  ratioLow: low,
  ratioHigh: high,
});

describe('a factor', () => {
  test.each([
    [ratio(1 / 37, 1 / 45, 1 / 31), '÷37 (31–45)', { n: '37', atLeast: false }],
    [ratio(12, 8, 18), '×12 (8.0–18)', { n: '12', atLeast: false }],
    [ratio(1.06, 0.9, 1.2), '×1.1 (÷1.1 to ×1.2)', { n: '1.1', atLeast: false }],
    [ratio(1, 1, 1), '×1.0 (1.0–1.0)', { n: '1.0', atLeast: false }],
    [ratio(null, 0, 1 / 1700), '÷1\u202f700 at least', { n: '1\u202f700', atLeast: true }],
    [ratio(null, 25, null), '×25 at least', { n: '25', atLeast: true }],
    [ratio(null, 0, 1.4), 'cannot tell', null],
    [ratio(null, null, null), 'cannot tell', null],
  ])('%#: %s', (one, text, times) => {
    expect(factorText(one)).toBe(text);
    expect(timesOf(one)).toEqual(times);
  });

  test('z in tenths, whole from ten up, with its sign', () => {
    expect([0.4, -2.6, 16.2, -31].map(zText)).toEqual(['+0.4', '−2.6', '+16', '−31']);
  });
});

describe('the pictures', () => {
  test('on the ladder more pressure lies farther right; what is no pressure has no place', () => {
    const side = (value: number) => ({
      value,
      low: value,
      high: value,
      comparedLow: value,
      comparedHigh: value,
      detectedShare: 1,
      effectiveScans: 9,
    });
    const gas = { gas: 'N2', inAlert: true, usual: null, ...ratio(0.1, 0.1, 0.1), changed: 'fell', judgement: 'back' };
    const ladder = ladderOf([{ ...gas, before: side(3e-7), after: side(2e-9) } as never]);
    expect(ladder.place(2e-9) as number).toBeLessThan(ladder.place(3e-7) as number);
    for (const none of [null, undefined, 0, -1]) expect(ladder.place(none)).toBeNull();
  });

  test('a factor of 1 stands in the middle, and everything drawn lies within the picture', () => {
    const rows = sisters(Date.now(), 'preparation-2', null).gases.flatMap((gas) => [levelRow(gas), driftRow(gas)]);
    const scale = factorScale(rows);
    expect(scale.place(1)).toBe(0.5);
    const drawn = rows.flatMap(({ own, others }) => [...(own === null ? [] : [own]), ...others]);
    expect(drawn.length).toBeGreaterThan(20);
    for (const factor of drawn) {
      expect(scale.place(factor)).toBeGreaterThan(0);
      expect(scale.place(factor)).toBeLessThan(1);
    }
    expect(scale.place(0)).toBe(0);
  });
});
