/** What is true of the whole installation and of the person who looks, as every page shows it. */
import type { Preferences, Session } from '../shared/contract/access.ts';
import type { Static } from '../shared/contract/schema.ts';
import { PRESSURE_UNITS, type PressureUnit } from '../shared/contract/words.ts';
import type { Deps } from './deps.ts';
import { iso } from './instant.ts';
import { readPreferences } from './preferences.ts';

/** Used in most of the trade's rooms; a person can choose another. */
const DEFAULT_UNIT: PressureUnit = 'mbar';

type Site = Static<typeof Session>['site'];

export const readSite = async ({ db, settings }: Deps): Promise<{ site: Site; needsSetUp: boolean }> => {
  const [row] = await db.sql<{ stored: Record<string, unknown>; zone: string | null; people: boolean }[]>`
    select
      (select coalesce(jsonb_object_agg(key, value), '{}') from settings where key in ('site', 'unit', 'example')) as stored,
      (select time_zone from areas where retired_at is null order by position, id limit 1) as zone,
      exists (select 1 from people) as people`;
  const stored = row?.stored ?? {};
  return {
    site: {
      name: typeof stored.site === 'string' ? stored.site : settings.site,
      example: stored.example === true,
      timeZone: row?.zone ?? 'UTC',
      unit: PRESSURE_UNITS.find((unit) => unit === stored.unit) ?? DEFAULT_UNIT,
    },
    needsSetUp: row?.people === false,
  };
};

const preferencesOf = async ({ db }: Deps, login: string): Promise<Preferences | null> => {
  const [row] = await db.sql<{ preferences: unknown }[]>`select preferences from people where login = ${login}`;
  return readPreferences(row?.preferences);
};

/**
 * Who is asking, with what every page needs to know.
 * @param place where the stream of events was before anything below was read
 */
export const describeSession = async (
  deps: Deps,
  place: string,
  who: Static<typeof Session>['who'],
): Promise<Static<typeof Session>> => {
  const [{ site, needsSetUp }, preferences] = await Promise.all([
    readSite(deps),
    who?.kind === 'person' ? preferencesOf(deps, who.login) : null,
  ]);
  return { who, preferences, site, needsSetUp, version: deps.version, now: iso(deps.now()), events: place };
};
