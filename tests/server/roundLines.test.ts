import { describe, expect, test } from 'vitest';
import { headline, shiftAt } from '../../server/roundLines.ts';
import type { ChamberLine } from '../../shared/contract/readings.ts';
import type { Health } from '../../shared/contract/words.ts';

const lines = (...healths: Health[]) => healths.map((health) => ({ health }) as ChamberLine);

describe('the headline', () => {
  test.each<[Health[], string]>([
    [[], 'There are no chambers yet.'],
    [['rest'], 'The chamber is at rest.'],
    [['rest', 'rest'], 'All 2 chambers are at rest.'],
    [['attention'], 'The chamber needs a person.'],
    [['attention', 'rest'], 'One of 2 chambers needs a person.'],
    [['attention', 'attention'], 'All 2 chambers need a person.'],
    [['attention', 'blind', 'stale'], 'One of 3 chambers needs a person; two cannot be seen.'],
    [['blind', 'stale'], 'Nothing can be said: no chamber has sent a fresh scan.'],
    [['stale', 'rest'], 'No alert asks for a person, but one of 2 chambers cannot be seen.'],
    [['changed', 'rest'], 'No chamber needs a person.'],
    [['learning', 'unwatched'], 'No chamber needs a person.'],
    [Array(13).fill('attention').concat('rest'), '13 of 14 chambers need a person.'],
  ])('%j', (healths, text) => {
    expect(headline(lines(...healths))).toBe(text);
  });
});

describe('what is in hand', () => {
  const at = '2026-03-02T12:00:00Z';
  const line = (health: Health, asks: boolean, held = false) =>
    ({ health, worst: asks ? { id: 'a' } : null, inHand: held ? { by: 'J. Ravn', at } : null }) as never;

  test.each([
    [
      [line('attention', true), line('attention', true, true), line('rest', false)],
      'One of 3 chambers needs a person; one is in hand.',
    ],
    [[line('attention', true, true), line('attention', true, true)], 'No chamber waits for a person; two are in hand.'],
    [
      [line('attention', true, true), line('stale', false)],
      'No chamber waits for a person; one is in hand; one cannot be seen.',
    ],
    // Silence that nobody has acknowledged asks for a person like any alert.
    [[line('blind', true), line('rest', false)], 'One of 2 chambers needs a person; one cannot be seen.'],
  ])('%#', (told, text) => {
    expect(headline(told)).toBe(text);
  });
});

describe('alerts that share a cause', () => {
  const asking = (count: number) =>
    Array.from({ length: count }, (_, i) => ({ health: 'attention', worst: { id: `a${i}` } }) as ChamberLine);
  const group = (count: number) => Array.from({ length: count }, (_, i) => `a${i}`);

  test.each([
    [5, [group(5)], 'Five of six chambers need a person, with one cause by the look of it.'],
    [5, [group(3)], 'Five of six chambers need a person, three of them with one cause.'],
    [5, [group(2)], 'Five of six chambers need a person.'],
    [5, [['b1', 'b2', 'b3', 'b4']], 'Five of six chambers need a person.'],
  ])('%i that ask, groups %j', (count, groups, text) => {
    expect(headline([...asking(count), ...lines('rest')], groups)).toBe(text.replace('six', '6'));
  });

  test('stand before what cannot be seen', () => {
    expect(headline([...asking(3), ...lines('blind')], [group(3)])).toBe(
      'Three of 4 chambers need a person, with one cause by the look of it; one cannot be seen.',
    );
  });
});

describe('the shift', () => {
  const shifts = ['14:00', '22:00', '06:00'];
  test.each([
    ['2026-03-02T12:59:59Z', '06:00', '14:00'],
    ['2026-03-02T13:00:00Z', '14:00', '22:00'],
    ['2026-03-02T21:00:00Z', '22:00', '06:00'],
    ['2026-03-03T04:59:00Z', '22:00', '06:00'],
    // Summer time in Oslo since 29 March 2026, 01:00 UTC.
    ['2026-03-30T12:00:00Z', '14:00', '22:00'],
  ])('at %s in Oslo runs from %s to %s', (now, from, to) => {
    expect(shiftAt(shifts, 'Europe/Oslo', new Date(now))).toEqual({ from, to });
  });
  test('is one round the clock where there is one start, and none where there is none', () => {
    expect(shiftAt(['07:30'], 'UTC', new Date('2026-03-02T03:00:00Z'))).toEqual({ from: '07:30', to: '07:30' });
    expect(shiftAt([], 'UTC', new Date())).toBeNull();
  });
});
