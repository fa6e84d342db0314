/**
 * Analyses all that is outstanding for one chamber, in batches in time order.
 *
 * A batch is read, worked out and written without holding anything in between; the fences of writeBatch decide whether
 * it counts. Holding a transaction during the mathematics would keep a connection and a lock for half a second of
 * processor time per batch, and a frozen worker would keep them until the server lost patience.
 */
import type { Database } from '../shared/db/connect.ts';
import type { PastDocument } from '../shared/db/fleetHistory.ts';
import type { Log } from '../shared/log.ts';
import { calculate } from './calculate.ts';
import { readContext } from './chamberContext.ts';
import type { ExampleShelf } from './chamberExperience.ts';
import type { GasLists } from './gasLists.ts';
import { refuseAll } from './outcome.ts';
import { type OutstandingScan, readOutstanding } from './outstanding.ts';
import type { RecentlyUsed, Remembered } from './remembered.ts';
import type { Science } from './science.ts';
import { OvertakenError, writeBatch } from './writeBatch.ts';

const BATCH_SCANS = 500;
/** A chamber with a long history makes way for the others after this long, and goes on with its next nudge. */
const LONGEST_TURN_MS = 1_000;
/** Being overtaken this often in a row means that another worker has the chamber: leave it to that one. */
const MOST_OVERTAKINGS = 3;

export interface Workshop {
  readonly database: Pick<Database, 'sql' | 'transaction'>;
  readonly science: Science;
  readonly gasLists: GasLists;
  /** Memories of watch and analysis as last written by this process: chamber → analyser. */
  readonly memories: RecentlyUsed<string, ReadonlyMap<string, Remembered>>;
  /** What fleet documents said of an analyser before the one that stands: by analyser and version. */
  readonly pastDocuments: RecentlyUsed<string, readonly PastDocument[]>;
  /** Verified cases that the watch has been given lately. */
  readonly examples: ExampleShelf;
  readonly log: Log;
  /** True once the process has been asked to stop. */
  readonly stopping: () => boolean;
}

const writeOutcome = async (shop: Workshop, chamber: string, works: readonly OutstandingScan[]) => {
  // Taken, not only read: if the write fails, what the mathematics has made of them is worth nothing.
  const known = shop.memories.take(chamber) ?? new Map<string, Remembered>();
  const analysers = [...new Set(works.map(({ analyser }) => analyser))];
  const { log, examples } = shop;
  const context = await readContext(shop.database.sql, { chamber, analysers, known, examples, log });
  const outcome = await calculate(works, context, shop.science);
  await writeBatch(shop.database, shop.gasLists, { chamber, outcome });
  const written = outcome.analysers.flatMap(({ analyser, watch }) =>
    watch
      ? [[analyser, { memory: watch.memory, instrument: watch.instrument, version: watch.readVersion + 1 }] as const]
      : [],
  );
  shop.memories.set(chamber, new Map([...known, ...written]));
};

/**
 * Whether trying the same again must fail again: the database refuses the data (SQLSTATE classes 22 data exception,
 * 23 integrity violation, 54 limit exceeded), or our own code threw, whose errors carry no code.
 */
export const isLasting = (error: unknown): boolean => {
  const code = (error as { code?: unknown }).code;
  return code === undefined || /^(22|23|54)/.test(String(code));
};

/** Stores readings that say what went wrong, so that no scan is worked on for ever. */
const refuse = async (
  shop: Workshop,
  chamber: string,
  failed: { works: readonly OutstandingScan[]; error: unknown },
) => {
  const { works, error } = failed;
  const text = error instanceof Error ? error.message : String(error);
  shop.log.error(
    { chamber, scans: works.map(({ analyser, scanId }) => ({ analyser, scanId })), error },
    'A scan has no reading',
  );
  await writeBatch(shop.database, shop.gasLists, {
    chamber,
    outcome: refuseAll(works, `The result of this scan could not be stored: ${text}`),
  });
};

/**
 * @returns true when there may be more to do: the turn was over, the process is stopping, or another worker has it
 * @throws what the database throws when it is away: the scans stay outstanding
 */
export const analyseChamber = async (shop: Workshop, chamber: string): Promise<boolean> => {
  const turnEnds = performance.now() + LONGEST_TURN_MS;
  let overtakings = 0;
  let limit = BATCH_SCANS;
  while (!shop.stopping() && performance.now() < turnEnds) {
    const works = await readOutstanding(shop.database.sql, chamber, limit);
    if (works.length === 0) return false;
    try {
      await writeOutcome(shop, chamber, works);
      overtakings = 0;
    } catch (error) {
      if (error instanceof OvertakenError) {
        if (++overtakings >= MOST_OVERTAKINGS) return true;
      } else if (!isLasting(error)) {
        throw error;
      } else if (works.length > 1) {
        // One of them is at fault: from here one by one, until it is found.
        limit = 1;
      } else {
        await refuse(shop, chamber, { works, error });
        limit = BATCH_SCANS;
      }
    }
  }
  return true;
};
