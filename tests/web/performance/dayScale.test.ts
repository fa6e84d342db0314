import { describe, expect, test } from 'vitest';
import { daysSentence } from '../../../web/performance/DayMarks.tsx';
import { dayLayout, dayText } from '../../../web/performance/dayScale.ts';

const box = { left: 30, right: 330, top: 20, bottom: 120 };
const days = [0, 2, 12].map((annunciations, i) => ({ day: `2026-11-0${i + 1}`, annunciations }));

describe('marks of days', () => {
  test('a day without a call lies on the ground, the busiest is highest, and all stay inside', () => {
    const { places } = dayLayout(days, box);
    expect(places.map(({ y }) => y)[0]).toBe(box.bottom);
    expect(places[2]?.y).toBeGreaterThanOrEqual(box.top);
    expect(places[2]?.y).toBeLessThan(places[1]?.y ?? 0);
    for (const { x } of places) expect(x > box.left && x < box.right).toBe(true);
  });

  test('a quiet month does not look like a storm', () => {
    const { places } = dayLayout([{ day: '2026-11-01', annunciations: 1 }], box);
    expect(box.bottom - (places[0]?.y ?? 0)).toBeLessThan((box.bottom - box.top) / 2);
  });

  test('ticks are whole calls; the last day is labelled and labels do not touch', () => {
    const many = Array.from({ length: 90 }, (_, i) => ({ day: `d${i}`, annunciations: i % 2 }));
    const { ticks, labels } = dayLayout(many, box);
    expect(ticks.every(({ value }) => Number.isInteger(value))).toBe(true);
    expect(labels.at(-1)?.day).toBe('d89');
    for (let i = 1; i < labels.length; i += 1)
      expect((labels[i]?.x ?? 0) - (labels[i - 1]?.x ?? 0)).toBeGreaterThan(55);
  });

  test('in words', () => {
    expect(daysSentence(days)).toBe('14 calls on 3 days; most on 3 Nov (12), none on 1 day.');
    expect(daysSentence([])).toBe('No day is in this span.');
    expect(daysSentence([{ day: '2026-11-01', annunciations: 0 }])).toBe('No call on any of 1 day.');
    expect(dayText('nonsense')).toBe('nonsense');
  });
});
