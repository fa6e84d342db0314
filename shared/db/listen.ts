/**
 * LISTEN that survives outages. The driver's own gives up silently when its first attempt to come back fails; this
 * one tries for ever, and says each time that it listens again, because what was sent in between is lost.
 */
import type { Sql } from 'postgres';
import type { Log } from '../log.ts';

export interface Listening {
  /** Settles when the server has confirmed. */
  listen: (channel: string, heard: (payload: string) => void, again?: () => void) => Promise<void>;
  close: () => Promise<void>;
}

interface Listener {
  heard: (payload: string) => void;
  again: (() => void) | undefined;
}

const FIRST_RETRY_MS = 200;
const LONGEST_RETRY_MS = 5_000;
/** A connection that only listens would never learn that its peer is gone. */
const HEARTBEAT_MS = 20_000;

type Events = { onnotify: (channel: string, payload: string) => void; onclose: () => void };

/** @param open makes a client of one connection that reports to `Events` */
export function openListening(open: (events: Events) => Sql, log: Log): Listening {
  const channels = new Map<string, Listener[]>();
  let closing = false;
  let retry: NodeJS.Timeout | undefined;
  let wait = FIRST_RETRY_MS;

  const client = open({
    onnotify: (channel, payload) => {
      for (const listener of channels.get(channel) ?? []) listener.heard(payload);
    },
    onclose: () => comeBack(),
  });
  const heartbeat = setInterval(() => {
    if (channels.size > 0) client`select 1`.catch(() => comeBack());
  }, HEARTBEAT_MS).unref();

  function comeBack(): void {
    if (closing || channels.size === 0 || retry !== undefined) return;
    retry = setTimeout(async () => {
      retry = undefined;
      try {
        for (const channel of channels.keys()) await client`listen ${client(channel)}`;
        wait = FIRST_RETRY_MS;
        for (const listeners of channels.values()) for (const { again } of listeners) again?.();
      } catch (error) {
        log.warn({ error }, 'Cannot listen to the database yet; trying again');
        wait = Math.min(2 * wait, LONGEST_RETRY_MS);
        comeBack();
      }
    }, wait);
  }

  return {
    listen: async (channel, heard, again) => {
      const listeners = channels.get(channel) ?? [];
      channels.set(channel, [...listeners, { heard, again }]);
      if (listeners.length === 0) await client`listen ${client(channel)}`;
    },
    close: async () => {
      closing = true;
      clearInterval(heartbeat);
      clearTimeout(retry);
      await client.end({ timeout: 1 });
    },
  };
}
