/**
 * Gas that comes in while no state is sent: from the scan in which it comes to the one in which it has gone.
 *
 * – declared: it looks like what a declared state let in here, at about that level (letIn.ts).
 * – list: the total steps to ten times the usual or more, and nearly all of it is gases of the chamber's list, at no
 *   more than a few times the most that was ever declared.
 * – habit: a plain gas, to a level that has come and gone here before. The first times are called, as they must be.
 * – shape: the same of anything else, known by its spectrum (visitShapes.ts).
 * – late: a state has just been withdrawn, and what it let in is still there for a scan or two.
 *
 * Each has a longest time. Air is none of these.
 */
import { episodeNote } from './episodeNote.ts';
import { goesOn, highestOf, likeLetIn, longestOf, standsAt, totalExcess } from './letIn.ts';
import { looksLikeAir, mixtureOf } from './likeness.ts';
import type { Memory, Vector } from './memory.ts';
import type { Note } from './relearn.ts';
import type { Episode, Episodes } from './stateMemory.ts';
import { GAS_STATES } from './states.ts';
import {
  habitualShape,
  higherShape,
  isOtherMixture,
  isStillShape,
  isUnwanted,
  LONGEST_VISIT_SECONDS,
  leftBehind,
  longestOfShape,
} from './visitShapes.ts';

/** Total over the usual, and over the scan before it. */
const LIST_TOTAL = 10;
const LEAST_TOTAL = 2;
const STEP = 2;
/** The same of a plain gas alone, that may come by habit. */
const PUFF = 1.3;
/** Share of the excess that is the gases: when it begins, and below which it is no longer that. */
const SHARE = { list: 0.8, habit: 0.75, stays: 0.7 } as const;
/** It is over when a tenth of it is left, or what no breathing exceeds. */
const LEFT_SHARE = 0.1;
const LEFT_TOTAL = 0.25;
/** Times that it came and went before it is a habit; how far from the known level and length the next may be. */
const HABIT_VISITS = 2;
const LEVEL_ROOM = 3;
const LENGTH_ROOM = 2;
/** What has not gone by then has come to stay: gases of the list, of which no visit is known; a state's end. */
const LONGEST_OF_LIST_SECONDS = 12 * 3600;
const LATE_SECONDS = 600;
/** Valves open and close, and a scan takes its time: for so long, at least one scan, it need not look like anything. */
const PASSING_SECONDS = 60;
/** A flow that grows by more than this is none. */
const GROWTH = 1.5;
/** What has fallen below this share of its level is going away. */
const GOING = 0.5;
/** Gases that are let in for purging, venting and moving things, listed or not. */
const PLAIN_GASES = ['N2', 'Ar', 'He', 'H2', 'O2'] as const;

export interface EpisodeStep {
  readonly memory: Memory;
  /** Of the chamber's list. */
  readonly gases: readonly string[];
  readonly notes: Note[];
  readonly atMs: number;
  readonly masses: Vector;
  /** Over the usual one, and that, N2-equivalent Pa. */
  readonly total: number;
  readonly usual: number;
  /** Above base, N2-equivalent Pa per channel; NaN: not measured. */
  excess(): Float64Array;
}

type Seen = EpisodeStep & { readonly above: Float64Array };

export const isStep = ({ total: before }: Episodes, total: number): boolean =>
  !(total < LEAST_TOTAL || before === null || total < STEP * before);

/** Too little to be a state, but enough to be told by what it is. */
export const isPuff = ({ total: before }: Episodes, total: number): boolean =>
  !(total < PUFF || before === null || total < PUFF * before);

