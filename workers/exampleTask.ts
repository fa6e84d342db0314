/**
 * Whether verified cases name each other: each is named by the catalogue and by the other cases that speak for the same
 * chambers, without itself. One that comes or goes is a reason to ask this of all of them again.
 */
import { setImmediate as breathe } from 'node:timers/promises';
import type { InnerTask } from '../shared/contract/calibration.ts';
import { type ExampleRow, readExample, readExamplesTogether, writeCheck } from '../shared/db/examples.ts';
import type { Workshop } from './analyseChamber.ts';
import { readTold } from './chamberContext.ts';
import { endTask, finishTask, type WaitingTask } from './taskRows.ts';

type Request = Extract<InnerTask, { kind: 'example' }>;
type Check = NonNullable<ExampleRow['check']>;

const nameOne = async (shop: Workshop, row: ExampleRow, together: readonly ExampleRow[]): Promise<Check | null> => {
  const { chamber } = await readTold(shop.database.sql, { chamber: row.chamber, examples: shop.examples });
  const others = together.filter(({ id }) => id !== row.id).map(({ example }) => example);
  try {
    const { names, right, sureness } = shop.science.nameExample(row.example, { chamber, others });
    return { named: names[0]?.signature ?? null, right, sureness, at: new Date().toISOString() };
  } catch (error) {
    // What the watch cannot use it does not use: it stays without an answer.
    shop.log.warn({ example: row.id, error }, 'An example cannot be named');
    return null;
  }
};

export const checkExamples = async (shop: Workshop, task: WaitingTask, request: Request): Promise<void> => {
  const { sql } = shop.database;
  const changed = await readExample(sql, request.example);
  if (changed === null) {
    await finishTask(shop.database, task, { ok: false, problem: 'There is no such example.' });
    return;
  }
  const together = await readExamplesTogether(sql, changed);
  const checks: [string, Check][] = [];
  for (const row of together) {
    const check = await nameOne(shop, row, together);
    if (check) checks.push([row.id, check]);
    await breathe();
  }
  await shop.database.transaction(async (tx) => {
    await endTask(tx, task, { ok: true, scans: 0 });
    for (const [id, check] of checks) await writeCheck(tx, id, check);
  });
};
