import { describe, expect, test } from 'vitest';
import type { Round, RoundLine } from '../../../shared/contract/round.ts';
import { newsBetween } from '../../../web/frame/news.ts';
import { round } from '../fixture/lines.ts';

const NOW = Date.UTC(2026, 10, 27, 5);
const at = (ms: number) => new Date(ms).toISOString();

/** The round with one chamber's line changed, asked at a later time. */
const withLine = (told: Round, id: string, change: (line: RoundLine) => Partial<RoundLine>, nowMs = NOW): Round => ({
  ...told,
  at: at(nowMs),
  areas: told.areas.map((area) => ({
    ...area,
    chambers: area.chambers.map((line) => (line.id === id ? { ...line, ...change(line) } : line)),
  })),
});
const worst = (id: string, priority: 'high' | 'low', raisedAtMs: number, state = 'unacknowledged') => ({
  id,
  signature: 'air-leak' as const,
  priority,
  state,
  summary: `Summary of ${id}.`,
  firstStep: null,
  raisedAt: at(raisedAtMs),
});
const quiet = withLine(round(NOW), 'store', () => ({ worst: null, openAlerts: 0 }));
const name = quiet.areas.flatMap(({ chambers }) => chambers).find(({ id }) => id === 'store')?.name;

describe('what is announced', () => {
  test('nothing, when only time has passed', () => {
    const later = withLine(quiet, 'store', () => ({ lastScanAt: at(NOW + 60_000) }), NOW + 60_000);
    expect(newsBetween(quiet, later)).toEqual([]);
  });

  test('a new High is marked as such; a new Low is not', () => {
    const high = withLine(quiet, 'store', () => ({ worst: worst('new', 'high', NOW), openAlerts: 1 }));
    expect(newsBetween(quiet, high)).toEqual([{ high: true, sentence: `New, High. ${name}: Summary of new.` }]);
    const low = withLine(quiet, 'store', () => ({ worst: worst('new', 'low', NOW), openAlerts: 1 }));
    expect(newsBetween(quiet, low)).toEqual([{ high: false, sentence: `${name}: Summary of new.` }]);
    expect(newsBetween(high, high), 'once').toEqual([]);
  });

  test('an old alert that comes to light behind an acknowledged one is not new', () => {
    const two = withLine(quiet, 'store', () => ({ worst: worst('first', 'high', NOW - 9e6), openAlerts: 2 }));
    const second = withLine(two, 'store', () => ({ worst: worst('second', 'high', NOW - 8e6), openAlerts: 2 }));
    expect(newsBetween(two, second)).toEqual([]);
  });

  test('a new alert that takes the place of a closed one is new although the count is the same', () => {
    const one = withLine(quiet, 'store', () => ({ worst: worst('first', 'high', NOW - 9e6), openAlerts: 1 }));
    const other = withLine(one, 'store', () => ({ worst: worst('second', 'high', NOW), openAlerts: 1 }));
    expect(newsBetween(one, other)).toHaveLength(1);
  });

  test('one that hides behind a worse one is said by its count', () => {
    const one = withLine(quiet, 'store', () => ({ worst: worst('first', 'high', NOW - 9e6), openAlerts: 1 }));
    const two = withLine(one, 'store', () => ({ openAlerts: 2 }));
    expect(newsBetween(one, two)).toEqual([{ high: false, sentence: `${name}: 2 alerts open now.` }]);
  });

  test('what somebody has acknowledged is not called out', () => {
    const known = withLine(quiet, 'store', () => ({ worst: worst('a', 'high', NOW, 'acknowledged'), openAlerts: 1 }));
    expect(newsBetween(quiet, known)).toEqual([]);
  });
});
