/**
 * An operating state that nobody has sent, told by its shape: then the chamber is judged as if it had been sent. Only
 * what a state does counts, never what a fault could do as well:
 *
 * – gas-on: within one scan the total steps to ten times the usual or more, and nearly all of it is one gas of the
 *   chamber's list.
 * – transfer: such a step of nitrogen or another plain gas to a level that has come and gone here before, and for no
 *   longer than it did then. The first times are called, as they must be.
 * – bake: the chamber is far warmer than it ever was at rest.
 *
 * What stays, drifts away from that gas, or comes to another level is judged against base again and called within its
 * on-delay. A pump-down that nobody declared is told by the gap before it (judge.ts) and needs no name.
 */
import { isReady, totalOfMean } from './baseline.ts';
import { fits } from './channels.ts';
import { trimOf } from './detectorBook.ts';
import type { Baseline, Memory } from './memory.ts';
import { gasName, patternsOf } from './patterns.ts';
import type { Note } from './relearn.ts';
import { scanChannels } from './scanChannels.ts';
import { type Episode, type Episodes, emptyEpisodes } from './stateMemory.ts';
import type { WatchContext, WatchInput } from './types.ts';
import { duration, number } from './wording.ts';

/** The state that analysers send when they know of none. */
const UNTOLD = 'base';
/** Total over the usual, and over the scan before it. */
const GAS_ON_TOTAL = 10;
const TRANSFER_TOTAL = 2;
const STEP = 2;
/** Share of the excess that is the one gas: when it begins, and below which it is no longer that. */
const SHARE = { gasOn: 0.8, transfer: 0.75, stays: 0.7 } as const;
/** It is over when a tenth of it is left. */
const LEFT_SHARE = 0.1;
/** Times that it came and went before it is a habit; how far from the known level and length the next may be. */
const HABIT_VISITS = 2;
const LEVEL_ROOM = 3;
const LENGTH_ROOM = 2;
/** What has not gone by then has come to stay. */
const LONGEST_SECONDS = 3 * 3600;
/** Half of air's argon, a fifth of its oxygen (peaks at 40, 32 against 28; dry air: 0.012–0.016 and 0.2–0.25). */
const AIR_ARGON = 0.006;
const AIR_OXYGEN = 0.04;
/** Gases that are let in for purging, venting and moving things, listed or not. */
const PLAIN_GASES = ['N2', 'Ar', 'He', 'H2', 'O2'] as const;
/** Kelvin above the baseline: a bake; and back at rest. */
const BAKE_KELVIN = 25;
const COOL_KELVIN = 8;

export interface RecogniseStep {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
  readonly notes: Note[];
}

/** The state that this scan is judged in. */
export function recogniseState(step: RecogniseStep): string {
  const { memory, input } = step;
  const { scan } = input;
  const before = memory.states.episodes;
  if (scan.state !== UNTOLD) {
    if (before.running || before.total !== null) memory.states = { ...memory.states, episodes: forgotten(before) };
    return scan.state;
  }
  const base = memory.baselines[UNTOLD];
  if (!isReady(base) || base.scaled !== input.peaks.scaled || !fits(input.peaks, base.masses)) return UNTOLD;
  const heat = heated(step, base);
  if (heat !== null) return heat;
  const q = scanChannels(step.context.calibration, input, base.masses);
  const trim = trimOf(base, scan.detector);
  const total = totalOver(base, q, trim);
  // Most scans neither begin an episode nor are in one.
  const next =
    before.running === null && !isStep(before, total)
      ? before
      : followEpisode(step, before, { base, total, ...excessOf(base, q, trim) });
  memory.states = { ...memory.states, episodes: { ...next, total } };
  return next.running?.state ?? UNTOLD;
}

const forgotten = (episodes: Episodes): Episodes => ({ ...emptyEpisodes(), habits: episodes.habits });

interface Excess {
  /** Above the baseline, per channel. */
  readonly excess: Float64Array;
  readonly sum: number;
}

function totalOver(base: Baseline, q: Float64Array, trim: number): number {
  let total = 0;
  for (let m = 1; m < q.length; m++) if (q[m]! / trim > 0) total += q[m]! / trim;
  return total / totalOfMean(base);
}

function excessOf(base: Baseline, q: Float64Array, trim: number): Excess {
  const excess = new Float64Array(q.length);
  let sum = 0;
  for (let m = 1; m < q.length; m++) {
    const height = q[m]! / trim;
    if (!(height > 0)) continue;
    excess[m] = Math.max(0, height - base.mean[m]!);
    sum += excess[m]!;
  }
  return { excess, sum };
}

const isStep = ({ total: before }: Episodes, total: number): boolean =>
  !(total < TRANSFER_TOTAL || before === null || total < STEP * before);

/** `total`: over the usual one. */
type Seen = Excess & { readonly base: Baseline; readonly total: number };

