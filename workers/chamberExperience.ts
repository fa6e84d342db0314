/** What engineers have taught the watch of a chamber: baselines that they have pinned, closed cases kept as examples. */
import type { Sql } from 'postgres';
import { readExampleContents } from '../shared/db/examples.ts';
import { type PinMark, readPinContents } from '../shared/db/pins.ts';
import { adoptedPins } from '../shared/watch/pinAdoption.ts';
import type { BaselinePin, SiteExample, WatchMemory } from '../shared/watch/types.ts';
import type { RecentlyUsed } from './remembered.ts';

/** Examples never change, so that one that was read is not read again. */
export type ExampleShelf = RecentlyUsed<string, SiteExample>;

interface Watched {
  readonly memory: WatchMemory | null;
  readonly judgedToMs: number;
}

/**
 * One that a later pin has replaced counts only where scans of its time are still to be judged. One in force counts
 * until the memory has adopted or refused it, also where the clock of the gateway runs ahead of ours.
 */
const isDue = (mark: PinMark, watched: Watched | undefined): boolean => {
  if (!watched) return true;
  if (mark.replaced && mark.validFromMs < watched.judgedToMs) return false;
  return !adoptedPins(watched.memory).includes(mark.id);
};

/** Pins that the memories have yet to adopt, by analyser: the content of the others is not read. */
export const readPinsFor = async (
  sql: Sql,
  asked: { chamber: string; marks: readonly PinMark[]; watches: ReadonlyMap<string, Watched> },
): Promise<ReadonlyMap<string, readonly BaselinePin[]>> => {
  const due = asked.marks.filter((mark) => isDue(mark, asked.watches.get(mark.analyser)));
  const pins = await readPinContents(
    sql,
    asked.chamber,
    due.map(({ id }) => id),
  );
  return new Map(
    [...new Set(due.map(({ analyser }) => analyser))].map((analyser) => {
      const own = new Set(due.filter((mark) => mark.analyser === analyser).map(({ id }) => id));
      return [analyser, pins.filter(({ id }) => own.has(id))];
    }),
  );
};

/** In the order of `ids`; one that has just gone is left out. */
export const takeExamples = async (sql: Sql, shelf: ExampleShelf, ids: readonly string[]): Promise<SiteExample[]> => {
  const known = new Map<string, SiteExample>();
  for (const id of ids) {
    const example = shelf.get(id);
    if (example) known.set(id, example);
  }
  const missing = ids.filter((id) => !known.has(id));
  for (const { id, example } of missing.length > 0 ? await readExampleContents(sql, missing) : []) {
    shelf.set(id, example);
    known.set(id, example);
  }
  return ids.flatMap((id) => known.get(id) ?? []);
};
