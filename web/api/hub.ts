/**
 * One stream for all pages of a browser, whichever of them come and go: browsers allow few connections to one server,
 * and a person opens many pages. Lives in a shared worker, which lasts as long as any page does.
 */
import { keepRecent, type Recent } from '../../shared/contract/recent.ts';
import { openStream, type Stream, type StreamEvent, type StreamParts, type StreamState } from './stream.ts';

/** `after`: the place up to which the page has heard all. */
export type ToHub =
  | { readonly kind: 'here'; readonly after: string | null }
  | { readonly kind: 'retry' }
  | { readonly kind: 'leave' };
export type FromHub =
  | { readonly kind: 'state'; readonly state: StreamState }
  | { readonly kind: 'event'; readonly event: StreamEvent; readonly place: string | null };

export interface Port {
  readonly postMessage: (message: FromHub) => void;
}

/** Enough for a page that is opened while a large fleet talks. */
const MOST_RECENT = 1_000;
/** A page says every few seconds that it is there, once a minute in the background; one that does not has gone. */
const GONE_AFTER_MS = 5 * 60_000;

export type HubParts = Omit<StreamParts, 'after' | 'onEvent' | 'onState'>;

export function makeHub(parts: HubParts) {
  /** When each page was last heard. */
  const pages = new Map<Port, number>();
  let stream: Stream | null = null;
  let recent: Recent<StreamEvent> = keepRecent('', MOST_RECENT);
  let state: StreamState = { status: 'opening', cutSince: null, nextTryAt: null };

  const tellAll = (message: FromHub) => {
    for (const [port, heardAt] of pages) {
      if (parts.now() - heardAt > GONE_AFTER_MS) pages.delete(port);
      else port.postMessage(message);
    }
  };

  const open = (after: string | null) => {
    recent = keepRecent(after ?? '', MOST_RECENT);
    stream = openStream({
      ...parts,
      after,
      onEvent: (event, place) => {
        if (event.kind === 'resync') recent.startAt(place ?? '');
        else if (event.kind !== 'ended' && place !== null) recent.add(place, event);
        tellAll({ kind: 'event', event, place });
      },
      onState: (next) => {
        state = next;
        tellAll({ kind: 'state', state });
      },
    });
  };

  const join = (port: Port, after: string | null) => {
    if (stream === null) {
      state = { status: 'opening', cutSince: null, nextTryAt: null };
      open(after);
      return;
    }
    // The page has just been answered by the server: what was a long pause can end.
    if (state.status === 'cut-off') stream.tryNow();
    const missed = recent.after(after) ?? [{ kind: 'resync' } as const];
    missed.forEach((event, i) => {
      const all = i === missed.length - 1;
      port.postMessage({ kind: 'event', event, place: all ? recent.place() || null : null });
    });
  };

  const leave = (port: Port) => {
    pages.delete(port);
    if (pages.size > 0) return;
    stream?.close();
    stream = null;
  };

  return {
    take: (port: Port, message: ToHub) => {
      if (message.kind === 'leave') leave(port);
      else if (message.kind === 'retry') stream?.tryNow();
      else {
        const known = pages.has(port);
        pages.set(port, parts.now());
        if (!known) join(port, message.after);
        port.postMessage({ kind: 'state', state });
      }
    },
  };
}
