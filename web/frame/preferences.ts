import { useSyncExternalStore } from 'react';
import type { Preferences, Session } from '../../shared/contract/access.ts';
import { PRESSURE_UNITS, THEMES, ZONE_CHOICES } from '../../shared/contract/words.ts';

export type { Preferences } from '../../shared/contract/access.ts';

/**
 * What one person prefers. The server keeps it for people, in whichever browser; the copy in this browser is there
 * before the first paint. A display that reads with a token has only the copy.
 */
interface Kept {
  readonly preferences: Preferences;
  /** Login of the person whose copy it is; null: of a display; undefined: not said. */
  readonly of: string | null | undefined;
  /** Not yet with the server. */
  readonly unsent: boolean;
}

const STORED_AS = 'ullage.preferences';
const DEFAULTS: Preferences = { unit: null, theme: 'system', zone: 'site', keys: true };

type Raw = Readonly<Record<string, unknown>>;

function rawOf(stored: string | null): Raw {
  try {
    const value: unknown = JSON.parse(stored ?? '{}');
    return value !== null && typeof value === 'object' ? (value as Raw) : {};
  } catch {
    return {};
  }
}

/** Whatever was stored, by whichever version: what is not understood falls back to its default. */
export function readPreferences(stored: string | null): Preferences {
  const raw = rawOf(stored);
  return {
    unit: PRESSURE_UNITS.find((unit) => unit === raw.unit) ?? DEFAULTS.unit,
    theme: THEMES.find((theme) => theme === raw.theme) ?? DEFAULTS.theme,
    zone: ZONE_CHOICES.find((zone) => zone === raw.zone) ?? DEFAULTS.zone,
    keys: raw.keys !== false,
  };
}

function readKept(): Kept {
  let stored: string | null = null;
  try {
    stored = localStorage.getItem(STORED_AS);
  } catch {
    // Storage is forbidden: preferences last as long as the page.
  }
  const { of, unsent } = rawOf(stored);
  return {
    preferences: readPreferences(stored),
    of: typeof of === 'string' || of === null ? of : undefined,
    unsent: unsent === true,
  };
}

let current: Kept | null = null;
const listeners = new Set<() => void>();

function kept(): Kept {
  current ??= readKept();
  return current;
}

function announceChange(): void {
  const { theme } = kept().preferences;
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
  for (const listener of listeners) listener();
}

function keep(next: Kept): void {
  current = next;
  try {
    const { preferences, of, unsent } = next;
    localStorage.setItem(STORED_AS, JSON.stringify({ ...preferences, of, ...(unsent ? { unsent } : {}) }));
  } catch {
    // Storage is forbidden: the preference lasts as long as the page.
  }
  announceChange();
}

export function prefer(change: Partial<Preferences>): void {
  const { preferences, of } = kept();
  keep({ preferences: { ...preferences, ...change }, of, unsent: typeof of === 'string' });
}

const isSame = (a: Preferences, b: Preferences): boolean =>
  a.unit === b.unit && a.theme === b.theme && a.zone === b.zone && a.keys === b.keys;

/** The session says who is looking and what the server keeps for them. */
export function adoptPreferences(who: NonNullable<Session['who']>, stored: Preferences | null): void {
  const { preferences, of, unsent } = kept();
  if (who.kind === 'token') {
    if (of !== null) keep({ preferences, of: null, unsent: false });
    return;
  }
  const mine = of === who.login;
  if (mine && unsent) return;
  if (stored !== null) {
    if (!mine || !isSame(stored, preferences)) keep({ preferences: stored, of: who.login, unsent: false });
    return;
  }
  // Nobody else's copy: what this browser has is theirs, and goes to the server when it says anything.
  const own = mine || of === undefined ? preferences : DEFAULTS;
  const unsaid = isSame(own, DEFAULTS);
  if (!mine || !unsaid) keep({ preferences: own, of: who.login, unsent: !unsaid });
}

/** The server has these now. */
export function preferencesSent(sent: Preferences): void {
  const { preferences, of } = kept();
  if (isSame(sent, preferences)) keep({ preferences, of, unsent: false });
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  const fromOtherPage = (event: StorageEvent) => {
    if (event.key !== STORED_AS) return;
    current = null;
    announceChange();
  };
  window.addEventListener('storage', fromOtherPage);
  return () => {
    listeners.delete(listener);
    window.removeEventListener('storage', fromOtherPage);
  };
}

export const usePreferences = (): Preferences => useSyncExternalStore(subscribe, () => kept().preferences);

/** What the server does not have yet; null: nothing. */
export const useUnsentPreferences = (): Preferences | null =>
  useSyncExternalStore(subscribe, () => (kept().unsent ? kept().preferences : null));