export function followEpisode(before: Episodes, step: EpisodeStep): Episodes {
  const seen: Seen = { ...step, above: step.excess() };
  const { running } = before;
  if (running === null) return { ...before, running: begins(before, seen) };
  const { atMs, total } = step;
  const left = (total - 1) / (running.level - 1);
  if (left < LEFT_SHARE || total - 1 < LEFT_TOTAL) return over(before, running, atMs);
  if (running.state === null) {
    const young = isYoung(running, seen);
    const again = begins(before, seen, young ? running : null);
    // What came first has been a visit of its own.
    const told = again?.state || (again?.by && !running.by);
    if (told) return { ...(young ? before : over(before, running, atMs)), running: again };
    return followUnknown(before, running, seen);
  }
  const seconds = (atMs - running.atMs) / 1000;
  if (seconds > running.longestSeconds) return stayed(before, running);
  const now = isYoung(running, seen)
    ? { ...running, level: Math.max(running.level, total), shape: higherShape(running.shape, seen) }
    : running;
  const going = stillIs(now, seen);
  if (going) return { ...before, running: going };
  const other = isOtherMixture(running.shape, seen.above) ? toldNow(before, seen) : null;
  if (other?.state) return { ...over(before, running, atMs), running: begun(seen, other) };
  const sinceMs = running.unlikeSinceMs ?? atMs;
  if (sinceMs === atMs || atMs - sinceMs < PASSING_SECONDS * 1000)
    return { ...before, running: { ...now, unlikeSinceMs: sinceMs } };
  if (left < GOING) return over(before, running, atMs);
  // More of the same is no other gas.
  return isOtherMixture(running.shape, seen.above)
    ? becomes(over(before, running, sinceMs), seen)
    : stayed(before, running);
}

/** Nobody knows it yet: how it looks is kept, and that it has become something else. */
function followUnknown(before: Episodes, running: Episode, seen: Seen): Episodes {
  const { memory, above, total, atMs } = seen;
  const unwanted = running.unwanted || isUnwanted(memory.standing, running.atMs);
  const now: Episode = { ...running, ...(unwanted && { unwanted }) };
  if (isOtherMixture(running.shape, above) && !isYoung(running, seen)) {
    const sinceMs = running.unlikeSinceMs ?? atMs;
    const passing = sinceMs === atMs || atMs - sinceMs < PASSING_SECONDS * 1000;
    const going = total - 1 < GOING * (running.level - 1);
    if (passing || going) return { ...before, running: { ...now, unlikeSinceMs: sinceMs } };
    return becomes(over(before, now, sinceMs), seen);
  }
  const { unlikeSinceMs: _, ...still } = now;
  return { ...before, running: running.by ? still : { ...still, shape: higherShape(running.shape, seen) } };
}

/** What goes over into something else without having gone: into something known, or into what is watched on. */
function becomes(before: Episodes, seen: Seen): Episodes {
  const { atMs, total } = seen;
  const next = begun(seen, toldNow(before, seen));
  if (next?.state) return { ...before, running: next };
  return { ...before, running: { gas: '', atMs, level: total, state: null, longestSeconds: LONGEST_VISIT_SECONDS } };
}

/** The first scan may have caught a valve half-way; the next one counts as well. */
const isYoung = (running: Episode, { atMs, memory }: Seen): boolean =>
  atMs - running.atMs <= 1000 * Math.max(PASSING_SECONDS, 1.5 * (memory.periodSeconds ?? PASSING_SECONDS));

const over = (before: Episodes, running: Episode, atMs: number): Episodes => ({
  ...before,
  running: null,
  ...leftBehind(before, running, atMs),
});

/** Watched on without a name, so that it is not taken for a new one while it lasts. */
const stayed = (before: Episodes, running: Episode): Episodes => ({
  ...before,
  running: { ...running, state: null, longestSeconds: Number.MAX_SAFE_INTEGER },
});

/** What has just come in; its state is null while it is nothing known. `first`: it came a scan ago and was not told yet. */
function begins(before: Episodes, seen: Seen, first: Episode | null = null): Episode | null {
  const { atMs, total } = seen;
  const late = first === null && lateState(seen);
  if (late) return { gas: '', atMs, level: total, by: 'late', state: late, longestSeconds: LATE_SECONDS };
  // What is watched already may move by a third and be the same.
  const isEnough = before.running === null ? isPuff : isStep;
  if (first === null && !isEnough(before, total)) return null;
  if (first === null && !isStep(before, total)) return begun(seen, plain(before, seen));
  const unknown = { gas: '', atMs, level: total, state: null, longestSeconds: LONGEST_VISIT_SECONDS };
  const told = toldNow(before, seen) ?? unknown;
  return begun(seen, { ...told, atMs: first?.atMs ?? atMs });
}

function begun<T extends Episode | null>({ notes }: Seen, episode: T): T {
  if (episode?.state) notes.push(episodeNote(episode));
  return episode;
}

