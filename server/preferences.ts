/** What a person prefers, out of what was stored by whichever version. */
import type { Preferences } from '../shared/contract/access.ts';
import { PRESSURE_UNITS, THEMES, ZONE_CHOICES } from '../shared/contract/words.ts';

/** Null: nothing is stored. What is not understood falls back to what the site does. */
export const readPreferences = (stored: unknown): Preferences | null => {
  if (stored === null || typeof stored !== 'object' || Object.keys(stored).length === 0) return null;
  const raw = stored as Readonly<Record<string, unknown>>;
  return {
    unit: PRESSURE_UNITS.find((unit) => unit === raw.unit) ?? null,
    theme: THEMES.find((theme) => theme === raw.theme) ?? 'system',
    zone: ZONE_CHOICES.find((zone) => zone === raw.zone) ?? 'site',
    keys: raw.keys !== false,
  };
};
