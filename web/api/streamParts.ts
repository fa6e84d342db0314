import { ask } from './ask.ts';
import type { HubParts } from './hub.ts';

/** What a stream takes from the browser, on a page as well as in the worker. */
export const browserParts: HubParts = {
  open: (address) => new EventSource(address),
  probe: (patienceMs) => ask('/health/live', { signal: AbortSignal.timeout(patienceMs) }).then(() => undefined),
  now: () => Date.now(),
  random: Math.random,
};
