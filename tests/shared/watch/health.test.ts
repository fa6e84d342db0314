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

  test('a young chamber says that its bands are wide', () => {
    expect(judgeHealth(chamber({ restSinceMs: null, youngSinceMs: NOW - 3 * 3_600_000 }))).toEqual({
      health: 'rest',
      say: 'At rest. Nothing to do. Watched for 3\u00a0hours only: its bands are wide until about 2 days of its own quiet data have come in.',
    });
  });

  test('the worst open alert speaks', () => {
    expect(judgeHealth(chamber({ openAlerts: [water, air] }))).toEqual({
      health: 'attention',
      say: 'Air is leaking in.',
    });
  });

  test('a scan that is doubted says nothing of rest; an alert and silence say more', () => {
    const doubt = 'The last 2 scans are equal in every value.';
    expect(judgeHealth(chamber({ doubt }))).toEqual({ health: 'stale', say: doubt });
    expect(judgeHealth(chamber({ doubt, openAlerts: [air] })).health).toBe('attention');
    expect(judgeHealth(chamber({ doubt, lastScanAtMs: NOW - 60 * MINUTE })).health).toBe('blind');
    expect(judgeHealth(chamber({ doubt, state: 'vented' })).health).toBe('unwatched');
    expect(judgeHealth(chamber({ doubt: null })).health).toBe('rest');
  });

  test('an alert that is put away asks for nobody, but the chamber is not at rest while its condition stands', () => {
    const until = { untilMs: NOW + 3 * 3_600_000, reason: 'waiting for a seal' };
    expect(judgeHealth(chamber({ openAlerts: [{ ...air, state: 'shelved', ...until }] }))).toEqual({
      health: 'changed',
      say: 'Air is leaking in. The alert is shelved for another 3\u00a0hours (waiting for a seal).',
    });
    expect(judgeHealth(chamber({ openAlerts: [{ ...air, state: 'out-of-service', ...until }] })).say).toContain(
      'out of service for another 3\u00a0hours',
    );
    const suppressed = { ...water, state: 'suppressed', reason: 'not armed in the state gas-on' };
    expect(judgeHealth(chamber({ openAlerts: [suppressed, { ...air, state: 'shelved', ...until }] })).say).toMatch(
      /^Air is leaking in\. The alert is shelved .* 1 more put away\.$/,
    );
  });

  test('one whose condition has returned is said as well', () => {
    const gone = { ...water, state: 'shelved', active: false, untilMs: NOW + 3_600_000 };
    expect(judgeHealth(chamber({ openAlerts: [gone] }))).toEqual({
      health: 'rest',
      say: 'At rest for 41\u00a0days. Nothing to do. One alert is shelved for another 60\u00a0minutes.',
    });
  });

  test('in a vented chamber the alerts that its state suppresses are said', () => {
    const vented = { ...air, state: 'suppressed', reason: 'not armed in the state vented' };
    expect(judgeHealth(chamber({ state: 'vented', openAlerts: [vented, { ...water, state: 'suppressed' }] }))).toEqual({
      health: 'unwatched',
      say: 'Vented for 3\u00a0hours: not watched. 2 alerts are put away, the first suppressed by design (not armed in the state vented).',
    });
  });

  test('a latched alert says that its condition has returned and what it waits for', () => {
    const latched = { ...air, state: 'acknowledged', active: false };
    expect(judgeHealth(chamber({ openAlerts: [latched] }))).toEqual({
      health: 'attention',
      say: 'Air is leaking in. It is back to usual since, and waits to be reset.',
    });
    expect(judgeHealth(chamber({ openAlerts: [{ ...latched, active: true }] })).say).toBe('Air is leaking in.');
  });

  test('an open alert speaks before what is put away', () => {
    const both = [{ ...air, state: 'shelved' }, water];
    expect(judgeHealth(chamber({ openAlerts: both }))).toEqual({ health: 'attention', say: water.summary });
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

  test.each(['frozen', 'detector-saturated', 'mass-shift', 'silent'])(
    '%s that is put away is blindness all the same',
    (signature) => {
      for (const state of ['shelved', 'suppressed', 'out-of-service']) {
        const fault = { signature, priority: 'medium' as const, state, summary: 'Nothing is known of the chamber.' };
        const verdict = judgeHealth(chamber({ openAlerts: [fault] }));
        expect(verdict.health).toBe('blind');
        expect(verdict.say).toMatch(/^Nothing is known of the chamber\. The alert is /);
        // Another analyser of the chamber still sees it.
        expect(judgeHealth(chamber({ openAlerts: [{ ...fault, inAll: false }] })).health).toBe('changed');
        // Its condition has returned: the chamber is seen again.
        expect(judgeHealth(chamber({ openAlerts: [{ ...fault, active: false }] })).health).toBe('rest');
      }
    },
  );

  test('silence that is put away does not hide that no scan comes', () => {
    const silent = {
      signature: 'silent',
      priority: 'medium' as const,
      state: 'shelved',
      summary: 'Nobody is watching.',
    };
    const verdict = judgeHealth(chamber({ openAlerts: [silent], lastScanAtMs: NOW - 47 * MINUTE }));
    expect(verdict.health).toBe('blind');
    expect(verdict.say).toMatch(/the last scan came 47.minutes ago\. One alert is shelved\.$/);
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
