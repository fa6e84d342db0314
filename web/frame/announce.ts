import { useSyncExternalStore } from 'react';

/** Everything but a new High is gathered and said at most this often, so that a screen reader is not talked over. */
const POLITE_PAUSE_MS = 10_000;

export interface Said {
  readonly assertive: string;
  readonly polite: string;
}

export interface Announcer {
  readonly say: (text: string, manner: 'assertive' | 'polite') => void;
  readonly said: () => Said;
  readonly subscribe: (listener: () => void) => () => void;
}

export function makeAnnouncer(now: () => number): Announcer {
  let said: Said = { assertive: '', polite: '' };
  let waiting: string[] = [];
  let lastPoliteAt = Number.NEGATIVE_INFINITY;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const listeners = new Set<() => void>();

  const put = (next: Partial<Said>) => {
    said = { ...said, ...next };
    for (const listener of listeners) listener();
  };
  const flush = () => {
    timer = undefined;
    lastPoliteAt = now();
    put({ polite: [...new Set(waiting)].join(' ') });
    waiting = [];
  };
  return {
    say: (text, manner) => {
      if (manner === 'assertive') {
        put({ assertive: text });
        return;
      }
      waiting.push(text);
      if (timer === undefined) timer = setTimeout(flush, Math.max(0, lastPoliteAt + POLITE_PAUSE_MS - now()));
    },
    said: () => said,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

const announcer = makeAnnouncer(() => Date.now());
export const announce = announcer.say;
export const useSaid = (): Said => useSyncExternalStore(announcer.subscribe, announcer.said);
