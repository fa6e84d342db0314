/**
 * What a standing alert has changed: the last quiet time before it began, and the newest time in the same state since.
 * It proves nothing of a repair; it shows what there is to be repaired.
 */
import { LEAST_ON_A_LINE } from './gasSide.ts';
import { type Stretch, stateOf, type TimeSpan, type Vent, ventsOf, within } from './stretches.ts';

export interface SinceQuestion {
  readonly stretches: readonly Stretch[];
  readonly raisedMs: number;
  readonly newestMs: number;
  readonly loud: readonly TimeSpan[];
  /** Between scans; null: not known. */
  readonly scanSeconds: number | null;
}

export interface SinceChoice {
  readonly state: string | null;
  readonly before: TimeSpan | null;
  readonly after: TimeSpan | null;
  readonly between: Vent | null;
}

const MINUTE_MS = 60_000;
/**
 * A condition lasts before it is called: two hours in the slowest lane of the watch, ten minutes in its running mean.
 * Which lane called is not kept, so the longer one is left out; the shorter where nothing older is on record.
 */
const ON_DELAYS_MS = [120 * MINUTE_MS, 10 * MINUTE_MS];
/** What grows is shown as it is now: of a leak that grew all night the mean of the night says little. */
const NEWEST_MS = 50 * MINUTE_MS;
/** Where scans are seldom it lasts as long as a line needs, with a few to spare, but not so long that it is no longer now. */
const NEWEST_SCANS = 1.2 * LEAST_ON_A_LINE;
const LONGEST_NEWEST_MS = 240 * MINUTE_MS;
/** Less than four times as long: scans at one rate are then alike in number (likeness.ts). */
const BEFORE_TIMES = 3.9;

/** Stretches without the times of other alerts. */
const quietOf = (stretches: readonly Stretch[], loud: readonly TimeSpan[]) =>
  loud.reduce<readonly Stretch[]>(
    (left, { fromMs, toMs }) =>
      left.flatMap((one) =>
        [
          { ...one, toMs: Math.min(one.toMs, fromMs) },
          { ...one, fromMs: Math.max(one.fromMs, toMs) },
        ].filter((part) => part.toMs > part.fromMs),
      ),
    stretches,
  );

/** So long up to the last end of the state, and not across `edges`; what lies between in other states is left out by state. */
function lastIn(stretches: readonly Stretch[], state: string | null, longestMs: number, edges: readonly number[]) {
  const own = stretches.filter((one) => one.state === state);
  const last = own.at(-1);
  if (last === undefined) return null;
  const fromMs = Math.max(last.toMs - longestMs, ...edges.filter((edge) => edge <= last.fromMs));
  return within(own, { fromMs, toMs: last.toMs }).reduce(
    ({ fromMs: first, toMs }, one) => ({
      fromMs: Math.min(first, one.fromMs),
      toMs: Math.max(toMs, one.toMs),
    }),
    { fromMs: last.toMs, toMs: last.toMs },
  );
}

/** The state in which it was called, if it was there before; else what both have most of. */
function stateFor({ stretches, raisedMs }: SinceQuestion, before: readonly Stretch[], after: readonly Stretch[]) {
  const called = stretches.findLast(({ fromMs }) => fromMs <= raisedMs)?.state;
  const has = (all: readonly Stretch[]) => all.some(({ state }) => state === called);
  return has(before) && has(after)
    ? stateOf(
        before.filter(({ state }) => state === called),
        after,
      )
    : null;
}

export function sinceAlert(question: SinceQuestion): SinceChoice {
  const { stretches, raisedMs, newestMs, loud, scanSeconds } = question;
  const forLine = Math.min(LONGEST_NEWEST_MS, NEWEST_SCANS * 1000 * (scanSeconds ?? 0));
  const longestMs = Math.max(NEWEST_MS, forLine);
  const start = stretches[0]?.fromMs ?? raisedMs;
  const since = within(stretches, { fromMs: raisedMs, toMs: newestMs });
  const edges = [...loud.map(({ toMs }) => toMs), ...ventsOf(stretches).map(({ pumpedMs }) => pumpedMs)];
  for (const delayMs of ON_DELAYS_MS) {
    const earlier = quietOf(within(stretches, { fromMs: start, toMs: raisedMs - delayMs }), loud);
    const state = stateFor(question, earlier, since) ?? stateOf(earlier, since);
    const before = lastIn(earlier, state, BEFORE_TIMES * longestMs, edges);
    const after = lastIn(since, state, longestMs, []);
    if (before === null || after === null) continue;
    const vents = ventsOf(stretches).filter(({ fromMs, pumpedMs }) => pumpedMs > before.toMs && fromMs < after.fromMs);
    const [first, last] = [vents[0], vents.at(-1)];
    const between = first && last ? { fromMs: first.fromMs, pumpedMs: last.pumpedMs } : null;
    return { state, before, after, between };
  }
  const state = stateOf(since, since);
  return { state, before: null, after: lastIn(since, state, longestMs, []), between: null };
}
