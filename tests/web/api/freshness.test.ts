import { QueryClient, QueryObserver } from '@tanstack/react-query';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { RefusedError } from '../../../web/api/ask.ts';
import { makeClient } from '../../../web/api/client.ts';
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
  const reading = (analyser: string) =>
    ({ kind: 'reading', chamber: 'a', analyser, at: new Date(now).toISOString() }) as const;

  test('many readings are gathered into one question; an alert does not wait for them', async () => {
    const client = new QueryClient();
    const asked = vi.spyOn(client, 'invalidateQueries');
    const freshener = makeFreshener(client);
    for (let i = 0; i < 50; i += 1) freshener.take(reading('a-1'));
    await vi.advanceTimersByTimeAsync(1_000);
    expect(asked).not.toHaveBeenCalled();
    freshener.take({ kind: 'alert', chamber: 'a', id: '1' });
    await vi.advanceTimersByTimeAsync(300);
    const keys = asked.mock.calls.map(([filter]) => JSON.stringify(filter?.queryKey));
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys).toEqual(expect.arrayContaining(['["round"]', '["chamber","a"]', '["alerts"]', '["alert","1"]']));
    freshener.close();
  });

  test('what is shown of an analyser is asked again with its scans, never more than once in ten seconds', async () => {
    const client = makeClient();
    const askedAt: Record<string, number[]> = {};
    for (const key of [
      ['measurement', 'list'],
      ['measurement', 'of', 'a-1', 'now'],
      ['measurement', 'of', 'a-1', 'trend', { points: 600 }],
      ['measurement', 'of', 'a-1', 'plan', 'N2', 1e-9],
      ['measurement', 'of', 'a-2', 'now'],
    ]) {
      const times: number[] = [];
      askedAt[key.join(' ')] = times;
      const queryFn = () => Promise.resolve(times.push(Date.now()));
      new QueryObserver(client, { queryKey: key, queryFn }).subscribe(() => {});
    }
    const freshener = makeFreshener(client);
    // Ten scans a second for a minute, of one analyser.
    for (let i = 0; i < 600; i += 1) {
      freshener.take(reading('a-1'));
      await vi.advanceTimersByTimeAsync(100);
    }
    const asked = Object.values(askedAt);
    // Once at first, then after 10, 20, … 60 s; a plan and another analyser are not concerned.
    expect(asked.map((times) => times.length)).toEqual([7, 7, 7, 1, 1]);
    for (const times of asked)
      for (const [i, at] of times.slice(1).entries()) expect(at - (times[i] ?? 0)).toBeGreaterThanOrEqual(10_000);
    freshener.close();
    client.clear();
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

  test('a question that met bad weather is asked again until it is answered; a clear no is not', async () => {
    const client = makeClient();
    const watch = (key: string, ask: () => Promise<string>) =>
      new QueryObserver(client, { queryKey: [key], queryFn: ask, retry: false, staleTime: 0 }).subscribe(() => {});
    let weather: 'fair' | 'bad' = 'fair';
    const tries = { round: 0, alerts: 0 };
    const refuse = (status: number) => Promise.reject(new RefusedError({ status, message: 'no' }));
    watch('round', () => {
      tries.round += 1;
      return weather === 'fair' ? Promise.resolve(`answer ${tries.round}`) : refuse(503);
    });
    watch('alerts', () => {
      tries.alerts += 1;
      return refuse(403);
    });
    await vi.advanceTimersByTimeAsync(10);
    const freshener = makeFreshener(client);
    weather = 'bad';
    freshener.take({ kind: 'alert', chamber: 'a', id: '1' });
    await vi.advanceTimersByTimeAsync(9_000);
    expect(tries.round).toBeGreaterThan(2);
    const refused = tries.alerts;
    weather = 'fair';
    await vi.advanceTimersByTimeAsync(31_000);
    expect(client.getQueryState(['round'])?.status).toBe('success');
    expect(client.getQueryData(['round'])).toBe(`answer ${tries.round}`);
    expect(tries.alerts).toBe(refused);
    freshener.close();
    client.clear();
  });

  test('reading everything again says whether all of it came', async () => {
    const client = makeClient();
    let there = false;
    const ask = () =>
      there ? Promise.resolve('x') : Promise.reject(new RefusedError({ status: 0, message: 'no answer' }));
    new QueryObserver(client, { queryKey: ['round'], queryFn: ask, retry: false }).subscribe(() => {});
    await vi.advanceTimersByTimeAsync(10);
    const freshener = makeFreshener(client);
    expect(await freshener.readAgain()).toBe(false);
    there = true;
    expect(await freshener.readAgain()).toBe(true);
    freshener.close();
    client.clear();
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
