import { describe, expect, test } from 'vitest';
import { presentLife, presentPumpDown } from '../../server/courses.ts';
import type { StoredPumpDown } from '../../shared/watch/coursesView.ts';

const HOUR = 3600;
/** Spaces that do not break are spaces. */
const plainly = (text: string): string => text.replace(/\s/g, ' ');
const run = (changed: Partial<StoredPumpDown> = {}): StoredPumpDown => ({
  fromMs: Date.UTC(2031, 4, 2, 6),
  ageSeconds: 3 * HOUR,
  pressurePa: 3e-4,
  usualPa: 2.9e-4,
  lateAbovePa: 9e-4,
  usualDurationSeconds: 9 * HOUR,
  pumpDowns: 4,
  exponent: { value: 1, low: 0.9, high: 1.1 },
  targetPa: 1e-4,
  arrival: { at: 9 * HOUR, earliest: 8 * HOUR, latest: 11 * HOUR },
  ...changed,
});

describe('a pump-down in words', () => {
  test('says how long is left, with its interval; numbers in the unit that was asked for', () => {
    const shown = presentPumpDown(run(), 'mbar');
    expect(plainly(shown.say)).toMatch(/^Pumping down for 3 hours, now 3\.0 ?× ?10⁻⁴ Pa\./);
    expect(plainly(shown.say)).toContain('About 6 hours to go (5 hours to 8 hours).');
    expect(shown.say).toContain('As its good pump-downs.');
    expect(shown.target).toBeCloseTo(1e-6, 12);
    expect(shown.at).toBe('2031-05-02T09:00:00.000Z');
  });

  test('says late only above the bound of its own good ones', () => {
    expect(presentPumpDown(run({ pressurePa: 1e-3 }), 'Pa').say).toContain('late');
    expect(presentPumpDown(run({ pressurePa: 6e-4 }), 'Pa').say).not.toContain('late');
  });

  test('does not promise what is never reached', () => {
    const shown = presentPumpDown(run({ arrival: { at: null, earliest: 20 * HOUR, latest: null } }), 'Pa');
    expect(shown.say).toContain('does not get there');
    expect(presentPumpDown(run({ arrival: null, usualPa: null, pumpDowns: 1 }), 'Pa').say).toContain('Too early');
  });
});

describe('what wears, in words', () => {
  const from = new Date('2031-05-01T00:00:00Z');
  const life = (at: number | null, earliest: number | null, latest: number | null) =>
    presentLife({ kind: 'gain', gone: 0.4, arrival: { at, earliest, latest }, points: 30 }, from);

  test('a date with its interval', () => {
    const shown = life(31, 21, 61);
    expect(shown.dueAt).toBe('2031-06-01T00:00:00.000Z');
    expect(shown.say).toContain('about 2031-06-01, at this rate (2031-05-22 to 2031-07-01)');
  });

  test('what may never come is not given a date', () => {
    expect(life(31, 21, null).say).toContain('to never');
    expect(life(null, 400, null)).toMatchObject({ dueAt: null, latest: null });
    expect(life(null, 400, null).say).toContain('not before');
    expect(life(null, null, null).say).toContain('holds');
  });
});
