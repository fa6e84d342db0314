/** Numbers for lists of gases: a reading names its list by number instead of repeating it. */
import type { Sql } from 'postgres';
import { recentlyUsed } from './remembered.ts';

export type GasLists = (gases: readonly string[]) => Promise<number>;

/** A site has a few: one per combination of own gases. */
const MOST_LISTS = 1000;
/** Somebody else may be adding the same list, not yet committed: it is there at the second look. */
const MOST_LOOKS = 3;

const findOrAdd = async (sql: Sql, gases: string[]): Promise<number> => {
  for (let look = 0; look < MOST_LOOKS; look++) {
    const known = await sql<{ id: number }[]>`select id from gas_lists where gases = ${gases}::text[]`;
    if (known[0]) return known[0].id;
    const added = await sql<{ id: number }[]>`
      insert into gas_lists (gases) values (${gases}::text[]) on conflict (gases) do nothing returning id`;
    if (added[0]) return added[0].id;
  }
  throw new Error(`The list of gases ${gases.join(', ')} can be neither found nor added`);
};

export const openGasLists = (sql: Sql): GasLists => {
  const ids = recentlyUsed<string, number>(MOST_LISTS);
  return async (gases) => {
    const key = gases.join('\n');
    const known = ids.get(key);
    if (known !== undefined) return known;
    const id = await findOrAdd(sql, [...gases]);
    ids.set(key, id);
    return id;
  };
};
