/** What is true of the whole installation and of the person who looks, as every page shows it. */
import type { Session } from '../shared/contract/access.ts';
import type { Static } from '../shared/contract/schema.ts';
import { PRESSURE_UNITS, type PressureUnit } from '../shared/contract/words.ts';
import type { Deps } from './deps.ts';
import { iso } from './instant.ts';

/** Used in most of the trade's rooms; a person can choose another. */
const DEFAULT_UNIT: PressureUnit = 'mbar';

type Site = Static<typeof Session>['site'];

const readSite = async ({ db, settings }: Deps): Promise<{ site: Site; needsSetUp: boolean }> => {
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

/** Who is asking, with what every page needs to know. */
export const describeSession = async (
  deps: Deps,
  who: Static<typeof Session>['who'],
): Promise<Static<typeof Session>> => {
  const { site, needsSetUp } = await readSite(deps);
  return { who, site, needsSetUp, version: deps.version, now: iso(deps.now()) };
};
