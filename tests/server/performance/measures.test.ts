/** Bounds: IEC 62682:2014 144 calls a day, ISA-18.2-2016 1 in ten minutes, 1 % of crowded periods (secondary sources). */
import { expect, test } from 'vitest';
import { type Annunciation, floodsOf } from '../../../server/performance/annunciations.ts';
import { type Load, measuresOf } from '../../../server/performance/measures.ts';

const DAY = 86_400_000;
const calls = (count: number, days: number): Annunciation[] =>
  Array.from({ length: count }, (_, i) => ({
    atMs: (i * days * DAY) / count,
    alert: `a${i}`,
    chamber: 'c',
    signature: 'water',
    priority: 'low',
  }));
const load = (changed: Partial<Load> = {}): Load => ({
  period: { fromMs: 0, toMs: 30 * DAY },
  calls: [],
  floods: [],
  perDay: [],
  topShare: null,
  chattering: 0,
  fleeting: 0,
  stale: 0,
  chambers: 100,
  closed: { total: 0, acted: 0, planned: 0 },
  ...changed,
});
const measure = (of: Load, id: string) => measuresOf(of).find((one) => one.id === id);

test('144 calls a day are one in ten minutes: both bounds are just met', () => {
  const even = load({ calls: calls(144 * 30, 30) });
  expect(measure(even, 'per-day')).toMatchObject({ value: 144, met: true });
  expect(measure(even, 'per-ten-minutes')).toMatchObject({ value: 1, met: true });
  const more = load({ calls: calls(145 * 30, 30) });
  expect(measure(more, 'per-day')?.met).toBe(false);
});

test('an average hides a flood: the crowded periods do not', () => {
  const burst = calls(50, 30).map((call, i) => ({ ...call, atMs: 5 * DAY + i * 1000 }));
  const of = load({ calls: burst, floods: floodsOf(burst), perDay: [0, 50] });
  expect(measure(of, 'per-day')?.met).toBe(true);
  expect(measure(of, 'busiest-day')?.value).toBe(50);
  expect(measure(of, 'crowded-periods')?.value).toBeCloseTo(1 / 4320, 12);
  // The calls last 49 s; ten minutes after the fifth from the end the flood has dried up.
  expect(measure(of, 'flood-time')?.value).toBeCloseTo((45_000 + 600_000) / (30 * DAY), 12);
});

test('15 calls a shift for 100 chambers is the goal, whatever the number of chambers', () => {
  expect(measure(load({ calls: calls(15 * 3 * 30, 30) }), 'per-shift-and-hundred')).toMatchObject({ met: true });
  expect(measure(load({ calls: calls(90, 30), chambers: 10 }), 'per-shift-and-hundred')?.value).toBeCloseTo(10, 10);
  expect(measure(load({ chambers: 0 }), 'per-shift-and-hundred')).toMatchObject({ value: null, met: null });
});

test('too little to say is said', () => {
  const few = load({ calls: calls(5, 30), topShare: 1 });
  expect(measure(few, 'top-ten-share')).toMatchObject({ value: null, met: null });
  expect(measure(few, 'top-ten-share')?.why).toContain('5 calls');
  expect(measure(load(), 'action-ratio')).toMatchObject({ value: null, met: null });
});

test('planned work neither counts for nor against the ratio of actions', () => {
  const of = (acted: number, planned: number, total: number) =>
    measure(load({ closed: { acted, planned, total } }), 'action-ratio');
  expect(of(4, 2, 10)).toMatchObject({ value: 0.5, met: true });
  expect(of(3, 0, 10)).toMatchObject({ value: 0.3, met: false });
});
