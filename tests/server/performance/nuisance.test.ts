import { describe, expect, test } from 'vitest';
import type { Annunciation } from '../../../server/performance/annunciations.ts';
import { chatteringOf, FLEETING_MS, fleetingOf, STALE_MS, staleOf } from '../../../server/performance/nuisance.ts';

const call = (seconds: number, alert = 'a', chamber = 'prep'): Annunciation => ({
  atMs: seconds * 1000,
  alert,
  chamber,
  signature: 'water',
  priority: 'low',
});

describe('chattering', () => {
  test('three calls within a minute', () => {
    expect(chatteringOf([call(0), call(30), call(60)])).toEqual([{ alert: 'a', times: 3, withinMs: 60_000 }]);
    expect(chatteringOf([call(0), call(30), call(61)])).toEqual([]);
  });

  test('four within a shift, also when each is an alert of its own', () => {
    const hours = (n: number) => n * 3600;
    expect(chatteringOf([call(0, 'a'), call(hours(2), 'b'), call(hours(4), 'c'), call(hours(8), 'd')])).toEqual([
      { alert: 'd', times: 4, withinMs: 8 * 3_600_000 },
    ]);
    expect(chatteringOf([call(0), call(hours(3)), call(hours(6)), call(hours(9))])).toEqual([]);
  });

  test('chambers are told apart', () => {
    expect(chatteringOf([call(0, 'a', 'x'), call(10, 'b', 'y'), call(20, 'c', 'z')])).toEqual([]);
  });
});

describe('fleeting and stale', () => {
  const stood = (stoodMs: number | null, touched = false) => [
    { alert: 'a', calledAtMs: 0, returnedAtMs: stoodMs, touched },
  ];
  test('gone by itself before a person could act', () => {
    expect(fleetingOf(stood(FLEETING_MS - 1))).toEqual([{ alert: 'a', stoodMs: FLEETING_MS - 1 }]);
    expect(fleetingOf(stood(FLEETING_MS))).toEqual([]);
    expect(fleetingOf(stood(1000, true))).toEqual([]);
    expect(fleetingOf(stood(null))).toEqual([]);
  });

  test('standing for more than a day', () => {
    expect(staleOf(stood(null), STALE_MS + 1)).toEqual([{ alert: 'a', stoodMs: STALE_MS + 1 }]);
    expect(staleOf(stood(null), STALE_MS)).toEqual([]);
    expect(staleOf(stood(5), 10 * STALE_MS)).toEqual([]);
  });
});
