/**
 * An operating state that nobody has sent, told by its shape: then the chamber is judged as if it had been sent. Only
 * what a state does counts, never what a fault could do as well:
 *
 * – gas: it comes in within one scan, and is told as episodes.ts has it.
 * – bake: the chamber is far warmer than it ever was at rest.
 *
 * What stays, drifts away from what it was told by, or comes to another level is judged against base again, without the
 * wait and the tail that follow a state, and called within its on-delay. A pump-down that nobody declared is told by the
 * gap before it (judge.ts) and needs no name.
 */
import { isReady, totalOfMean } from './baseline.ts';
import { fits } from './channels.ts';
import { trimOf } from './detectorBook.ts';
import { type EpisodeStep, followEpisode, isPuff } from './episodes.ts';
import { rememberLetIn } from './letIn.ts';
import type { Baseline, Memory } from './memory.ts';
import type { Note } from './relearn.ts';
import { scanChannels } from './scanChannels.ts';
import { type Episodes, emptyEpisodes } from './stateMemory.ts';
import { GAS_STATES } from './states.ts';
import { changeState, restartState } from './timeline.ts';
import type { WatchContext, WatchInput } from './types.ts';
import { number } from './wording.ts';

/** The state that analysers send when they know of none. */
const UNTOLD = 'base';
/** A step is measured against the lowest of so long before, at least against the scan before. */
const STEP_SECONDS = 60;
/** Total over the usual from which a declared state lets in what can be known again; two scans of a flow that stands. */
const LET_IN_TOTAL = 2;
const STEADY = Math.log(1.1);
/** Kelvin above the baseline: a bake; and back at rest. */
const BAKE_KELVIN = 25;
const COOL_KELVIN = 8;

export interface RecogniseStep {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
  readonly notes: Note[];
}

/** It is judged as in a state that nobody has sent, in a chamber whose states are sent otherwise: nothing is learned from it. */
export const isBorrowed = ({ states }: Memory): boolean =>
  (states.episodes.running?.state ?? null) !== null && states.letIn.length > 0;

/** The state that this scan is judged in. */
export function recogniseState(step: RecogniseStep): string {
  const { memory, input } = step;
  const { scan } = input;
  const base = memory.baselines[UNTOLD];
  const known = isReady(base) && base.scaled === input.peaks.scaled && fits(input.peaks, base.masses) ? base : null;
  if (scan.state !== UNTOLD) {
    followDeclared(step, known);
    return scan.state;
  }
  if (!known) return UNTOLD;
  const heat = heated(step, known);
  if (heat !== null) return heat;
  const before = memory.states.episodes;
  const seen = seenOn(step, known);
  // Most scans neither begin an episode nor are in one.
  const quiet = before.running === null && !GAS_STATES.has(memory.state) && !isPuff(before, seen.total);
  const next = quiet ? before : followEpisode(before, seen);
  memory.states = { ...memory.states, episodes: { ...next, ...lowest(before, seen.total, scan.atMs) } };
  const state = next.running?.state ?? UNTOLD;
  if (before.running?.state && next.running && next.running.state === null) comeToStay(memory, scan.atMs);
  const isAnother = before.running?.state === state && next.running?.atMs !== before.running.atMs;
  if (isAnother && memory.state === state) restartState(memory, scan.atMs);
  return state;
}

/** A state is sent: what it lets in is remembered, once its flow stands. */
function followDeclared(step: RecogniseStep, base: Baseline | null): void {
  const { memory, input } = step;
  const { state, atMs } = input.scan;
  const { episodes, letIn } = memory.states;
  if (!base || !GAS_STATES.has(state)) {
    if (episodes.running || episodes.total !== null)
      memory.states = { ...memory.states, episodes: forgotten(episodes) };
    return;
  }
  const { total, masses, excess } = seenOn(step, base);
  const before = memory.state === state ? episodes.total : null;
  const stands = before !== null && Math.abs(Math.log(total / before)) < STEADY && total > LET_IN_TOTAL;
  const faulty = memory.standing.some(({ direction }) => direction !== null);
  const seconds = (atMs - memory.stateSinceMs) / 1000;
  memory.states = {
    ...memory.states,
    episodes: { ...forgotten(episodes), total, totalAtMs: atMs },
    letIn: stands && !faulty ? rememberLetIn(letIn, { state, seconds, atMs, masses, excess: excess() }) : letIn,
  };
}

const forgotten = (episodes: Episodes): Episodes => ({
  ...emptyEpisodes(),
  habits: episodes.habits,
  ...(episodes.shapes && { shapes: episodes.shapes }),
});

function lowest({ total: before, totalAtMs }: Episodes, total: number, atMs: number) {
  const recent = before !== null && totalAtMs !== undefined && atMs - totalAtMs < STEP_SECONDS * 1000;
  return recent && before < total ? { total: before, totalAtMs } : { total, totalAtMs: atMs };
}

function seenOn({ memory, context, input, notes }: RecogniseStep, base: Baseline): EpisodeStep {
  const { scan } = input;
  const q = scanChannels(context.calibration, input, base.masses);
  const trim = trimOf(base, scan.detector);
  let total = 0;
  for (let m = 1; m < q.length; m++) if (q[m]! / trim > 0) total += q[m]! / trim;
  return {
    memory,
    gases: context.chamber.gases,
    notes,
    atMs: scan.atMs,
    masses: base.masses,
    total: total / totalOfMean(base),
    usual: totalOfMean(base),
    excess: () => q.map((height, m) => Math.max(0, height / trim - base.mean[m]!)),
  };
}

/** It was taken for a state and was none: it is judged at once, and neither remembered nor granted a tail. */
function comeToStay(memory: Memory, atMs: number): void {
  memory.visit = null;
  changeState(memory, UNTOLD, atMs);
  memory.previousState = null;
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
