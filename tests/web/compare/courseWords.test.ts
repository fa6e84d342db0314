import { describe, expect, test } from 'vitest';
import { courseText, lineMoment, motionOf, motionSentences } from '../../../web/compare/courseWords.ts';
import { beforeAfter } from '../fixture/compared.ts';

const standing = beforeAfter(0, 'front-end', null);
type Gas = (typeof standing.gases)[number];
const nitrogen = standing.gases.find(({ gas }) => gas === 'N2') as Gas;
const moving = (perHour: number, low: number, high: number, gas = 'N2'): Gas => ({
  ...nitrogen,
  gas,
  after: { ...(nitrogen.after as NonNullable<Gas['after']>), growth: { perHour, low, high } },
});
const told = (...gases: Gas[]) => motionSentences({ ...standing, gases });

describe('a gas at its row', () => {
  test.each([
    [1.32, 1.24, 1.41, 'growing', 'growing ×1.3 (1.2–1.4) an hour'],
    [0.5, 0.4, 0.63, 'falling', 'falling ÷2.0 (1.6–2.5) an hour'],
    [1.021, 1.012, 1.03, 'growing', 'growing ×1.02 (1.01–1.03) an hour'],
    [16, 11, 23, 'growing', 'growing ×16 (11–23) an hour'],
    [1.1, 0.9, 1.3, 'still', null],
  ] as const)('%d (%d to %d): %s', (perHour, low, high, motion, text) => {
    const { after } = moving(perHour, low, high);
    expect(motionOf(after)).toBe(motion);
    expect(courseText(after)).toBe(text);
  });

  test('without a line there is no growth; that it is bent is said, that it was taken as settled is not', () => {
    const [after] = [nitrogen.after as NonNullable<Gas['after']>];
    expect(courseText({ ...after, course: 'curved', growth: null })).toBe(
      'no settled value: it moves, and not along a line',
    );
    expect(courseText({ ...after, course: 'level', growth: null })).toBeNull();
    expect(motionOf({ ...after, course: 'few scans', growth: null })).toBeNull();
    expect([courseText(null), motionOf(null)]).toEqual([null, null]);
  });
});

describe('the gases of the alert in sentences', () => {
  test('those that grow, the fastest first; those that fall', () => {
    expect(told(moving(1.32, 1.24, 1.41), moving(2.1, 1.9, 2.3, 'Ar'), moving(0.5, 0.4, 0.63, 'O2'))).toEqual([
      'Still growing: argon 2.1 times an hour (1.9–2.3) and nitrogen 1.3 times an hour (1.2–1.4).',
      'Falling: oxygen 2.0 times an hour (1.6–2.5).',
    ]);
  });

  test('at rest: by how much at most, or that it is open', () => {
    expect(told(moving(1, 0.95, 1.052), moving(1.01, 0.96, 1.06, 'Ar'))).toEqual([
      'None of its gases is growing by more than 1.06 times an hour.',
    ]);
    expect(told(moving(1, 0.3, 3.3))).toEqual(['Whether its gases are still growing cannot be told here.']);
  });

  test('nothing is said of rest where a gas has no line, nor of gases that are not the alert’s', () => {
    const bent = {
      ...nitrogen,
      gas: 'O2',
      after: { ...nitrogen.after, course: 'curved' as const, growth: null },
    } as Gas;
    expect(told(moving(1, 0.95, 1.05), bent)).toEqual([]);
    expect(told({ ...moving(3, 2, 4), inAlert: false })).toEqual([]);
    expect(told({ ...nitrogen, after: null })).toEqual([]);
  });
});

test('the moment of the lines is the newest scan; a repair has none', () => {
  expect(lineMoment(standing)).toBe(new Date(0).toISOString());
  expect(lineMoment(beforeAfter(0, 'preparation-2', null))).toBeNull();
});