function followEpisode(step: RecogniseStep, before: Episodes, seen: Seen): Episodes {
  const { running } = before;
  const { atMs } = step.input.scan;
  if (running === null) {
    const begun = begins(step, before, seen);
    if (begun?.state) step.notes.push(noteOf(begun));
    return { ...before, running: begun };
  }
  const left = (seen.total - 1) / (running.level - 1);
  if (left < LEFT_SHARE) return { ...before, running: null, habits: remembered(before.habits, running, atMs) };
  const seconds = (atMs - running.atMs) / 1000;
  const stays = !running.listed && seconds > running.longestSeconds;
  if (stays || left > LEVEL_ROOM || shareOf(running.gas, seen) < SHARE.stays) {
    // Watched on without a name, so that it is not taken for a new one while it lasts.
    return { ...before, running: { ...running, state: null, longestSeconds: Number.MAX_SAFE_INTEGER } };
  }
  return before;
}

/** What has just come in, if it has the shape of a state; its state is null until it is a habit. */
function begins({ context, input }: RecogniseStep, before: Episodes, seen: Seen): Episode | null {
  if (!isStep(before, seen.total)) return null;
  const { habits } = before;
  const { gases } = context.chamber;
  const { atMs } = input.scan;
  const best = [...new Set([...gases, ...PLAIN_GASES])]
    .map((gas) => ({ gas, share: shareOf(gas, seen) }))
    .reduce((a, b) => (b.share > a.share ? b : a));
  if (best.gas === 'N2' && isAir(seen)) return null;
  const found = { gas: best.gas, atMs, level: seen.total };
  if (gases.includes(best.gas) && seen.total >= GAS_ON_TOTAL && best.share >= SHARE.gasOn) {
    return { ...found, listed: true, state: 'gas-on', longestSeconds: 0 };
  }
  if (best.share < SHARE.transfer) return null;
  const habit = habits[best.gas];
  const known =
    habit && habit.visits >= HABIT_VISITS && Math.abs(Math.log(seen.total / habit.level)) < Math.log(LEVEL_ROOM);
  return {
    ...found,
    listed: false,
    state: known ? 'transfer' : null,
    longestSeconds: known ? LENGTH_ROOM * habit.seconds : LONGEST_SECONDS,
  };
}

function remembered(habits: Episodes['habits'], { gas, atMs, level, longestSeconds }: Episode, endMs: number) {
  const seconds = (endMs - atMs) / 1000;
  // A fault that was repaired is no habit, nor is a single scan a visit.
  if (seconds <= 0 || seconds > Math.min(longestSeconds, LONGEST_SECONDS)) return habits;
  const before = habits[gas];
  return {
    ...habits,
    [gas]: { visits: (before?.visits ?? 0) + 1, level, seconds: Math.max(seconds, before?.seconds ?? 0) },
  };
}

/** Share of the excess that this gas makes, scaled by its largest peak there. */
function shareOf(gas: string, { base, excess, sum }: Seen): number {
  const pattern = patternsOf(gas, base.masses)?.variants[0];
  if (!pattern || !(sum > 0)) return 0;
  let top = 1;
  for (let m = 2; m < pattern.length; m++) if (pattern[m]! > pattern[top]!) top = m;
  const amount = excess[top]! / pattern[top]!;
  let share = 0;
  for (let m = 1; m < pattern.length; m++) share += Math.min(excess[m]!, amount * pattern[m]!);
  return share / sum;
}

/** Most of air is nitrogen: argon or oxygen beside it says that it is air, which is never let in by habit. */
function isAir({ base, excess }: Seen): boolean {
  const at = (mass: number) => excess[base.masses.indexOf(mass) + 1] ?? 0;
  return at(40) > AIR_ARGON * at(28) || at(32) > AIR_OXYGEN * at(28);
}

/** Null: it is no warmer than a hall can be. */
function heated({ memory, input, notes }: RecogniseStep, base: Baseline): string | null {
  const { temperatureC } = input.scan;
  if (temperatureC === null || base.temperatureC === null) return null;
  const kelvin = temperatureC - base.temperatureC;
  if (kelvin > BAKE_KELVIN) {
    if (memory.state !== 'bake') {
      notes.push({
        code: 'state-recognised',
        text: `No state was sent, but the chamber is ${number(kelvin)} K warmer than usual: it is taken to be baking, and nothing is judged until it cools.`,
      });
    }
    return 'bake';
  }
  return kelvin > COOL_KELVIN && (memory.state === 'bake' || memory.state === 'cool-down') ? 'cool-down' : null;
}

function noteOf({ gas, level, listed, longestSeconds, state }: Episode): Note {
  const came = `No state was sent, but ${gasName(gas).toLowerCase()} came in within one scan, to ${number(level)} times the usual total`;
  const why = listed
    ? 'It is a gas that this chamber uses'
    : `It has come and gone at this level before; if it stays longer than ${duration(longestSeconds)}, it is called`;
  return { code: 'state-recognised', text: `${came}. ${why}: the chamber is judged as in ${state}.` };
}
