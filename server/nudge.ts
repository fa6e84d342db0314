/** Tells the workers, without letting a queue that does not answer hold up whoever asked: the sweep finds the work too. */
import type { Deps } from './deps.ts';

const LONGEST_NUDGE_MS = 200;

export const nudgeWithin = async (deps: Deps, chambers: readonly string[]): Promise<void> => {
  if (chambers.length === 0) return;
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<void>((done) => {
    timer = setTimeout(done, LONGEST_NUDGE_MS);
  });
  const nudged = deps.nudge(chambers).catch((error: unknown) => {
    deps.log.warn({ error }, 'The queue did not take a nudge; the sweep will find the work');
  });
  await Promise.race([nudged, late]);
  clearTimeout(timer);
};
