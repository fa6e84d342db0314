/**
 * The queue: a nudge says "there is work for this chamber". It carries no data and may be lost, because the work itself
 * stands in the database and the workers' sweep finds it there. Only this file and its folder know BullMQ.
 */
import type { Log } from './log.ts';
import { postgresQueue, postgresWorker } from './queues/onPostgres.ts';
import { redisQueue, redisWorker } from './queues/onRedis.ts';
import { KEPT } from './queues/policy.ts';
import { within } from './queues/within.ts';

export { migrateQueue } from './queues/onPostgres.ts';
export { checkRedis } from './queues/onRedis.ts';

export interface QueuePlace {
  databaseUrl: string;
  /** Null: nudges travel through PostgreSQL. */
  redisUrl: string | null;
  log: Log;
}

export interface Nudges {
  /**
   * One waiting job per chamber, however often it is nudged; one more while that chamber's job runs. Returns within
   * `NUDGE_MS` whatever the queue does, and never rejects: what could not be sent is logged and left to the sweep.
   * `again` (for the sweep) does not trust the queue's memory of earlier nudges beyond `AGAIN_MS`.
   */
  nudge: (chamberIds: readonly string[], again?: 'again') => Promise<void>;
  /** Rejects when the queue does not answer; resolves with the jobs that wait. */
  check: () => Promise<number>;
  close: () => Promise<void>;
}

export interface NudgeWorker {
  /** Waits for the jobs in hand. */
  close: () => Promise<void>;
}

/** A request waits for its nudge no longer than this. */
const NUDGE_MS = 500;
const AGAIN_MS = 15_000;
/** A queue that needs longer to count its jobs is not ready. */
const CHECK_MS = 2_000;

/**
 * Opens the sending side. With Redis it refuses one that may throw jobs away (see `checkRedis`).
 * @throws {Error} when the queue is in PostgreSQL and that does not answer
 */
export async function openNudges(place: QueuePlace): Promise<Nudges> {
  const { redisUrl } = place;
  const { queue, end } =
    redisUrl === null ? await postgresQueue(place.databaseUrl) : await redisQueue({ ...place, redisUrl });
  let failing = false;
  const report = (error: unknown): void => {
    if (!failing) place.log.warn({ error }, 'Nudges do not reach the queue; the sweep will find the work');
    failing = true;
  };
  queue.on('error', report);
  return {
    nudge: async (chamberIds, again) => {
      if (chamberIds.length === 0) return;
      try {
        await within(NUDGE_MS, queue.addBulk(chamberIds.map((chamber) => job(chamber, again))));
        if (failing) place.log.info({}, 'Nudges reach the queue again');
        failing = false;
      } catch (error) {
        report(error);
      }
    },
    check: () => within(CHECK_MS, queue.getWaitingCount()),
    close: async () => {
      await queue.close().catch(report);
      await end();
    },
  };
}

function job(chamber: string, again: 'again' | undefined) {
  // A nudge during the chamber's own job is kept and becomes the next job when that one ends.
  const deduplication =
    again === undefined
      ? { id: `chamber-${chamber}`, keepLastIfActive: true }
      : { id: `again-${chamber}`, ttl: AGAIN_MS };
  return { name: 'chamber', data: { chamber }, opts: { deduplication, attempts: 1, ...KEPT } };
}

/**
 * Opens the receiving side: `handle` runs for at most `concurrency` chambers at once. Two jobs for one chamber are rare,
 * not impossible (a sweep, a worker that froze): `handle` must lock its chamber.
 */
export async function openNudgeWorker(
  place: QueuePlace & { concurrency: number; handle: (chamberId: string) => Promise<void> },
): Promise<NudgeWorker> {
  const work = async (nudged: { data: { chamber: string } }): Promise<void> => place.handle(nudged.data.chamber);
  const { redisUrl, concurrency } = place;
  const { worker, end } =
    redisUrl === null
      ? await postgresWorker(work, concurrency, place.databaseUrl)
      : await redisWorker(work, concurrency, { ...place, redisUrl });
  let failing = false;
  worker.on('error', (error: Error) => {
    if (!failing) place.log.warn({ error }, 'The worker cannot reach its queue; trying again');
    failing = true;
  });
  worker.on('active', () => {
    failing = false;
  });
  worker.on('failed', (failed: { data: { chamber: string } } | undefined, error: Error) => {
    place.log.error(
      { chamber: failed?.data.chamber, error },
      'The work for a chamber failed; the sweep tries it again',
    );
  });
  return {
    close: async () => {
      await worker.close();
      await end();
    },
  };
}
