import type { QueryClient } from '@tanstack/react-query';
import type { Round } from '../../shared/contract/round.ts';
import type { StreamEvent } from './stream.ts';

/** Readings come several a second in a large fleet: their questions are asked again at most this often. */
const READING_PAUSE_MS = 4_000;
/** An alert is shown at once; the short pause gathers those that come together. */
const ALERT_PAUSE_MS = 200;

/** Turns events into questions that are asked again, gathered so that a large fleet does not ask all the time. */
export function makeFreshener(client: QueryClient) {
  const dirty = new Map<string, readonly unknown[]>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  let dueAt = Number.POSITIVE_INFINITY;

  const flush = () => {
    timer = undefined;
    dueAt = Number.POSITIVE_INFINITY;
    const keys = [...dirty.values()];
    dirty.clear();
    for (const queryKey of keys) void client.invalidateQueries({ queryKey });
  };

  const mark = (keys: readonly (readonly unknown[])[], pauseMs: number) => {
    for (const key of keys) dirty.set(JSON.stringify(key), key);
    const due = Date.now() + pauseMs;
    if (due >= dueAt) return;
    clearTimeout(timer);
    dueAt = due;
    timer = setTimeout(flush, pauseMs);
  };

  return {
    take: (event: StreamEvent) => {
      if (event.kind === 'reading') {
        client.setQueryData<Round>(['round'], (round) => round && withScan(round, event.chamber, event.at));
        mark([['round'], ['chamber', event.chamber]], READING_PAUSE_MS);
      } else if (event.kind === 'alert') {
        mark([['round'], ['alerts'], ['alert', event.id], ['chamber', event.chamber]], ALERT_PAUSE_MS);
      } else if (event.kind === 'resync') {
        mark([[]], ALERT_PAUSE_MS);
      } else {
        mark([['round']], ALERT_PAUSE_MS);
      }
    },
    close: () => clearTimeout(timer),
  };
}

/** The round with a newer last scan for one chamber, so that its age is right before the round is asked again. */
export function withScan(round: Round, chamber: string, at: string): Round {
  const areas = round.areas.map((area) => {
    if (!area.chambers.some((line) => line.id === chamber)) return area;
    const chambers = area.chambers.map((line) =>
      line.id === chamber && (line.lastScanAt === null || Date.parse(line.lastScanAt) < Date.parse(at))
        ? { ...line, lastScanAt: at }
        : line,
    );
    return { ...area, chambers };
  });
  return { ...round, areas };
}

/** How many chambers say something else than before: what the page tells after it was cut off. */
export function changesBetween(before: Round | undefined, after: Round | undefined): number {
  if (!before || !after) return 0;
  const saying = (round: Round) =>
    new Map(
      round.areas.flatMap((area) =>
        area.chambers.map((line) => [line.id, `${line.health}|${line.worst?.id}|${line.worst?.state}`] as const),
      ),
    );
  const old = saying(before);
  return [...saying(after)].filter(([id, words]) => old.get(id) !== words).length;
}
