import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { type FromHub, makeHub, type ToHub } from '../../../web/api/hub.ts';
import { openSharedStream, type Worker } from '../../../web/api/sharedStream.ts';
import type { StreamEvent, StreamState } from '../../../web/api/stream.ts';
import { fakeSource } from './fakeSource.ts';

/** A hub with pages that join it as they do through a worker; messages pass at once, unless the worker is dead. */
function stage() {
  const sources: ReturnType<typeof fakeSource>[] = [];
  const parts = {
    open: (address: string) => {
      const source = fakeSource(address);
      sources.push(source);
      return source as unknown as EventSource;
    },
    probe: () => Promise.resolve(),
    now: () => Date.now(),
    random: () => 0.5,
  };
  const hub = makeHub(parts);
  let dead = false;

  const page = (after: string | null) => {
    const heard: { events: StreamEvent[]; states: StreamState[] } = { events: [], states: [] };
    let listener: (message: FromHub) => void = () => {};
    let failed: () => void = () => {};
    const port = { postMessage: (message: FromHub) => listener(message) };
    const worker: Worker = {
      post: (message: ToHub) => {
        if (!dead) hub.take(port, message);
      },
      listen: (hear, fail) => {
        listener = hear;
        failed = fail;
      },
      close: () => {
        listener = () => {};
      },
    };
    const stream = openSharedStream(
      { after, onEvent: (event) => heard.events.push(event), onState: (state) => heard.states.push(state) },
      parts,
      () => worker,
    );
    return { ...heard, stream, fail: () => failed(), status: () => heard.states.at(-1)?.status };
  };
  const latest = () => sources.at(-1) as ReturnType<typeof fakeSource>;
  return {
    page,
    sources,
    latest,
    die: () => {
      dead = true;
    },
  };
}

const alert = (id: string) => JSON.stringify({ chamber: 'a', id });
const ids = (events: readonly StreamEvent[]) => events.map((event) => ('id' in event ? event.id : event.kind));

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('one stream for all pages of a browser', () => {
  test('pages share it, and each hears every event once', () => {
    const { page, sources, latest } = stage();
    const [one, two] = [page('run.0'), page('run.0')];
    latest().onopen?.();
    latest().say('alert', alert('1'), 'run.1');
    expect(sources).toHaveLength(1);
    expect([ids(one.events), ids(two.events)]).toEqual([['1'], ['1']]);
    expect([one.status(), two.status()]).toEqual(['live', 'live']);
  });

  test('a page that comes later is told what happened after it had begun to read, and nothing twice', () => {
    const { page, latest } = stage();
    page('run.0');
    latest().onopen?.();
    for (const n of [1, 2, 3]) latest().say('alert', alert(String(n)), `run.${n}`);
    const late = page('run.1');
    expect(ids(late.events)).toEqual(['2', '3']);
    expect(late.status()).toBe('live');
    expect(ids(page('run.3').events)).toEqual([]);
  });

  test('where that is not known it reads everything again', () => {
    const { page, latest } = stage();
    page('run.0');
    latest().onopen?.();
    expect(ids(page('other.7').events)).toEqual(['resync']);
    expect(ids(page(null).events)).toEqual(['resync']);
    latest().say('resync', '{}', 'run.9');
    expect(ids(page('run.0').events)).toEqual(['resync']);
    expect(ids(page('run.9').events)).toEqual([]);
  });

  test('whichever page closes, the others go on; with the last one the stream ends', () => {
    const { page, sources, latest } = stage();
    const [first, second] = [page('run.0'), page('run.0')];
    latest().onopen?.();
    first.stream.close();
    latest().say('alert', alert('1'), 'run.1');
    expect([ids(first.events), ids(second.events)]).toEqual([[], ['1']]);
    expect(sources).toHaveLength(1);
    second.stream.close();
    expect(latest().closed).toBe(true);
  });

  test('a cut is known to all, counts from its start, and goes on after the last event', async () => {
    const { page, sources, latest } = stage();
    const one = page('run.0');
    latest().onopen?.();
    latest().say('alert', alert('1'), 'run.1');
    latest().onerror?.();
    expect(one.status()).toBe('cut-off');
    const two = page('run.1');
    expect(sources, 'a page that was just answered ends the pause').toHaveLength(2);
    expect(latest().address).toBe('/api/v1/events?after=run.1');
    latest().onopen?.();
    expect([one.status(), two.status()]).toEqual(['live', 'live']);
  });

  test('a page that was put to sleep for long costs nothing, and is told what it missed when it wakes', async () => {
    const source = fakeSource('');
    const hub = makeHub({
      open: () => source as unknown as EventSource,
      probe: async () => {},
      now: () => Date.now(),
      random: () => 0.5,
    });
    const told: FromHub[] = [];
    const [asleep, awake] = [{ postMessage: (message: FromHub) => told.push(message) }, { postMessage: () => {} }];
    hub.take(asleep, { kind: 'here', after: 'run.0' });
    source.onopen?.();
    await vi.advanceTimersByTimeAsync(6 * 60_000);
    hub.take(awake, { kind: 'here', after: 'run.0' });
    const before = told.length;
    source.say('alert', alert('1'), 'run.1');
    expect(told).toHaveLength(before);
    hub.take(asleep, { kind: 'here', after: 'run.0' });
    expect(told.slice(before)).toContainEqual({
      kind: 'event',
      event: { kind: 'alert', chamber: 'a', id: '1' },
      place: 'run.1',
    });
  });

  test('greetings are answered but say nothing new', async () => {
    const { page, latest } = stage();
    const one = page('run.0');
    latest().onopen?.();
    const said = one.states.length;
    await vi.advanceTimersByTimeAsync(30_000);
    expect(one.states).toHaveLength(said);
  });

  test('a page whose worker is gone opens a stream of its own, from where it was', async () => {
    const { page, sources, latest, die } = stage();
    const one = page('run.0');
    latest().onopen?.();
    latest().say('alert', alert('1'), 'run.1');
    die();
    await vi.advanceTimersByTimeAsync(6_000);
    expect(sources).toHaveLength(2);
    expect(latest().address).toBe('/api/v1/events?after=run.1');
    latest().onopen?.();
    latest().say('alert', alert('2'), 'run.2');
    expect(ids(one.events)).toEqual(['1', '2']);
    one.stream.close();
    expect(latest().closed).toBe(true);
  });

  test('so does one whose worker cannot be started, and one whose browser has none', () => {
    const { page, sources, latest, die } = stage();
    die();
    const one = page('run.5');
    one.fail();
    expect(sources).toHaveLength(1);
    latest().onopen?.();
    expect(one.status()).toBe('live');
    const source = fakeSource('');
    const parts = {
      open: () => source as unknown as EventSource,
      probe: async () => {},
      now: () => Date.now(),
      random: () => 0.5,
    };
    const states: StreamState[] = [];
    openSharedStream({ after: null, onEvent: () => {}, onState: (state) => states.push(state) }, parts, null);
    source.onopen?.();
    expect(states.at(-1)?.status).toBe('live');
  });
});
