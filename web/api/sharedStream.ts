/** The page's end of the one stream of its browser; a stream of its own where the browser has no shared workers. */
import type { FromHub, HubParts, ToHub } from './hub.ts';
import { openStream, type Stream, type StreamParts } from './stream.ts';

/** How often a page says that it is there; the answer says that the worker is. */
const HERE_EVERY_MS = 2_000;
/** Greetings in a row without an answer: the worker is gone, and the page helps itself. */
const MOST_UNANSWERED = 2;

/** A page's connection to the worker; `failed` when the worker could not be started. */
export interface Worker {
  readonly post: (message: ToHub) => void;
  readonly listen: (heard: (message: FromHub) => void, failed: () => void) => void;
  readonly close: () => void;
}

export type PageParts = Pick<StreamParts, 'after' | 'onEvent' | 'onState'>;

/** @param connect null: this browser has no shared workers */
export function openSharedStream(page: PageParts, parts: HubParts, connect: (() => Worker) | null): Stream {
  if (connect === null) return openStream({ ...parts, ...page });
  let place = page.after;
  let unanswered = 0;
  let own: Stream | null = null;
  const worker = connect();

  const helpItself = () => {
    if (own !== null) return;
    clearInterval(timer);
    worker.close();
    own = openStream({ ...parts, ...page, after: place });
  };
  const greet = () => {
    if (unanswered >= MOST_UNANSWERED) {
      helpItself();
      return;
    }
    unanswered += 1;
    worker.post({ kind: 'here', after: place });
  };

  let said = '';
  worker.listen((message) => {
    if (own !== null) return;
    unanswered = 0;
    if (message.kind === 'state') {
      // The answer to each greeting; only what is new is news.
      const now = JSON.stringify(message.state);
      if (now !== said) page.onState(message.state);
      said = now;
    } else {
      place = message.place ?? place;
      page.onEvent(message.event, place);
    }
  }, helpItself);
  const timer = setInterval(greet, HERE_EVERY_MS);
  greet();

  return {
    tryNow: () => (own ? own.tryNow() : worker.post({ kind: 'retry' })),
    close: () => {
      clearInterval(timer);
      if (own) own.close();
      else {
        worker.post({ kind: 'leave' });
        worker.close();
      }
    },
  };
}

/** Null where the browser has none, or forbids them. */
export function sharedWorker(): (() => Worker) | null {
  if (typeof SharedWorker === 'undefined') return null;
  return () => {
    const worker = new SharedWorker(new URL('./streamWorker.ts', import.meta.url), { type: 'module', name: 'ullage' });
    const { port } = worker;
    return {
      post: (message) => port.postMessage(message),
      listen: (heard, failed) => {
        port.onmessage = ({ data }: MessageEvent<FromHub>) => heard(data);
        worker.onerror = failed;
      },
      close: () => port.close(),
    };
  };
}
