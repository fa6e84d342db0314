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
    expect(plainly(shown.say)).toMatch(/^Pumped for 3 hours, now 3\.0 ?× ?10⁻⁴ Pa\./);
    expect(plainly(shown.say)).toContain('About 6 h to go (5 h to 8 h).');
    expect(shown.say).toContain('As its good pump-downs.');
    expect(shown.target).toBeCloseTo(1e-6, 12);
    expect(shown.at).toBe('2031-05-02T09:00:00.000Z');
  });

  test('an interval always has two different ends, or is left out', () => {
    const said = (at: number, earliest: number, latest: number) =>
      plainly(presentPumpDown(run({ ageSeconds: 0, arrival: { at, earliest, latest } }), 'Pa').say);
    expect(said(2 * HOUR, 1.75 * HOUR, 2.25 * HOUR)).toContain('About 2 h to go (1 h 45 min to 2 h 15 min).');
    expect(said(600, 590, 610)).toContain('About 10 min to go.');
    expect(said(80 * HOUR, 60 * HOUR, 120 * HOUR)).toContain('About 3 d 6 h to go (2 d 12 h to 5 d).');
    const never = Number.MAX_VALUE;
    expect(said(20 * HOUR, 12 * HOUR, never)).toContain('About 20 h to go (12 h to more than 30 d).');
    expect(said(1e38, 4e7, never)).toContain('At this rate it is not there within 30 d.');
    for (let latest = 60; latest < 40 * HOUR; latest = latest * 1.3 + 7) {
      const [, from, to] = /\((.+) to (.+)\)/.exec(said(latest * 0.9, latest * 0.8, latest)) ?? [];
      if (from !== undefined) expect(from).not.toBe(to);
    }
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
