import { describe, expect, test } from 'vitest';
import { judgeSilence, silenceFinding } from '../../../shared/watch/silence.ts';

const NOW = Date.UTC(2031, 0, 6, 6);
const ago = (seconds: number, periodSeconds: number | null, state: string | null = 'base') =>
  judgeSilence({ lastScanAtMs: NOW - seconds * 1000, periodSeconds, state, nowMs: NOW });

describe('silence by the clock', () => {
  test.each([
    // period s, age s, silent, stale
    [1, 600, false, true],
    [1, 601, true, true],
    [60, 180, false, false],
    [60, 181, false, true],
    [60, 601, true, true],
    [300, 900, false, false],
    [300, 901, true, true],
    [1800, 5399, false, false],
    [1800, 5401, true, true],
  ])('a scan every %i s, the last %i s ago', (period, age, silent, stale) => {
    expect(ago(age, period)).toMatchObject({ silent, stale });
  });

  test('one lost scan calls nobody', () => {
    expect(ago(120, 60)).toMatchObject({ silent: false, stale: false });
  });

  test('where the analyser is commonly off, no scan is no news', () => {
    expect(ago(86_400, 60, 'vented').silent).toBe(false);
    expect(ago(86_400, 60, 'pump-down').silent).toBe(true);
  });

  test('one scan ever: ten minutes', () => {
    expect(ago(599, null)).toMatchObject({ silent: false, stale: false });
    expect(ago(601, null)).toMatchObject({ silent: true, stale: true });
  });

  test('no scan ever is no silence: nothing was promised', () => {
    expect(judgeSilence({ lastScanAtMs: null, periodSeconds: null, state: null, nowMs: NOW })).toMatchObject({
      silent: false,
      stale: true,
    });
  });

  test('the finding says for how long', () => {
    const finding = silenceFinding(ago(47 * 60, 60), 60);
    expect(finding.summary).toBe('Nobody is watching this chamber: no scan has come for 47\u00a0minutes.');
    expect(finding.evidence[0]).toMatchObject({ value: 2820, expectedHigh: 600 });
  });
});
