/** A recomputation as the source of a series: whose it is, whether it is complete, and with what it was made. */
import type { Trend } from '../shared/contract/readings.ts';
import { readTask } from '../shared/db/tasks.ts';
import type { Deps } from './deps.ts';
import { conflict, impossible, notFound } from './errors.ts';

export interface Recomputation {
  readonly analyser: string;
  readonly shown: NonNullable<Trend['recomputation']>;
}

interface Asked {
  readonly chamber: string;
  readonly analyser: string | undefined;
  readonly recomputation?: string | undefined;
}

const versionsOf = async ({ db }: Deps, chamber: string, task: string) => {
  const [row] = await db.sql<{ calibrations: string[]; catalogues: string[] }[]>`
    select
      array(select distinct calibration_version from recomputed_readings
        where chamber = ${chamber} and task = ${task} order by 1) as calibrations,
      array(select distinct catalogue_version from recomputed_readings
        where chamber = ${chamber} and task = ${task} order by 1) as catalogues`;
  return { calibrationVersions: row?.calibrations ?? [], catalogueVersions: row?.catalogues ?? [] };
};

/**
 * Null when none was asked for.
 * @throws 404 for a task that is not there, is no recomputation or belongs to another chamber; 409 for one that is not
 * done: half a series would be taken for the whole; 422 for an analyser that it is not about
 */
export const recomputationOf = async (deps: Deps, asked: Asked): Promise<Recomputation | null> => {
  const { chamber, analyser, recomputation } = asked;
  if (recomputation === undefined) return null;
  const task = await readTask(deps.db.sql, recomputation);
  if (task === null || task.chamber !== chamber || task.kind !== 'recomputation')
    throw notFound(`Chamber ${chamber} has no recomputation ${recomputation}.`);
  if (analyser !== undefined && analyser !== task.analyser)
    throw impossible('analyser', `${recomputation} is a recomputation of ${task.analyser}`);
  if (task.state === 'waiting') throw conflict(`${recomputation} is still being worked out.`);
  if (task.state === 'failed') throw conflict(`${recomputation} has failed: ${task.problem ?? 'no reason was given'}`);
  return { analyser: task.analyser, shown: { task: task.id, ...(await versionsOf(deps, chamber, task.id)) } };
};
