/** The states of a chamber as stretches of time, its vents, and how long after the last vent an instant lies. */

export interface StateChange {
  readonly atMs: number;
  readonly state: string;
}

export interface Stretch {
  readonly state: string;
  readonly fromMs: number;
  readonly toMs: number;
}

/** @param untilMs the last stretch ends here; what was reported later does not count */
export const stretchesOf = (changes: readonly StateChange[], untilMs: number): Stretch[] =>
  changes
    .filter(({ atMs, state }, k) => atMs < untilMs && state !== changes[k - 1]?.state)
    .map(({ atMs, state }, k, all) => ({ state, fromMs: atMs, toMs: all[k + 1]?.atMs ?? untilMs }));

export interface Vent {
  /** Before this the chamber was closed; after `pumpedMs` it is being pumped again. */
  readonly fromMs: number;
  readonly pumpedMs: number;
}

const PUMPING = new Set(['roughing', 'pump-down']);

/**
 * An analyser is off while its chamber is open, and many gateways never say `vented`: a chamber that is roughed or pumped
 * down out of a state that is neither was vented at that time as far as anyone can know. A record that begins with the
 * pumping begins with the vent.
 */
export function ventsOf(stretches: readonly Stretch[]): Vent[] {
  const vents: Vent[] = [];
  for (const [k, { state, fromMs, toMs }] of stretches.entries()) {
    const before = stretches[k - 1]?.state;
    if (state === 'vented') {
      if (stretches[k + 1] !== undefined) vents.push({ fromMs, pumpedMs: toMs });
    } else if (PUMPING.has(state) && before !== 'vented' && !PUMPING.has(before ?? ''))
      vents.push({ fromMs, pumpedMs: fromMs });
  }
  return vents;
}

export interface SinceVent {
  readonly seconds: number;
  /** No vent is on record before that time: it was so long ago at least. */
  readonly atLeast: boolean;
}

/** Null: no state was ever reported before that time, or the chamber was open. */
export function sinceVent(stretches: readonly Stretch[], atMs: number): SinceVent | null {
  const first = stretches[0];
  if (first === undefined || first.fromMs > atMs) return null;
  const now = stretches.findLast(({ fromMs }) => fromMs <= atMs);
  if (now?.state === 'vented') return null;
  const last = ventsOf(stretches).findLast(({ pumpedMs }) => pumpedMs <= atMs);
  return { seconds: (atMs - (last?.pumpedMs ?? first.fromMs)) / 1000, atLeast: last === undefined };
}

export interface TimeSpan {
  readonly fromMs: number;
  readonly toMs: number;
}

/** What of the stretches lies within a span. */
export const within = (stretches: readonly Stretch[], { fromMs, toMs }: TimeSpan): Stretch[] =>
  stretches
    .map((one) => ({ ...one, fromMs: Math.max(one.fromMs, fromMs), toMs: Math.min(one.toMs, toMs) }))
    .filter((one) => one.toMs > one.fromMs);

/** States in which nothing is measured that could be compared, or not twice alike. */
const PASSING = new Set(['vented', 'roughing', 'maintenance', 'calibration', 'leak-check', 'regenerating']);
/** States that last, and of which what is usual is known best. */
const STEADY = new Set(['base', 'gas-on', 'plasma']);

/** The state that both sides have most of, a steady one if there is one. */
export function stateOf(before: readonly Stretch[], after: readonly Stretch[]): string | null {
  const length = (stretches: readonly Stretch[], state: string) =>
    stretches.filter((one) => one.state === state).reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
  const states = [...new Set(before.map(({ state }) => state))].filter((state) => !PASSING.has(state)).reverse();
  const both = (state: string) => Math.min(length(before, state), length(after, state));
  const shared = states.filter((state) => both(state) > 0).sort((a, b) => both(b) - both(a));
  return shared.find((state) => STEADY.has(state)) ?? shared[0] ?? states[0] ?? null;
}
