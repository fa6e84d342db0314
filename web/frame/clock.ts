import { useSyncExternalStore } from 'react';

/** Ages are counted by the server's clock: the browser's may be wrong by hours. */
let skewMs = 0;
const listeners = new Set<() => void>();
let ticker: ReturnType<typeof setInterval> | undefined;
let second = Math.floor(Date.now() / 1000);

export const nowMs = (): number => Date.now() + skewMs;

/** The server's clock, as it was when its answer was made. */
export function setServerTime(instant: string): void {
  const serverMs = Date.parse(instant);
  if (!Number.isNaN(serverMs)) skewMs = serverMs - Date.now();
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  ticker ??= setInterval(() => {
    second = Math.floor(Date.now() / 1000);
    for (const each of listeners) each();
  }, 1000);
  return () => {
    listeners.delete(listener);
    if (listeners.size === 0) {
      clearInterval(ticker);
      ticker = undefined;
    }
  };
}

/** The time now in milliseconds, renewed every `everySeconds`; only what shows an age should listen each second. */
export function useNow(everySeconds = 1): number {
  const step = useSyncExternalStore(subscribe, () => Math.floor(second / everySeconds));
  return Math.max(nowMs(), step * everySeconds * 1000 + skewMs);
}
