import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { makeAnnouncer } from '../../../web/frame/announce.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('announcements', () => {
  test('a new High is said at once; the rest is gathered and never said more often than every 10 s', async () => {
    const announcer = makeAnnouncer(() => Date.now());
    let changes = 0;
    announcer.subscribe(() => {
      changes += 1;
    });
    announcer.say('High in A.', 'assertive');
    expect(announcer.said().assertive).toBe('High in A.');
    announcer.say('One.', 'polite');
    await vi.advanceTimersByTimeAsync(1);
    expect(announcer.said().polite).toBe('One.');
    announcer.say('Two.', 'polite');
    announcer.say('Three.', 'polite');
    announcer.say('Two.', 'polite');
    await vi.advanceTimersByTimeAsync(9_000);
    expect(announcer.said().polite).toBe('One.');
    await vi.advanceTimersByTimeAsync(1_000);
    expect(announcer.said().polite).toBe('Two. Three.');
    expect(changes).toBe(3);
  });
});
