import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { openStream, type StreamEvent, type StreamState } from '../../../web/api/stream.ts';
import { fakeSource } from './fakeSource.ts';

function stage(probe: () => Promise<void>) {
  const sources: ReturnType<typeof fakeSource>[] = [];
  const states: StreamState[] = [];
  const events: StreamEvent[] = [];
  const stream = openStream({
    open: (address) => {
      const source = fakeSource(address);
      sources.push(source);
      return source as unknown as EventSource;
    },
    probe,
    after: 'run.7',
    onEvent: (event) => events.push(event),
    onState: (state) => states.push(state),
    now: () => Date.now(),
    random: () => 0.5,
  });
  const latest = () => sources[sources.length - 1] as ReturnType<typeof fakeSource>;
  return { stream, sources, states, events, latest, status: () => states[states.length - 1]?.status };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('the line to the server', () => {
  test('is live once it is open, and passes on what it hears', () => {
    const { latest, status, events } = stage(() => Promise.resolve());
    latest().onopen?.();
    expect(status()).toBe('live');
    latest().say('alert', '{"chamber":"a","id":"1"}');
    latest().say('reading', 'not json');
    latest().say('resync', '');
    expect(events).toEqual([{ kind: 'alert', chamber: 'a', id: '1' }, { kind: 'resync' }]);
  });

  test('a dropped stream is said at once, tried again later and later, and found again', async () => {
    const { latest, status, states, sources } = stage(() => Promise.resolve());
    latest().onopen?.();
    latest().onerror?.();
    expect(status()).toBe('cut-off');
    expect(states[states.length - 1]?.nextTryAt).toBeGreaterThan(Date.now());
    await vi.advanceTimersByTimeAsync(1_100);
    expect(sources).toHaveLength(2);
    latest().onerror?.();
    await vi.advanceTimersByTimeAsync(1_100);
    expect(sources, 'the second pause is longer').toHaveLength(2);
    await vi.advanceTimersByTimeAsync(1_100);
    expect(sources).toHaveLength(3);
    latest().onopen?.();
    expect(states[states.length - 1]).toEqual({ status: 'live', cutSince: null, nextTryAt: null });
  });

  test('it counts from when it was cut off, not from the last attempt', async () => {
    const { latest, states } = stage(() => Promise.resolve());
    latest().onopen?.();
    latest().onerror?.();
    const since = states[states.length - 1]?.cutSince;
    await vi.advanceTimersByTimeAsync(1_100);
    latest().onerror?.();
    expect(states[states.length - 1]?.cutSince).toBe(since);
  });

  test('a stream that is silently dead is found out within 5 s', async () => {
    // Nothing answers and nothing fails: the cable is out.
    const never = (patience: number) =>
      new Promise<void>((_done, fail) => setTimeout(() => fail(new Error('late')), patience));
    const { latest, status } = stage(never as () => Promise<void>);
    latest().onopen?.();
    await vi.advanceTimersByTimeAsync(5_000);
    expect(status()).toBe('cut-off');
  });

  test('each attempt asks for what came after the last event', async () => {
    const { latest, events } = stage(() => Promise.resolve());
    expect(latest().address).toBe('/api/v1/events?after=run.7');
    latest().onopen?.();
    latest().say('alert', '{"chamber":"a","id":"1"}', 'run.8');
    latest().onerror?.();
    await vi.advanceTimersByTimeAsync(1_100);
    expect(latest().address).toBe('/api/v1/events?after=run.8');
    expect(events, 'nothing is read again that the server can tell').toHaveLength(1);
  });

  test('a stream whose reader may no longer read says so, and is not called a cut', async () => {
    const { latest, events, status, sources } = stage(() => Promise.resolve());
    latest().onopen?.();
    latest().say('ended', '{}');
    expect(events).toEqual([{ kind: 'ended' }]);
    expect(status()).toBe('opening');
    await vi.advanceTimersByTimeAsync(1_100);
    expect(sources, 'somebody else may have signed in').toHaveLength(2);
  });

  test('a quiet fleet is not cut off', async () => {
    const { latest, status } = stage(() => Promise.resolve());
    latest().onopen?.();
    await vi.advanceTimersByTimeAsync(60_000);
    expect(status()).toBe('live');
  });

  test('a person can try now, and a closed stream stays closed', async () => {
    const { stream, sources, latest } = stage(() => Promise.resolve());
    latest().onopen?.();
    latest().onerror?.();
    stream.tryNow();
    expect(sources).toHaveLength(2);
    stream.close();
    expect(latest().closed).toBe(true);
    await vi.advanceTimersByTimeAsync(60_000);
    expect(sources).toHaveLength(2);
  });
});
