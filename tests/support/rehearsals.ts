/** Rehearsals and pins put straight into a database, as the server writes them. */
import type { NewRehearsal } from '../../shared/contract/rehearsal.ts';
import type { Database } from '../../shared/db/connect.ts';
import { insertPin, type PinRow } from '../../shared/db/pins.ts';
import { insertRehearsal, type RehearsedTask, readRehearsedTasks } from '../../shared/db/rehearsals.ts';
import { insertTask } from '../../shared/db/tasks.ts';

interface Place {
  readonly chamber: string;
  readonly analyser: string;
}

export const askRehearsal = (
  database: Pick<Database, 'transaction'>,
  id: string,
  asked: { request: NewRehearsal; places: readonly Place[]; askedAt: Date },
) =>
  database.transaction(async (tx) => {
    const { request, places, askedAt } = asked;
    await insertRehearsal(tx, { id, request, askedAt, askedBy: 'ann' });
    for (const { chamber, analyser } of places)
      await insertTask(tx, {
        chamber,
        analyser,
        id: `${id}-${chamber}`,
        request: { kind: 'rehearsal', rehearsal: id },
        askedAt,
        askedBy: 'ann',
      });
  });

/** The first chamber of a rehearsal. @throws {Error} when there is none */
export const rehearsed = async ({ sql }: Pick<Database, 'sql'>, id: string): Promise<RehearsedTask> => {
  const [task] = await readRehearsedTasks(sql, [id]);
  if (!task) throw new Error(`No rehearsal ${id}`);
  return task;
};

export const askPin = (
  database: Pick<Database, 'transaction'>,
  id: string,
  asked: Place & { operatingState?: PinRow['operatingState']; from: Date; to: Date; at: Date },
): Promise<PinRow> =>
  database.transaction(async (tx) => {
    const { chamber, analyser, at, operatingState = 'base' } = asked;
    const row = await insertPin(tx, {
      id,
      chamber,
      analyser,
      operatingState,
      scansFrom: asked.from,
      scansTo: asked.to,
      note: 'after the bake',
      setAt: at,
      setBy: 'ann',
    });
    await insertTask(tx, {
      chamber,
      analyser,
      id: `task-${id}`,
      request: { kind: 'baseline', pin: id },
      askedAt: at,
      askedBy: 'ann',
    });
    return row;
  });
