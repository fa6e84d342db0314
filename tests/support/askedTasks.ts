/** Tasks put straight into a database, as the server writes them. */
import type { NewTask } from '../../shared/contract/calibration.ts';
import type { Database } from '../../shared/db/connect.ts';
import { insertTask, readTask, type TaskRow } from '../../shared/db/tasks.ts';
import type { Workshop } from '../../workers/analyseChamber.ts';
import { workTask } from '../../workers/tasks.ts';
import { minutesAfter } from './storedFleet.ts';

export const ask = (
  database: Pick<Database, 'transaction'>,
  id: string,
  request: NewTask,
  askedAt = minutesAfter(600),
) =>
  database.transaction((tx) =>
    insertTask(tx, { chamber: 'c1', analyser: 'c1-a', id, request, askedAt, askedBy: 'ann' }),
  );

/** @throws {Error} when there is none */
export const taskOf = async ({ sql }: Pick<Database, 'sql'>, id: string): Promise<TaskRow> => {
  const task = await readTask(sql, id);
  if (task === null) throw new Error(`No task ${id}`);
  return task;
};

const instant = (minute: number): string => minutesAfter(minute).toISOString();

export const recomputation = (from: number, to: number, calibrationOf?: number): NewTask => ({
  kind: 'recomputation',
  from: instant(from),
  to: instant(to),
  ...(calibrationOf === undefined ? {} : { calibrationOf: instant(calibrationOf) }),
  note: 'after the certificate',
});

export const pattern = (gas: string, from: number, to: number): NewTask => ({
  kind: 'pattern',
  gas,
  from: instant(from),
  to: instant(to),
  amountFromGauge: true,
  note: 'nitrogen from the bottle',
});

export const background = (from: number, to: number, other?: string): NewTask => ({
  kind: 'background',
  from: instant(from),
  to: instant(to),
  source: other === undefined ? 'closed valve' : 'second analyser',
  ...(other === undefined ? {} : { other }),
  note: 'valve closed since six',
});

export const change = (before: number, after: number): NewTask => ({
  kind: 'change',
  before: instant(before),
  after: instant(after),
});

/** Turn after turn, until none of the chamber's tasks waits: how many a turn holds is a matter of time. */
export const workToTheEnd = async (shop: Workshop, chamber = 'c1'): Promise<void> => {
  while (await workTask(shop, chamber));
};
