/**
 * What the clock has to see to: lost nudges, shelving and breaks that are over, alerts that ask again, silence. Every worker process offers to do it;
 * one of them has the turn.
 */
import type { Database } from '../shared/db/connect.ts';
import type { Log } from '../shared/log.ts';
import { moveDueAlerts } from './alertClock.ts';
import { findOverdue, findWaitingTasks, nextStart } from './lostNudges.ts';
import { raiseSilence } from './silence.ts';
import { type Turn, takeSweepTurn } from './sweepTurn.ts';

export const SWEEP_EVERY_MS = 5_000;

export interface SweepDeps {
  readonly database: Pick<Database, 'sql' | 'transaction'>;
  readonly nudge: (chambers: readonly string[]) => Promise<void>;
  readonly now: () => Date;
  readonly log: Log;
  /** Names this process among those that may sweep. */
  readonly who: string;
}

/** @returns a function that sweeps once, and never throws: what fails is logged and tried again at the next sweep */
export const makeSweep = (deps: SweepDeps): (() => Promise<void>) => {
  const { database, log, now } = deps;
  let after = '';

  const nudgeOverdue = async () => {
    const overdue = await findOverdue(database.sql, { after, now: now() });
    after = nextStart(overdue);
    if (overdue.length > 0) await deps.nudge(overdue);
  };
  const nudgeTasks = async () => {
    const waiting = await findWaitingTasks(database.sql, now());
    if (waiting.length > 0) await deps.nudge(waiting);
  };
  const judgeSilence = async ({ silenceFrom }: Turn) => {
    if (now() < silenceFrom) return;
    const silent = await raiseSilence(database, now());
    if (silent > 0) log.info({ analysers: silent }, 'Analysers have fallen silent');
  };
  const steps: [string, (turn: Turn) => Promise<unknown>][] = [
    ['nudge chambers whose scans wait', nudgeOverdue],
    ['nudge chambers whose tasks wait', nudgeTasks],
    ['move the alerts whose time is up', () => moveDueAlerts(database, now())],
    ['judge silence', judgeSilence],
  ];

  return async () => {
    let turn: Turn | null;
    try {
      turn = await takeSweepTurn(database.sql, { who: deps.who, now: now() });
    } catch (error) {
      log.warn({ error }, 'The database cannot be reached for the sweep');
      return;
    }
    if (!turn) return;
    for (const [what, step] of steps) {
      try {
        await step(turn);
      } catch (error) {
        log.error({ error }, `The sweep could not ${what}`);
      }
    }
  };
};
