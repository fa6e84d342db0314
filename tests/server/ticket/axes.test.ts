import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { localTime } from '../../../server/localTime.ts';
import { decades, niceTimes, powerOfTen } from '../../../server/ticket/axes.ts';

const point = (value: number | null, min = value, max = value) => ({ at: '', value, min, max });

describe('decades', () => {
  test('hold every positive value, at least two of them', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 1e-14, max: 1e5, noNaN: true }), { minLength: 1 }), (values) => {
        const powers = decades(
          values.map((value) => point(value)),
          null,
        );
        expect(10 ** (powers[0] as number)).toBeLessThanOrEqual(Math.min(...values) * (1 + 1e-12));
        expect(10 ** (powers.at(-1) as number)).toBeGreaterThanOrEqual(Math.max(...values) * (1 - 1e-12));
        expect(powers.length).toBeGreaterThanOrEqual(2);
        expect(powers).toEqual(powers.map((_, i) => (powers[0] as number) + i));
      }),
    );
  });
  test('reach down to the floor, and are there without values', () => {
    expect(decades([point(1e-7)], 2e-11)).toEqual([-11, -10, -9, -8, -7]);
    expect(decades([point(null), point(0), point(-1e-12)], 1e-11).length).toBeGreaterThan(1);
  });
  test('are written as powers', () => {
    expect([-11, 0, 3].map(powerOfTen)).toEqual(['10⁻¹¹', '10⁰', '10³']);
  });
});

describe('times', () => {
  test('stand on round local times', () => {
    const ticks = niceTimes(new Date('2026-03-02T10:07:00Z'), new Date('2026-03-02T12:40:00Z'), 'Asia/Kolkata');
    // India is five and a half hours ahead.
    expect(ticks.map(({ label }) => label)).toEqual(['16:00', '17:00', '18:00']);
    expect(new Date(ticks[0]?.ms ?? 0).toISOString()).toBe('2026-03-02T10:30:00.000Z');
  });
  test('are at most nine whatever the span, and inside it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1000, max: 3e11 }), fc.integer({ min: 0, max: 2e12 }), (span, start) => {
        const ticks = niceTimes(new Date(start), new Date(start + span), 'Europe/Oslo');
        expect(ticks.length).toBeLessThanOrEqual(9);
        for (const { ms } of ticks) {
          expect(ms).toBeGreaterThanOrEqual(start);
          expect(ms).toBeLessThanOrEqual(start + span);
        }
      }),
    );
  });
  test('in a sentence carry their offset, also through summer time', () => {
    expect(localTime(new Date('2026-01-01T00:00:00Z'), 'Europe/Oslo')).toBe('2026-01-01 01:00:00 +01:00');
    expect(localTime(new Date('2026-07-01T00:00:00Z'), 'Europe/Oslo')).toBe('2026-07-01 02:00:00 +02:00');
    expect(localTime(new Date('2026-07-01T00:00:00Z'), 'UTC')).toBe('2026-07-01 00:00:00 +00:00');
    expect(localTime(new Date('2026-07-01T00:00:00Z'), 'America/St_Johns')).toBe('2026-06-30 21:30:00 -02:30');
  });
});
