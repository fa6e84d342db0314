// @vitest-environment jsdom
import { beforeEach, describe, expect, test } from 'vitest';
import type { Preferences } from '../../../shared/contract/access.ts';
import { adoptPreferences, prefer, preferencesSent } from '../../../web/frame/preferences.ts';

const DEFAULTS: Preferences = { unit: null, theme: 'system', zone: 'site', keys: true };
const DARK: Preferences = { unit: 'Torr', theme: 'dark', zone: 'own', keys: false };
const person = (login: string) => ({ kind: 'person' as const, login, name: login, role: 'operator' as const });
const display = { kind: 'token' as const, login: 'hall', name: 'hall', role: 'viewer' as const };

const stored = () => JSON.parse(localStorage.getItem('ullage.preferences') ?? '{}');
/** As another page of this browser would leave it. */
const leave = (value: unknown) => {
  localStorage.setItem('ullage.preferences', JSON.stringify(value));
  window.dispatchEvent(new StorageEvent('storage', { key: 'ullage.preferences' }));
};

beforeEach(() => {
  leave({});
  adoptPreferences(display, null);
  prefer(DEFAULTS);
});

describe('preferences', () => {
  test('what the server keeps for a person is taken over, look included', () => {
    adoptPreferences(person('ida'), DARK);
    expect(stored()).toEqual({ ...DARK, of: 'ida' });
    expect(document.documentElement.dataset.theme).toBe('dark');
  });

  test('another person on the same browser gets their own, or what the site does', () => {
    adoptPreferences(person('ida'), DARK);
    adoptPreferences(person('ole'), null);
    expect(stored()).toEqual({ ...DEFAULTS, of: 'ole' });
    expect(document.documentElement.dataset.theme).toBeUndefined();
  });

  test('what a person changes waits to be sent, and an older answer does not undo it', () => {
    adoptPreferences(person('ida'), DEFAULTS);
    prefer({ unit: 'Pa' });
    expect(stored()).toMatchObject({ unit: 'Pa', of: 'ida', unsent: true });
    adoptPreferences(person('ida'), DEFAULTS);
    expect(stored()).toMatchObject({ unit: 'Pa', unsent: true });
    preferencesSent({ ...DEFAULTS, unit: 'mbar' });
    expect(stored().unsent, 'an answer to an earlier change').toBe(true);
    preferencesSent({ ...DEFAULTS, unit: 'Pa' });
    expect(stored().unsent).toBeUndefined();
    adoptPreferences(person('ida'), DARK);
    expect(stored()).toEqual({ ...DARK, of: 'ida' });
  });

  test('a display keeps its own in its browser, and sends nothing', () => {
    adoptPreferences(display, null);
    prefer({ theme: 'dark' });
    expect(stored()).toEqual({ ...DEFAULTS, theme: 'dark', of: null });
    adoptPreferences(person('ida'), null);
    expect(stored(), 'the look of the wall is not what she prefers').toEqual({ ...DEFAULTS, of: 'ida' });
  });
});
