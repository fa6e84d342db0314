/** What the list needs beside the newest figures: remarks of the newest scan, and where the floor stood on other days. */
import type { Sql } from 'postgres';
import type { Note } from '../../shared/contract/readings.ts';
import { middleAndExtremes } from '../../shared/db/series.ts';

export interface Beside {
  readonly analyser: string;
  readonly notes: readonly Note[];
  /** The newest scan gave partial pressures. */
  readonly answered: boolean;
  readonly ownGas: readonly { readonly gas: string; readonly share: number }[];
  /** Middle of the floors of a week, one a day, with the same detector, Pa; null: fewer than three. */
  readonly usualFloorPa: number | null;
}

interface Row extends Omit<Beside, 'usualFloorPa' | 'ownGas'> {
  ownGas: Beside['ownGas'] | null;
  floors: number[];
}

const LEAST_DAYS = 3;

/** A few steps into an index per analyser and day: the readings of a week are never walked through. */
export const readBeside = async (sql: Sql, analysers: readonly string[]): Promise<Map<string, Beside>> => {
  const rows = await sql<Row[]>`
    select l.analyser, l.notes, l.estimates is not null as answered, l.measurement -> 'ownGas' as "ownGas",
      array(select earlier.floor_pa from generate_series(1, 7) as day, lateral (
        select r.floor_pa from readings r
        where r.chamber = l.chamber and r.analyser = l.analyser and r.floor_pa is not null
          and r.at between l.at - day * interval '1 day' - interval '1 hour' and l.at - day * interval '1 day'
          and r.detector is not distinct from (l.measurement ->> 'detector')
        order by r.at desc limit 1) as earlier) as floors
    from latest l where l.analyser = any(${analysers as string[]}::text[])`;
  return new Map(
    rows.map(({ floors, ownGas, ...row }) => {
      const usual = floors.length < LEAST_DAYS ? null : middleAndExtremes(floors);
      return [row.analyser, { ...row, ownGas: ownGas ?? [], usualFloorPa: usual?.median ?? null }];
    }),
  );
};
