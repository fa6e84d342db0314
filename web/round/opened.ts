import { useSyncExternalStore } from 'react';

/**
 * Which chambers the person has opened since the last signed round: said at the foot of the page before signing.
 * Kept for this browser session only; the server keeps what was signed.
 */
const STORED_AS = 'ullage.opened';
let opened: ReadonlySet<string> | null = null;
const listeners = new Set<() => void>();

function read(): ReadonlySet<string> {
  if (opened) return opened;
  try {
    const list: unknown = JSON.parse(sessionStorage.getItem(STORED_AS) ?? '[]');
    opened = new Set(Array.isArray(list) ? list.filter((id): id is string => typeof id === 'string') : []);
  } catch {
    opened = new Set();
  }
  return opened;
}

function keep(next: ReadonlySet<string>): void {
  opened = next;
  try {
    sessionStorage.setItem(STORED_AS, JSON.stringify([...next]));
  } catch {
    // Storage is forbidden: the count lasts as long as the page.
  }
  for (const listener of listeners) listener();
}

export function markOpened(chamber: string): void {
  if (!read().has(chamber)) keep(new Set([...read(), chamber]));
}
export const forgetOpened = (): void => keep(new Set());

const subscribe = (listener: () => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};
export const useOpened = (): ReadonlySet<string> => useSyncExternalStore(subscribe, read);
