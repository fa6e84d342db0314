/**
 * From outstanding scans to what will be written: every scan is analysed on its own, in time order; those that are
 * newer than anything judged for their analyser go on to the watch. No I/O and no clock, so a batch gives what the
 * same scans give one by one.
 */
import { setImmediate as breathe } from 'node:timers/promises';
import type { Answer } from '../shared/analysis/analyse.ts';
import type { Calibration, InstrumentMemory } from '../shared/analysis/types.ts';
import type { WatchInput, WatchStep } from '../shared/watch/types.ts';
import { type ChamberContext, type WatchState, watchContextOf } from './chamberContext.ts';
import {
  type AnalyserOutcome,
  type BatchOutcome,
  DEFAULT_STATE,
  type Note,
  type Outcome,
  type StateChange,
} from './outcome.ts';
import type { OutstandingScan } from './outstanding.ts';
import type { Science } from './science.ts';
import type { ChamberEvent } from './standing.ts';

/** Longest stretch of mathematics before timers, signals and the queue get their turn. */
const LONGEST_STRETCH_MS = 50;
/** What is carried from scan to scan of one analyser. */
interface Track {
  watch: WatchState;
  state: { state: string; since: Date } | null;
  untold: boolean;
  judged: boolean;
  first: Outcome | null;
  newest: Outcome | null;
  lastStep: WatchStep | null;
  readonly states: Set<string>;
}

interface Run {
  readonly context: ChamberContext;
  readonly science: Science;
  readonly tracks: Map<string, Track>;
  readonly events: { analyser: string; event: ChamberEvent }[];
  readonly stateChanges: StateChange[];
  readonly told: { alert: string; analyser: string }[];
}

const NEVER_JUDGED: WatchState = { memory: null, instrument: null, judgedToMs: Number.NEGATIVE_INFINITY, version: 0 };
const reason = (error: unknown): string => (error instanceof Error ? error.message : String(error));

const trackOf = (run: Run, analyser: string): Track => {
  const known = run.tracks.get(analyser);
  if (known) return known;
  const track: Track = {
    watch: run.context.watches.get(analyser) ?? NEVER_JUDGED,
    state: null,
    untold: true,
    judged: false,
    first: null,
    newest: null,
    lastStep: null,
    states: new Set(),
  };
  run.tracks.set(analyser, track);
  return track;
};

/** The operating state of a scan: as reported with it, else as last reported before it. */
const settleState = (run: Run, work: OutstandingScan, late: boolean): { state: string; since: Date } => {
  const track = trackOf(run, work.analyser);
  const before = late ? work.before : (track.state ?? work.before);
  const state = work.reportedState ?? before?.state ?? DEFAULT_STATE;
  const settled = before?.state === state ? before : { state, since: work.at };
  if (late) return settled;
  track.state = settled;
  if (before?.state !== state) {
    const { analyser, at } = work;
    run.stateChanges.push({ analyser, at, state });
    run.events.push({ analyser, event: { kind: 'state', atMs: at.getTime(), state } });
  }
  return settled;
};

type JudgedInput = WatchInput & { readonly calibration: Calibration; readonly instrument: InstrumentMemory };

/**
 * Pushes one analysed scan through the watch of its analyser. What the scan told of the analyser itself is kept only
 * together with what it told the watch, so that batches of any size remember the same.
 * @returns what the watch notes of its judging
 */
const judge = (run: Run, track: Track, input: JudgedInput): readonly Note[] => {
  const { context } = run;
  const { calibration, scan } = input;
  const { analyser, atMs } = scan;
  const closes = track.untold ? context.untoldCloses.filter(({ heldBy }) => heldBy.includes(analyser)) : [];
  const closedByPerson = closes.map(({ signature }) => signature);
  const asked = watchContextOf(context, { analyser, calibration, closedByPerson });
  const step = run.science.watchScan(track.watch.memory, asked, input);
  run.told.push(...closes.map(({ alert }) => ({ alert, analyser })));
  run.events.push(...step.events.map((event) => ({ analyser, event })));
  track.untold = false;
  track.judged = true;
  track.lastStep = step;
  track.states.add(step.state);
  track.watch = { ...track.watch, memory: step.memory, instrument: input.instrument, judgedToMs: atMs };
  return step.notes;
};

