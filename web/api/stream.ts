/**
 * An event stream. It knows three things: what the server has just said, whether the line is up, and since when it is
 * not. A stream can be dead without an error (a cable, a proxy), so silence is probed. Each event has a place; a new
 * attempt asks for what came after the last one.
 */
export type StreamEvent =
  | { readonly kind: 'reading'; readonly chamber: string; readonly analyser: string; readonly at: string }
  | { readonly kind: 'alert'; readonly chamber: string; readonly id: string }
  | { readonly kind: 'round'; readonly area: string }
  /** Something may have been missed: everything is to be read again. */
  | { readonly kind: 'resync' }
  /** Who was listening may no longer: the session is to be asked for. */
  | { readonly kind: 'ended' };

export interface StreamState {
  readonly status: 'opening' | 'live' | 'cut-off';
  /** Since when the line has been down, by the browser's clock. */
  readonly cutSince: number | null;
  /** When the next attempt is due. */
  readonly nextTryAt: number | null;
}

/** Cut off must be said within 5 s: after 2 s of silence we ask whether the server is there, and wait 2 s for it. */
const SILENCE_BEFORE_PROBE_MS = 2_000;
const PROBE_PATIENCE_MS = 2_000;
/** First and longest pause between attempts; jittered, so that a restarted server is not met by everyone at once. */
const FIRST_PAUSE_MS = 1_000;
const LONGEST_PAUSE_MS = 30_000;

export interface StreamParts {
  readonly open: (address: string) => EventSource;
  /** Resolves when the server answers; rejects otherwise. */
  readonly probe: (patienceMs: number) => Promise<void>;
  /** Where the stream was before anything that is shown was read; null: not known, so everything is read again. */
  readonly after: string | null;
  /** With the place up to which all has now been heard. */
  readonly onEvent: (event: StreamEvent, place: string | null) => void;
  readonly onState: (state: StreamState) => void;
  readonly now: () => number;
  readonly random: () => number;
}

export interface Stream {
  readonly tryNow: () => void;
  readonly close: () => void;
}

export function openStream(parts: StreamParts): Stream {
  let source: EventSource | null = null;
  let state: StreamState = { status: 'opening', cutSince: null, nextTryAt: null };
  let pauseMs = FIRST_PAUSE_MS;
  let heardAt = parts.now();
  let retry: ReturnType<typeof setTimeout> | undefined;
  let probing = false;
  let closed = false;
  let place = parts.after;

  const say = (next: StreamState) => {
    state = next;
    parts.onState(next);
  };

  const fail = () => {
    if (closed) return;
    source?.close();
    source = null;
    clearTimeout(retry);
    const wait = pauseMs * (0.75 + 0.5 * parts.random());
    pauseMs = Math.min(LONGEST_PAUSE_MS, pauseMs * 2);
    say({ status: 'cut-off', cutSince: state.cutSince ?? parts.now(), nextTryAt: parts.now() + wait });
    retry = setTimeout(connect, wait);
  };

  const connect = () => {
    clearTimeout(retry);
    source?.close();
    heardAt = parts.now();
    const mine = parts.open(place === null ? '/api/v1/events' : `/api/v1/events?after=${encodeURIComponent(place)}`);
    source = mine;
    mine.onopen = () => {
      heardAt = parts.now();
      pauseMs = FIRST_PAUSE_MS;
      say({ status: 'live', cutSince: null, nextTryAt: null });
      if (place === null) parts.onEvent({ kind: 'resync' }, null);
    };
    mine.onerror = () => {
      if (source === mine) fail();
    };
    for (const kind of ['reading', 'alert', 'round', 'resync'] as const) {
      mine.addEventListener(kind, (message) => {
        if (source !== mine) return;
        heardAt = parts.now();
        const { data, lastEventId } = message as MessageEvent<string>;
        place = lastEventId || place;
        const event = readEvent(kind, data);
        if (event) parts.onEvent(event, place);
      });
    }
    mine.addEventListener('ended', () => {
      if (source !== mine) return;
      mine.close();
      source = null;
      say({ status: 'opening', cutSince: null, nextTryAt: null });
      parts.onEvent({ kind: 'ended' }, place);
      retry = setTimeout(connect, FIRST_PAUSE_MS);
    });
  };

  const watch = setInterval(() => {
    if (probing || state.status !== 'live' || parts.now() - heardAt < SILENCE_BEFORE_PROBE_MS) return;
    probing = true;
    parts
      .probe(PROBE_PATIENCE_MS)
      .then(() => {
        heardAt = parts.now();
      }, fail)
      .finally(() => {
        probing = false;
      });
  }, SILENCE_BEFORE_PROBE_MS / 2);

  connect();
  return {
    tryNow: connect,
    close: () => {
      closed = true;
      clearInterval(watch);
      clearTimeout(retry);
      source?.close();
    },
  };
}

function readEvent(kind: StreamEvent['kind'], data: string): StreamEvent | null {
  try {
    return { ...(JSON.parse(data || '{}') as object), kind } as StreamEvent;
  } catch {
    return null;
  }
}
