/**
 * The one event stream of the page. It knows three things: what the server has just said, whether the line is up,
 * and since when it is not. A stream can be dead without an error (a cable, a proxy), so silence is probed.
 */
export type StreamEvent =
  | { readonly kind: 'reading'; readonly chamber: string; readonly at: string }
  | { readonly kind: 'alert'; readonly chamber: string; readonly id: string }
  | { readonly kind: 'round'; readonly area: string }
  /** Something may have been missed: everything is to be read again. */
  | { readonly kind: 'resync' };

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
  readonly onEvent: (event: StreamEvent) => void;
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
    const mine = parts.open('/api/v1/events');
    source = mine;
    mine.onopen = () => {
      heardAt = parts.now();
      pauseMs = FIRST_PAUSE_MS;
      say({ status: 'live', cutSince: null, nextTryAt: null });
    };
    mine.onerror = () => {
      if (source === mine) fail();
    };
    for (const kind of ['reading', 'alert', 'round', 'resync'] as const) {
      mine.addEventListener(kind, (message) => {
        heardAt = parts.now();
        const event = readEvent(kind, (message as MessageEvent<string>).data);
        if (event) parts.onEvent(event);
      });
    }
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
