import { setTimeout as pause } from 'node:timers/promises';
import type { Scan } from '../../shared/contract/scans.ts';
import type { Server } from './http.ts';
import type { Position } from './setUp.ts';
import type { World } from './world.ts';

/** Few enough to be answered at once, many enough that three days go in within a minute. */
const BATCH_SCANS = 500;
/** A scan can be sent when its sweeps are over: the slowest analyser takes this long. */
const SCAN_ENDS_AFTER_MS = 30_000;
const LOOK_EVERY_MS = 1000;
/**
 * The last hours go in with every scan, what is older with one in a quarter of an hour: baselines of hundreds of
 * scans, where all of them would be ninety thousand to send and analyse before the first page says anything. The
 * period changes only once, before the latest stories begin.
 */
const FULL_RECORD_MS = 4 * 3_600_000;

export interface Feed {
  readonly server: Server;
  readonly world: World;
  readonly position: Position;
  readonly now: () => number;
  readonly signal: AbortSignal;
  readonly log: (line: string) => void;
  /** Called once, when the history is in. */
  readonly whenLive?: () => Promise<void>;
}

/**
 * Sends what has happened since `position` in time order, then each scan as it ends, until the signal says stop.
 * Nothing is kept: a scan that did not get through is made again.
 */
export async function runFeed({ server, world, position, now, signal, log, whenLive }: Feed): Promise<void> {
  const startedMs = now();
  const fullFromMs = startedMs - FULL_RECORD_MS;
  let afterMs = position.sentUntilMs;
  let sent = 0;
  let live = false;
  let beside: Promise<void> | undefined;
  while (!signal.aborted) {
    const untilMs = now() - SCAN_ENDS_AFTER_MS;
    const batch = firstOf(world.scans({ afterMs, untilMs, fullFromMs }), BATCH_SCANS);
    const last = batch.at(-1);
    if (last) {
      const answer = await server.sendScans(position.gatewayToken, batch);
      for (const { id, problem } of answer.rejected.slice(0, 3)) log(`scan ${id} was rejected: ${problem}`);
      sent += answer.accepted;
      afterMs = Date.parse(last.at);
    }
    if (batch.length === BATCH_SCANS) continue;
    if (!live) {
      live = true;
      log(`history is in: ${sent} scans in ${Math.round((now() - startedMs) / 1000)} s. The live feed runs.`);
      // Beside the feed: it may have to wait for the workers.
      beside = whenLive?.().catch((error: unknown) => {
        if (!signal.aborted) log(`what the people of the example did is not complete: ${String(error)}`);
      });
    }
    await pause(LOOK_EVERY_MS, undefined, { signal });
  }
  await beside;
}

function firstOf(scans: Generator<Scan>, most: number): Scan[] {
  const taken: Scan[] = [];
  for (const scan of scans) {
    taken.push(scan);
    if (taken.length === most) break;
  }
  return taken;
}
