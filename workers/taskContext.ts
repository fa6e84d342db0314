/** What tasks ask of a chamber. */
import type { Sql } from 'postgres';

/** The chamber's own gases beside the default set. */
export const readChamberGases = async (sql: Sql, chamber: string): Promise<string[]> => {
  const [row] = await sql<{ gases: string[] | null }[]>`
    select document -> 'gases' as gases from chambers where id = ${chamber}`;
  return row?.gases ?? [];
};

/** The chamber that an analyser belongs to. */
export const readHome = async (sql: Sql, analyser: string): Promise<string | null> => {
  const [row] = await sql<{ chamber: string }[]>`select chamber from analysers where id = ${analyser}`;
  return row?.chamber ?? null;
};