type CalibratedAnswer = Answer & { readonly calibration: Calibration };

/** Analysis of one scan, or the note that says why there is none: one bad scan never holds up the others. */
const analyse = (run: Run, work: OutstandingScan, state: string): CalibratedAnswer | Note => {
  const calibration = run.context.calibrationsOf.get(work.analyser)?.(work.at.getTime());
  if (!work.scan) return { code: 'analysis-failed', text: 'The stored scan is missing.' };
  if (!calibration) return { code: 'analysis-failed', text: 'The fleet does not know this analyser any more.' };
  try {
    const analyser = run.science.analyserFor(calibration, run.context.chamber.gases);
    const { instrument } = trackOf(run, work.analyser).watch;
    return { calibration, ...analyser.analyse({ ...work.scan, state }, instrument) };
  } catch (error) {
    return { code: 'analysis-failed', text: `The analysis of this scan failed: ${reason(error)}` };
  }
};

const workThrough = (run: Run, work: OutstandingScan): Outcome => {
  const track = trackOf(run, work.analyser);
  const late = work.at.getTime() <= track.watch.judgedToMs;
  const { state, since } = settleState(run, work, late);
  const answer = analyse(run, work, state);
  const analysed = 'analysis' in answer;
  const notes: Note[] = analysed ? [...answer.analysis.notes] : [answer];
  let judged = false;
  if (analysed && work.scan && !late) {
    try {
      notes.push(...judge(run, track, { scan: { ...work.scan, state }, ...answer }));
      judged = true;
    } catch (error) {
      notes.push({ code: 'watch-failed', text: `This scan moved no alert: the watch failed: ${reason(error)}` });
    }
  }
  const outcome: Outcome = {
    work,
    state,
    stateSince: since,
    analysis: analysed ? answer.analysis : null,
    notes,
    judged,
    calibrationVersion: run.context.calibrationsOf.get(work.analyser)?.(work.at.getTime()).version ?? '',
    catalogueVersion: run.science.catalogueVersion,
  };
  if (!late) {
    track.first ??= outcome;
    track.newest = outcome;
  }
  return outcome;
};

const conclude = (run: Run, analyser: string, track: Track): AnalyserOutcome => {
  const { memory, instrument, judgedToMs, version } = track.watch;
  const judged = track.judged && memory !== null;
  return {
    analyser,
    first: track.first,
    newest: track.newest,
    lastStep: track.lastStep,
    watch: judged ? { memory, instrument, judgedToMs, readVersion: version } : null,
    instrument: judged ? run.science.instrumentView(instrument) : null,
    courses: judged ? run.science.coursesView(memory) : null,
    baselines: judged ? run.science.baselines(memory).filter((view) => track.states.has(view.state)) : [],
  };
};

/** @param works in time order */
export const calculate = async (
  works: readonly OutstandingScan[],
  context: ChamberContext,
  science: Science,
): Promise<BatchOutcome> => {
  const run: Run = { context, science, tracks: new Map(), events: [], stateChanges: [], told: [] };
  const outcomes: Outcome[] = [];
  let stretchBegan = performance.now();
  for (const work of works) {
    outcomes.push(workThrough(run, work));
    if (performance.now() - stretchBegan > LONGEST_STRETCH_MS) {
      await breathe();
      stretchBegan = performance.now();
    }
  }
  const analysers = [...run.tracks].map(([analyser, track]) => conclude(run, analyser, track));
  return { outcomes, analysers, events: run.events, stateChanges: run.stateChanges, told: run.told };
};
