/** What both backends are told. */

export const QUEUE = 'chambers';
/** A worker that was killed loses its lock after this; another takes the chamber over. */
const LOCK_MS = 15_000;
const STALLED_CHECK_MS = 10_000;
/** Pause before the worker asks a queue again that could not be reached. */
export const RETRY_MS = 500;

/** Finished jobs say nothing that the database does not say better; a few stay for whoever looks for trouble. */
export const KEPT = {
  removeOnComplete: { count: 100, age: 3_600 },
  removeOnFail: { count: 1_000, age: 7 * 86_400 },
};

export const workerOptions = (concurrency: number) => ({
  concurrency,
  lockDuration: LOCK_MS,
  stalledInterval: STALLED_CHECK_MS,
  runRetryDelay: RETRY_MS,
  maxStalledCount: 3,
  ...KEPT,
});

export type Work = (nudged: { data: { chamber: string } }) => Promise<void>;
