import { useSyncExternalStore } from 'react';
import type { PressureUnit } from '../../shared/units.ts';

/** What one person prefers on one browser. `null` and `site` follow what the site has set. */
export interface Preferences {
  readonly unit: PressureUnit | null;
  readonly theme: 'system' | 'light' | 'dark';
  readonly zone: 'site' | 'own';
  /** Single-letter keys can be switched off: they get in the way of speech input. */
  readonly keys: boolean;
}

const STORED_AS = 'ullage.preferences';
const DEFAULTS: Preferences = { unit: null, theme: 'system', zone: 'site', keys: true };
const UNITS: readonly string[] = ['Pa', 'mbar', 'Torr'];

/** Whatever was stored, by whichever version: what is not understood falls back to its default. */
export function readPreferences(stored: string | null): Preferences {
  let raw: Partial<Record<keyof Preferences, unknown>> = {};
  try {
    const value: unknown = JSON.parse(stored ?? '{}');
    if (value !== null && typeof value === 'object') raw = value;
  } catch {
    return DEFAULTS;
  }
  return {
    unit: typeof raw.unit === 'string' && UNITS.includes(raw.unit) ? (raw.unit as PressureUnit) : null,
    theme: raw.theme === 'light' || raw.theme === 'dark' ? raw.theme : 'system',
    zone: raw.zone === 'own' ? 'own' : 'site',
    keys: raw.keys !== false,
  };
}

let current: Preferences | null = null;
const listeners = new Set<() => void>();

function stored(): string | null {
  try {
    return localStorage.getItem(STORED_AS);
  } catch {
    return null;
  }
}

function preferences(): Preferences {
  current ??= readPreferences(stored());
  return current;
}

function announceChange(): void {
  const { theme } = preferences();
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
  for (const listener of listeners) listener();
}

export function prefer(change: Partial<Preferences>): void {
  current = { ...preferences(), ...change };
  try {
    localStorage.setItem(STORED_AS, JSON.stringify(current));
  } catch {
    // Storage is forbidden: the preference lasts as long as the page.
  }
  announceChange();
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

export const usePreferences = (): Preferences => useSyncExternalStore(subscribe, preferences);
