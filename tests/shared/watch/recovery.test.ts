/** Gas steps with a known time constant: what is let in falls as e^(−t/τ) above the level at rest. */
import { describe, expect, test } from 'vitest';
import { emptyMemory, type Memory } from '../../../shared/watch/memory.ts';
import { followRecovery, type RecoveryBook, recoveryTrend } from '../../../shared/watch/recovery.ts';
import { judgeRecovery } from '../../../shared/watch/recoverySlow.ts';
import { changeState } from '../../../shared/watch/timeline.ts';
import type { WatchEvent } from '../../../shared/watch/types.ts';
import { watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';

const { last } = watched(5);
const REST = 3e-6;
const MINUTE = 60_000;
const random = makeRandom(21);

function chamber(): { memory: Memory; atMs: number } {
  const memory = emptyMemory('1', 'base', 0);
  memory.overTime.pumpDown = { ...memory.overTime.pumpDown, rest: { gauge: Math.log10(REST) } };
  return { memory, atMs: 0 };
}

function scanAt(story: ReturnType<typeof chamber>, state: string, gaugePa: number): WatchEvent[] {
  changeState(story.memory, state, story.atMs);
  const totalPressurePa = gaugePa * Math.exp(0.01 * random.normal());
  const input = { ...last, scan: { ...last.scan, atMs: story.atMs, state, totalPressurePa } };
  const events = judgeRecovery(story.memory, input);
  story.memory.lastAtMs = story.atMs;
  story.atMs += MINUTE;
  return events;
}

/** An hour of gas, four hours of rest. */
function step(story: ReturnType<typeof chamber>, minutes: number, state = 'gas-on'): WatchEvent[] {
  const events: WatchEvent[] = [];
  for (let i = 0; i < 60; i++) events.push(...scanAt(story, state, 1e-3));
  for (let i = 0; i < 240; i++) events.push(...scanAt(story, 'base', REST * (1 + 10 * Math.exp(-i / minutes))));
  return events;
}

describe('recovery after gas', () => {
  test('its time constant is read off', () => {
    const story = chamber();
    step(story, 12);
    const [kept] = story.memory.overTime.recovery.kept;
    expect(Math.exp(kept!.ln) / 60).toBeGreaterThan(11);
    expect(Math.exp(kept!.ln) / 60).toBeLessThan(13);
    expect(kept!.state).toBe('gas-on');
  });

  test('gas that goes before the next scan, or does not go, tells nothing', () => {
    const story = chamber();
    step(story, 0.5);
    step(story, 1e6);
    expect(story.memory.overTime.recovery.kept).toEqual([]);
  });

  test('a regeneration begins the record anew', () => {
    const story = chamber();
    step(story, 12);
    changeState(story.memory, 'regenerating', story.atMs);
    expect(followRecovery(story.memory, last)).toBe(false);
    expect(story.memory.overTime.recovery).toEqual({ run: null, kept: [] });
  });
});

describe('a pump that fills', () => {
  test('steady recoveries are no news; one slow one is none either', () => {
    const story = chamber();
    const events: WatchEvent[] = [];
    for (let i = 0; i < 25; i++) events.push(...step(story, 12 * Math.exp(0.08 * random.normal())));
    events.push(...step(story, 40), ...step(story, 12), ...step(story, 12));
    expect(events).toEqual([]);
  });

  test('half as long again is called with a date, and over when it is short again', () => {
    const story = chamber();
    const events: WatchEvent[] = [];
    for (let i = 0; i < 26; i++) events.push(...step(story, 12 * Math.exp(0.03 * i)));
    expect(events.map(({ kind }) => kind)).toEqual(['raised']);
    const [event] = events;
    expect(event).toMatchObject({ signature: 'pumping-loss', priority: 'low' });
    const finding = event!.kind === 'raised' ? event!.finding : null!;
    expect(finding.summary).toMatch(
      /recovers more slowly after gas: .* At this rate it takes 3 times as long in .*days/,
    );
    changeState(story.memory, 'regenerating', story.atMs);
    expect(scanAt(story, 'regenerating', 1).map(({ kind }) => kind)).toEqual(['returned']);
  });

  test('the trend holds the true rate', () => {
    // 3 % a step, five hours a step: 14.4 % a day, natural log.
    const kept = Array.from({ length: 20 }, (_, i) => ({
      atMs: i * 300 * MINUTE,
      state: 'gas-on',
      ln: 6 + 0.03 * i + 0.02 * random.normal(),
    }));
    const book: RecoveryBook = { run: null, kept };
    const trend = recoveryTrend(book, 'gas-on')!;
    expect(trend.low).toBeLessThan(0.144);
    expect(trend.high).toBeGreaterThan(0.144);
    expect(recoveryTrend({ run: null, kept: kept.slice(0, 8) }, 'gas-on')).toBeNull();
    expect(recoveryTrend(book, 'transfer')).toBeNull();
  });
});
