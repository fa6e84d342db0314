/** One analyser by its id, for the routes that begin with it. A retired one has its history still. */
import type { Analyser } from '../shared/contract/fleet.ts';
import { object, Type } from '../shared/contract/schema.ts';
import type { Deps } from './deps.ts';
import { notFound } from './errors.ts';

export const AnalyserParams = object({ id: Type.String({ maxLength: 64 }) });

export interface KnownAnalyser {
  chamber: string;
  id: string;
  version: number;
  document: Analyser;
}

export const noAnalyser = (id: string) => notFound(`There is no analyser ${id}.`);

/** @throws 404 */
export const findAnalyser = async ({ db }: Deps, id: string): Promise<KnownAnalyser> => {
  const [row] = await db.sql<KnownAnalyser[]>`select chamber, id, version, document from analysers where id = ${id}`;
  if (!row) throw noAnalyser(id);
  return row;
};
