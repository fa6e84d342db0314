/** Ticks of every axis cover what is drawn on it, whatever that is. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { linearAxis } from '../../../web/charts/linearAxis.ts';
import { logAxis } from '../../../web/charts/logAxis.ts';
import { timeTicks } from '../../../web/charts/timeAxis.ts';

const value = fc.oneof(
  fc.double({ min: 1e-18, max: 1e6, noNaN: true }),
  fc.constantFrom(null, undefined, 0, -1e-9, Number.NaN),
);

test('log: the first tick is the foot; no stretch of the axis is longer than one step without a tick', () => {
  fc.assert(
    fc.property(fc.array(value, { maxLength: 30 }), (values) => {
      const { low, high, ticks } = logAxis(values);
      const powers = ticks.map((tick) => Math.round(Math.log10(tick)));
      expect(powers[0]).toBe(Math.round(Math.log10(low)));
      const step = (powers[1] ?? 0) - (powers[0] ?? 0);
      for (const [i, power] of powers.slice(1).entries()) expect(power - (powers[i] ?? 0)).toBe(step);
      expect(Math.round(Math.log10(high)) - (powers.at(-1) ?? 0)).toBeLessThan(step);
      for (const tick of ticks) expect(tick).toBeGreaterThan(0);
    }),
  );
});

test('linear: ticks run from end to end in equal steps and hold every value between them', () => {
  const some = fc.double({ min: -1e4, max: 1e4, noNaN: true });
  fc.assert(
    fc.property(fc.array(some, { maxLength: 30 }), fc.double({ min: 1e-3, max: 10, noNaN: true }), (values, least) => {
      const { low, high, ticks } = linearAxis(values, least);
      expect(ticks[0]).toBeCloseTo(low, 6);
      expect(ticks.at(-1)).toBeCloseTo(high, 6);
      const room = (high - low) * 1e-6;
      for (const one of values) {
        expect(one).toBeGreaterThanOrEqual(low - room);
        expect(one).toBeLessThanOrEqual(high + room);
      }
      const step = (ticks[1] ?? 0) - (ticks[0] ?? 0);
      for (const [i, tick] of ticks.slice(1).entries()) expect(tick - (ticks[i] ?? 0)).toBeCloseTo(step, 6);
    }),
  );
});

test('time: from a minute to two years there are at least two ticks, and never twice as many as fit', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1.7e9, max: 1.9e9 }),
      fc.integer({ min: 1800, max: 2 * 366 * 86_400 }),
      fc.integer({ min: 4, max: 12 }),
      fc.constantFrom('UTC', 'Europe/Oslo', 'Asia/Kathmandu'),
      (start, length, most, zone) => {
        const ticks = timeTicks(start * 1000, (start + length) * 1000, zone, most);
        expect(ticks.length).toBeGreaterThanOrEqual(1);
        expect(ticks.length).toBeLessThanOrEqual(most + 1);
        for (const [i, { ms }] of ticks.slice(1).entries()) expect(ms).toBeGreaterThan(ticks[i]?.ms ?? 0);
      },
    ),
  );
});
