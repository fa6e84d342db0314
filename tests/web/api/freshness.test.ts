import { QueryClient } from '@tanstack/react-query';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { changesBetween, makeFreshener, withScan } from '../../../web/api/freshness.ts';
import { round } from '../fixture/lines.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('freshness', () => {
  const now = Date.UTC(2026, 10, 27, 5);

  test('many readings are gathered into one question; an alert does not wait for them', async () => {
    const client = new QueryClient();
    const asked = vi.spyOn(client, 'invalidateQueries');
    const freshener = makeFreshener(client);
    for (let i = 0; i < 50; i += 1) freshener.take({ kind: 'reading', chamber: 'a', at: new Date(now).toISOString() });
    await vi.advanceTimersByTimeAsync(1_000);
    expect(asked).not.toHaveBeenCalled();
    freshener.take({ kind: 'alert', chamber: 'a', id: '1' });
    await vi.advanceTimersByTimeAsync(300);
    const keys = asked.mock.calls.map(([filter]) => JSON.stringify(filter?.queryKey));
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys).toEqual(expect.arrayContaining(['["round"]', '["chamber","a"]', '["alerts"]', '["alert","1"]']));
    freshener.close();
  });

  test('a reading makes the age of its chamber right before the round is asked again, and never older', () => {
    const before = round(now);
    const at = new Date(now + 5_000).toISOString();
    const line = (r: typeof before) => r.areas[0]?.chambers.find(({ id }) => id === 'store');
    const after = withScan(before, 'store', at);
    expect(line(after)?.lastScanAt).toBe(at);
    expect(line(withScan(after, 'store', new Date(now - 1e6).toISOString()))?.lastScanAt).toBe(at);
    expect(after.areas[1]).toBe(before.areas[1]);
  });

  test('after a cut the page says how many chambers say something else', () => {
    const before = round(now);
    const areas = before.areas.map((area) => ({
      ...area,
      chambers: area.chambers.map((line) => (line.id === 'store' ? { ...line, health: 'blind' as const } : line)),
    }));
    expect(changesBetween(before, before)).toBe(0);
    expect(changesBetween(before, { ...before, areas })).toBe(1);
    expect(changesBetween(undefined, before)).toBe(0);
  });
});
