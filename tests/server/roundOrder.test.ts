import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { byPlace, byWorst } from '../../server/roundOrder.ts';
import type { RoundLine } from '../../shared/contract/round.ts';
import { HEALTH_WORDS, PRIORITIES } from '../../shared/contract/words.ts';

const line = (id: string, told: Partial<RoundLine>): RoundLine =>
  ({ id, health: 'rest', change: 'none', worst: null, inHand: null, ...told }) as RoundLine;
const alert = (priority: 'high' | 'medium' | 'low', state = 'unacknowledged') =>
  ({ id: 'a', priority, state, raisedAt: '2026-03-02T10:00:00Z' }) as RoundLine['worst'];
const held = { by: 'J. Ravn', at: '2026-03-02T11:00:00Z' };

describe('chambers of an area', () => {
  test('by priority of what nobody has, then in hand, then not seen, then changed, then at rest', () => {
    const lines = [
      line('rest', {}),
      line('learning', { health: 'learning' }),
      line('came to rest', { change: 'better' }),
      line('changed', { health: 'changed' }),
      line('stale', { health: 'stale' }),
      line('blind', { health: 'blind' }),
      line('low in hand', { health: 'attention', worst: alert('low', 'acknowledged'), inHand: held }),
      line('high in hand', { health: 'attention', worst: alert('high', 'acknowledged'), inHand: held }),
      line('low', { health: 'attention', worst: alert('low') }),
      line('blind, medium', { health: 'blind', worst: alert('medium') }),
      line('high', { health: 'attention', worst: alert('high') }),
    ];
    expect(lines.sort(byPlace).map(({ id }) => id)).toEqual([
      'high',
      'blind, medium',
      'low',
      'high in hand',
      'low in hand',
      'blind',
      'stale',
      'changed',
      'came to rest',
      'learning',
      'rest',
    ]);
  });

  test('is an order: whatever stands first, nothing worse comes after it', () => {
    const any = fc.record({
      health: fc.constantFrom(...HEALTH_WORDS),
      change: fc.constantFrom('none' as const, 'new' as const, 'better' as const),
      worst: fc.option(fc.constantFrom(...PRIORITIES).map((priority) => alert(priority))),
      inHand: fc.option(fc.constant(held)),
    });
    fc.assert(
      fc.property(fc.array(any, { maxLength: 12 }), (told) => {
        const sorted = told.map((one, i) => line(String(i), one)).sort(byPlace);
        for (const [i, one] of sorted.entries())
          for (const later of sorted.slice(i + 1)) expect(byPlace(one, later)).toBeLessThanOrEqual(0);
        const waiting = sorted.map(
          ({ health, worst, inHand }) => health === 'attention' || (worst !== null && inHand === null),
        );
        expect(
          waiting
            .slice(0, waiting.filter((one, i) => one && sorted[i]?.worst && !sorted[i]?.inHand).length)
            .includes(false),
        ).toBe(false);
      }),
    );
  });
});

describe('areas', () => {
  const area = (id: string, ...chambers: RoundLine[]) => ({ id, chambers });
  const order = (...areas: { id: string; chambers: RoundLine[] }[]) => areas.sort(byWorst).map(({ id }) => id);
  const high = line('h', { health: 'attention', worst: alert('high') });
  const mine = line('m', { health: 'attention', worst: alert('high', 'acknowledged'), inHand: held });
  const medium = line('m', { health: 'attention', worst: alert('medium') });

  test('a High stands before a Medium, and that before one that is not seen', () => {
    const blind = line('b', { health: 'blind' });
    expect(
      order(area('calm', line('r', {})), area('blind', blind), area('medium', medium, blind), area('high', high)),
    ).toEqual(['high', 'medium', 'blind', 'calm']);
  });
  test('equal ones keep the order of the document', () => {
    expect(order(area('one', high), area('two', high, medium), area('three', high))).toEqual(['one', 'two', 'three']);
    expect(order(area('one', line('r', {})), area('empty'), area('two', line('c', { health: 'changed' })))).toEqual([
      'one',
      'empty',
      'two',
    ]);
  });
  test('of two with a High, the one that nobody has comes first', () => {
    expect(order(area('held', mine, medium), area('open', high))).toEqual(['open', 'held']);
    expect(order(area('medium', medium), area('held', mine))).toEqual(['held', 'medium']);
  });
});
