/** What the fleet document said of one analyser, and since when. */
import type { Sql } from 'postgres';
import type { Analyser } from '../contract/fleet.ts';
import type { FleetAnalyser } from './calibrationInForce.ts';

export interface PastDocument extends FleetAnalyser {
  /** Applied at this time, ms since 1970. */
  readonly fromMs: number;
}

interface Row {
  id: string;
  version: number;
  document: Analyser;
  /** Documents that were applied, oldest first, each that differs from the one before: {at (ms since 1970), document}. */
  applied: { at: number; document: Analyser }[] | null;
  /** The newest of them is the document that stands. */
  whole: boolean | null;
}

const rows = (sql: Sql, analyser: string) => sql<Row[]>`
  with said as (
    select v.version, v.applied_at, one.document from fleet_versions v
    join lateral jsonb_array_elements(v.document -> 'analysers') as one (document) on one.document ->> 'id' = ${analyser}
  ), changed as (
    select s.*, lag(s.document) over (order by s.version) is distinct from s.document as new from said s
  )
  select a.id, a.version, a.document,
    (select jsonb_agg(jsonb_build_object('at', date_part('epoch', c.applied_at) * 1000, 'document', c.document)
      order by c.version) from changed c where c.new) as applied,
    (select c.document = a.document from changed c order by c.version desc limit 1) as whole
  from analysers a where a.id = ${analyser}`;

/** An analyser as it stands. @returns null where the fleet never knew it */
export const readAnalyser = async (sql: Sql, analyser: string): Promise<FleetAnalyser | null> => {
  const [row] = await sql<FleetAnalyser[]>`select id, version, document from analysers where id = ${analyser}`;
  return row ?? null;
};

/**
 * Every document of an analyser, oldest first, the one that stands last: the version of a document follows from its
 * place before that. It walks through every fleet document there has been. Where the history does not lead to what stands, only that is given.
 * @returns null where the fleet never knew the analyser
 */
export const readPastDocuments = async (sql: Sql, analyser: string): Promise<PastDocument[] | null> => {
  const [row] = await rows(sql, analyser);
  if (!row) return null;
  const { id, version, document } = row;
  const applied = row.applied ?? [];
  if (row.whole !== true || applied.length > version) return [{ id, version, document, fromMs: 0 }];
  return applied.map((one, i) => ({
    id,
    version: version - (applied.length - 1 - i),
    document: one.document,
    fromMs: Math.round(one.at),
  }));
};

/** The document of an instant; before the first one was applied, the first. */
export const documentAt = (documents: readonly PastDocument[], atMs: number): PastDocument => {
  const found = documents.findLast(({ fromMs }) => fromMs <= atMs) ?? documents[0];
  if (found === undefined) throw new Error('An analyser without a document');
  return found;
};