function lateState({ memory, masses, above }: Seen): string | null {
  const { state, states, lastAtMs } = memory;
  return GAS_STATES.has(state) && goesOn(states.letIn, { masses, excess: above }, state, lastAtMs) ? state : null;
}

const toldNow = (before: Episodes, seen: Seen): Episode | null =>
  known(seen) ?? plain(before, seen) ?? shaped(before, seen);

/** Gas of a declared state or of the list. */
function known(seen: Seen): Episode | null {
  const { memory, gases, atMs, masses, above, total } = seen;
  const { letIn } = memory.states;
  const one = likeLetIn(letIn, { masses, excess: above }, gases);
  const mixture = mixtureOf(gases, above, masses);
  const found = { gas: mixture.gas ?? '', atMs, level: total };
  if (one) {
    const longestSeconds = longestOf(letIn, one.state) ?? LONGEST_VISIT_SECONDS;
    return { ...found, by: 'declared', state: one.state, longestSeconds };
  }
  if (total < LIST_TOTAL || mixture.share < SHARE.list || isBeyond(seen)) return null;
  if (looksLikeAir({ masses, excess: above, gases, foretold: null })) return null;
  const longest = longestOf(letIn, 'gas-on');
  const longestSeconds = longest === null ? LONGEST_OF_LIST_SECONDS : Math.max(LONGEST_VISIT_SECONDS, longest);
  return { ...found, by: 'list', state: 'gas-on', longestSeconds };
}

const isBeyond = ({ memory, above }: Seen): boolean => {
  const highest = highestOf(memory.states.letIn);
  return highest !== null && totalExcess(above) > LEVEL_ROOM * highest;
};

/** A plain gas; its state is null until it is a habit. */
function plain({ habits }: Episodes, { gases, atMs, masses, above, total }: Seen): Episode | null {
  const best = [...new Set([...gases, ...PLAIN_GASES])]
    .map((gas) => ({ gas, share: mixtureOf([gas], above, masses).share }))
    .reduce((a, b) => (b.share > a.share ? b : a));
  if (best.share < SHARE.habit || looksLikeAir({ masses, excess: above, gases: [], foretold: null })) return null;
  const habit = habits[best.gas];
  const isHabit =
    habit && habit.visits >= HABIT_VISITS && Math.abs(Math.log(total / habit.level)) < Math.log(LEVEL_ROOM);
  return {
    gas: best.gas,
    atMs,
    level: total,
    by: 'habit',
    // As much as a recipe lets in is told apart as recipes are.
    state: isHabit ? (total < LIST_TOTAL ? 'transfer' : 'gas-on') : null,
    longestSeconds: isHabit ? LENGTH_ROOM * habit.seconds : LONGEST_VISIT_SECONDS,
  };
}

/** What came and went alike before. */
function shaped({ shapes = [] }: Episodes, { gases, atMs, masses, above, total }: Seen): Episode | null {
  const one = habitualShape(shapes, { masses, above }, gases);
  if (!one) return null;
  const shape = { masses, excess: one.excess, total };
  return { gas: '', atMs, level: total, by: 'shape', state: 'gas-on', longestSeconds: longestOfShape(one), shape };
}

/** Null: it no longer is what it was told by. */
function stillIs(running: Episode, seen: Seen): Episode | null {
  const { memory, gases, masses, above, total } = seen;
  const { unlikeSinceMs: _, ...same } = running;
  if (running.by === 'late') return total > GOING * running.level && total < GROWTH * running.level ? same : null;
  if (running.by === 'declared') {
    const one = likeLetIn(memory.states.letIn, { masses, excess: above }, gases);
    if (!one || total <= GROWTH * running.level) return one && same;
    return standsAt(one, above) ? { ...same, level: total } : null;
  }
  if (running.by === 'shape') return running.shape && isStillShape(running.shape.excess, above) ? same : null;
  if (total > LEVEL_ROOM * running.level) return null;
  const own = running.by === 'list' ? gases : [];
  const share = mixtureOf(running.by === 'list' ? gases : [running.gas], above, masses).share;
  return share >= SHARE.stays && !looksLikeAir({ masses, excess: above, gases: own, foretold: null }) ? same : null;
}
