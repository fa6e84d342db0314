/**
 * Puts gateways off while the workers are far behind. What is outstanding lies in PostgreSQL and is safe there; the
 * limit is for the readers, to whom a backlog of days is worth less than a gateway that keeps its scans a while.
 */
import type { Deps } from './deps.ts';
import { ProblemError } from './errors.ts';

/** About half an hour of work for one worker process: a history of weeks still goes in at once. */
export const MOST_OUTSTANDING = 1_000_000;
const LOOK_EVERY_MS = 2_000;
const RETRY_AFTER_S = 30;

export const gauge = (deps: Deps): { refuseWhenFull: () => Promise<void> } => {
  const most = deps.mostOutstanding ?? MOST_OUTSTANDING;
  let lookedAtMs = Number.NEGATIVE_INFINITY;
  let full = false;

  const look = async (): Promise<boolean> => {
    // Counting stops at the limit, so the question costs the same however long the backlog is.
    const [row] = await deps.db.sql<{ n: number }[]>`
      select count(*)::int as n from (select 1 from outstanding_scans limit ${most + 1}) as outstanding`;
    return (row?.n ?? 0) > most;
  };

  return {
    refuseWhenFull: async () => {
      const nowMs = deps.now().getTime();
      if (Math.abs(nowMs - lookedAtMs) >= LOOK_EVERY_MS) {
        lookedAtMs = nowMs;
        full = await look();
      }
      if (full)
        throw new ProblemError(429, `More than ${most} scans wait to be analysed. Keep yours and send them later.`, {
          retryAfterSeconds: RETRY_AFTER_S,
        });
    },
  };
};
