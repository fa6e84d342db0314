import type { Log } from '../../shared/log.ts';
import { isAlive } from './cluster.ts';
import type { OwnDatabase } from './ownDatabase.ts';

const LOOK_MS = 1_000;

/** Starts our PostgreSQL again when it dies. @returns a function that ends the watch */
export function keepAlive(own: OwnDatabase, log: Log): () => void {
  let busy = false;
  const timer = setInterval(() => {
    if (busy || isAlive(own.cluster.pid)) return;
    busy = true;
    log.error({ pid: own.cluster.pid }, 'PostgreSQL ended and is started again');
    own
      .revive()
      .catch((error: unknown) => log.error({ error }, 'PostgreSQL could not be started; trying again'))
      .finally(() => {
        busy = false;
      });
  }, LOOK_MS);
  return () => clearInterval(timer);
}
