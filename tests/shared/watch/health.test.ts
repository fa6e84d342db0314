import { describe, expect, test } from 'vitest';
import { type HealthInput, judgeHealth } from '../../../shared/watch/health.ts';

const NOW = Date.UTC(2031, 0, 6, 6);
const MINUTE = 60_000;
const chamber = (change: Partial<HealthInput> = {}): HealthInput => ({
  openAlerts: [],
  lastScanAtMs: NOW - MINUTE,
  periodSeconds: 60,
  state: 'base',
  stateSinceMs: NOW - 3 * 3_600_000,
  learning: null,
  strip: [{ gas: 'N2', status: 'measured', decades: 0.02, halfWidth: 0.1 }],
  nowMs: NOW,
  retired: false,
  restSinceMs: NOW - 41 * 86_400_000,
  ...change,
});
const air = {
  signature: 'air-leak',
  priority: 'high' as const,
  state: 'unacknowledged',
  summary: 'Air is leaking in.',
};
const water = {
  signature: 'water',
  priority: 'low' as const,
  state: 'acknowledged',
  summary: 'Water is 2 times the usual.',
};

describe('one word and one sentence', () => {
  test('at rest', () => {
    expect(judgeHealth(chamber())).toEqual({ health: 'rest', say: 'At rest for 41\u00a0days. Nothing to do.' });
  });

  test('the worst open alert speaks', () => {
    expect(judgeHealth(chamber({ openAlerts: [water, air] }))).toEqual({
      health: 'attention',
      say: 'Air is leaking in.',
    });
  });

  test('a shelved alert asks for nobody', () => {
    expect(judgeHealth(chamber({ openAlerts: [{ ...air, state: 'shelved' }] })).health).toBe('rest');
  });

  test('a gas outside its usual range without an alert is changed, and is named', () => {
    const strip = [{ gas: 'H2O', status: 'measured' as const, decades: -0.4, halfWidth: 0.1 }];
    const verdict = judgeHealth(chamber({ strip, gasName: () => 'water' }));
    expect(verdict).toEqual({ health: 'changed', say: 'Water 2.5 times below the usual. Nothing to do.' });
  });

  test('what is below detection is not changed', () => {
    const strip = [{ gas: 'He', status: 'below-detection' as const, decades: 0.4, halfWidth: 0.1 }];
    expect(judgeHealth(chamber({ strip })).health).toBe('rest');
  });

  test('learning, vented, retired', () => {
    expect(judgeHealth(chamber({ learning: { have: 7, need: 12 } })).say).toBe(
      'Learning what is usual here: 7 of 12 scans.',
    );
    expect(judgeHealth(chamber({ state: 'vented' }))).toEqual({
      health: 'unwatched',
      say: 'Vented for 3\u00a0hours: not watched.',
    });
    expect(judgeHealth(chamber({ retired: true })).health).toBe('unwatched');
  });
});

describe('not knowing is never health', () => {
  test.each([
    [2, 'rest'],
    [3, 'rest'],
    [4, 'stale'],
    [10, 'stale'],
    [11, 'blind'],
    [600, 'blind'],
  ])('scans every minute, the last %i minutes ago: %s', (minutes, health) => {
    expect(judgeHealth(chamber({ lastScanAtMs: NOW - minutes * MINUTE })).health).toBe(health);
  });

  test('scans every half hour: three periods, then blind', () => {
    const slow = (minutes: number) =>
      judgeHealth(chamber({ periodSeconds: 1800, lastScanAtMs: NOW - minutes * MINUTE })).health;
    expect([slow(89), slow(91)]).toEqual(['rest', 'blind']);
  });

  test('never heard of, or silent with the silence alert open', () => {
    expect(judgeHealth(chamber({ lastScanAtMs: null, periodSeconds: null })).health).toBe('blind');
    const silent = {
      signature: 'silent',
      priority: 'medium' as const,
      state: 'unacknowledged',
      summary: 'Nobody is watching.',
    };
    const old = judgeHealth(chamber({ openAlerts: [silent], lastScanAtMs: NOW - 47 * MINUTE }));
    expect(old).toEqual({
      health: 'blind',
      say: 'Nobody is watching this chamber: the last scan came 47\u00a0minutes ago.',
    });
  });

  test('an old alert says how old its knowledge is', () => {
    const verdict = judgeHealth(chamber({ openAlerts: [air], lastScanAtMs: NOW - 20 * MINUTE }));
    expect(verdict).toEqual({
      health: 'attention',
      say: 'Air is leaking in. No scan has come for 20\u00a0minutes since.',
    });
  });

  test('a chamber that learns or was changed is stale all the same', () => {
    const old = { lastScanAtMs: NOW - 5 * MINUTE };
    expect(judgeHealth(chamber({ ...old, learning: { have: 1, need: 12 } })).health).toBe('stale');
    const strip = [{ gas: 'N2', status: 'measured' as const, decades: 1, halfWidth: 0.1 }];
    expect(judgeHealth(chamber({ ...old, strip })).health).toBe('stale');
  });
});
