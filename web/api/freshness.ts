import type { QueryClient } from '@tanstack/react-query';
import type { Round } from '../../shared/contract/round.ts';
import { isWeather } from './client.ts';
import type { StreamEvent } from './stream.ts';

/** Readings come several a second in a large fleet: their questions are asked again at most this often. */
const READING_PAUSE_MS = 4_000;
/** How well an analyser measures moves slowly, and is dear to ask: asked again with its scans, at most this often. */
const MEASURED_PAUSE_MS = 10_000;
/** An alert is shown at once; the short pause gathers those that come together. */
const ALERT_PAUSE_MS = 200;
/** A question that could not be asked again is out of date until it is: first and longest pause before the next try. */
const FIRST_RETRY_MS = 2_000;
const LONGEST_RETRY_MS = 30_000;

type Key = readonly unknown[];
const EVERYTHING: Key = [];
/** What a new scan says something new about; a plan or a list of scans that a person works with stays as it is. */
const measuredKeys = (analyser: string): Key[] =>
  ['now', 'trend', 'residuals'].map((part) => ['measurement', 'of', analyser, part]);

/** Turns events into questions that are asked again, gathered so that a large fleet does not ask all the time. */
export function makeFreshener(client: QueryClient) {
  const dirty = new Map<string, Key>();
  const measured = new Set<string>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  let measuredTimer: ReturnType<typeof setTimeout> | undefined;
  let dueAt = Number.POSITIVE_INFINITY;
  let retryMs = FIRST_RETRY_MS;
  let closed = false;

  /** Of what is shown under these keys: the questions whose last try met bad weather. */
  const missed = (keys: readonly Key[]): Key[] =>
    keys
      .flatMap((queryKey) => client.getQueryCache().findAll({ queryKey, type: 'active' }))
      .filter(({ state }) => isWeather(state.error))
      .map(({ queryKey }) => queryKey);

  const flush = async () => {
    timer = undefined;
    dueAt = Number.POSITIVE_INFINITY;
    const keys = dirty.has(JSON.stringify(EVERYTHING)) ? [EVERYTHING] : [...dirty.values()];
    dirty.clear();
    await renew(keys);
  };

  const renew = async (keys: readonly Key[]) => {
    await Promise.all(keys.map((queryKey) => client.invalidateQueries({ queryKey })));
    const again = missed(keys);
    if (again.length > 0) mark(again, retryMs);
    retryMs = again.length > 0 ? Math.min(LONGEST_RETRY_MS, 2 * retryMs) : FIRST_RETRY_MS;
  };

  const mark = (keys: readonly Key[], pauseMs: number) => {
    if (closed) return;
    for (const key of keys) dirty.set(JSON.stringify(key), key);
    const due = Date.now() + pauseMs;
    if (due >= dueAt) return;
    clearTimeout(timer);
    dueAt = due;
    timer = setTimeout(() => void flush(), pauseMs);
  };

  const markMeasured = (analyser: string) => {
    if (closed) return;
    measured.add(analyser);
    measuredTimer ??= setTimeout(() => {
      measuredTimer = undefined;
      const keys = [['measurement', 'list'], ...[...measured].flatMap(measuredKeys)];
      measured.clear();
      void renew(keys);
    }, MEASURED_PAUSE_MS);
  };

  return {
    take: (event: StreamEvent) => {
      if (event.kind === 'reading') {
        client.setQueryData<Round>(['round'], (round) => round && withScan(round, event.chamber, event.at));
        mark([['round'], ['chamber', event.chamber]], READING_PAUSE_MS);
        markMeasured(event.analyser);
      } else if (event.kind === 'alert') {
        mark([['round'], ['alerts'], ['alert', event.id], ['chamber', event.chamber], ['handover']], ALERT_PAUSE_MS);
      } else if (event.kind === 'resync') {
        mark([EVERYTHING], ALERT_PAUSE_MS);
      } else if (event.kind === 'ended') {
        void client.invalidateQueries({ queryKey: ['session'] });
      } else {
        mark([['round'], ['rounds'], ['signed round'], ['handover']], ALERT_PAUSE_MS);
      }
    },
    /** Asks everything that is shown again. True: all of it came. */
    readAgain: async (): Promise<boolean> => {
      clearTimeout(timer);
      dirty.clear();
      dirty.set(JSON.stringify(EVERYTHING), EVERYTHING);
      await flush();
      return missed([EVERYTHING]).length === 0;
    },
    close: () => {
      closed = true;
      clearTimeout(timer);
      clearTimeout(measuredTimer);
    },
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
