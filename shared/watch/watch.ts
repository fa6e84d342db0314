/**
 * One scan through the watch: what is remembered and a scan go in, what is remembered and what happened come out.
 *
 * Order (it avoids confusions): is the data fit? → does the state arm the watch? → is there a baseline? → is the
 * chamber settling? → what changed, and what is its name? → what stands, what is over? → learn, if it was quiet.
 *
 * Pure and deterministic: the same scans in any batching give the same events, also when the memory goes through JSON
 * in between. A scan not newer than the newest one judged moves nothing.
 */

import { isDue, isReady, learnFirst, scansNeeded } from './baseline.ts';
import { fits, isMeasured } from './channels.ts';
import { judgeCourses } from './courses.ts';
import { dataFaults } from './dataFaults.ts';
import { trimmed, trimOf } from './detectorBook.ts';
import { onDetector } from './detectors.ts';
import { doubtfulScatter, noteDoubt } from './doubt.ts';
import { followDropOuts } from './dropOuts.ts';
import { rememberEstimates } from './estimates.ts';
import { followGainStep } from './gainStep.ts';
import { driftStrip, learnGases, viewsOf } from './gasBaseline.ts';
import { noteHelium } from './heliumCheck.ts';
import { isWithoutScale, judgeImpossible, learnKappa } from './impossible.ts';
import { judgeSpectrum } from './judge.ts';
import { learnGain } from './learnGain.ts';
import { judgeLimits } from './limits.ts';
import { followMassScale } from './massScale.ts';
import { type Baseline, draftOf, emptyMemory, type Memory, sealed } from './memory.ts';
import { HOUR, ON_DELAY } from './parameters.ts';
import { adoptPins } from './pinAdoption.ts';
import { followCalibration } from './recalibration.ts';
import { tellRecipe } from './recipes.ts';
import { isBorrowed, recogniseState } from './recognise.ts';
import { fittingBaseline, type Note, noteYoung } from './relearn.ts';
import { governed } from './rules.ts';
import { scanChannels } from './scanChannels.ts';
import { followSetting, noteFirst, startNoise } from './scanNoise.ts';
import { followTail, isUnseenTail, startSettling } from './settling.ts';
import { forget } from './standing.ts';
import { ARMED_STATES, LIMIT_STATES, SHORT_STATES } from './states.ts';
import { advanceClock, changeState, followTemperature, isEarly } from './timeline.ts';
import type { BaselineView, WatchContext, WatchEvent, WatchInput, WatchMemory, WatchStep } from './types.ts';
import { rememberVisit } from './visits.ts';
import { followWarmUp } from './warmUp.ts';

export function watchScan(memory: WatchMemory | null, context: WatchContext, input: WatchInput): WatchStep {
  const { scan, analysis } = input;
  const m = draftOf(memory) ?? emptyMemory(context.calibration.version, scan.state, scan.atMs);
  if (m.lastAtMs !== null && scan.atMs <= m.lastAtMs) return stepOf(m, input, [], []);
  forget(m, context.closedByPerson);
  const notes: Note[] = [];
  followCalibration({ memory: m, context, input, notes });
  adoptPins({ memory: m, context, input, notes });
  const gapSeconds = advanceClock(m, scan.atMs);
  changeState(m, recogniseState({ memory: m, context, input, notes }), scan.atMs);
  followTemperature(m, scan.temperatureC, gapSeconds);
  rememberEstimates(m, analysis.gases, scan.atMs);
  m.scans++;
  const events = governed(m, context, judgeScan({ memory: m, context, input, gapSeconds, notes }));
  m.lastAtMs = scan.atMs;
  return stepOf(m, input, events, notes);
}

/** What is usual in each state that this memory has learned; empty for a memory of another format. */
export function baselineViews(memory: WatchMemory): readonly BaselineView[] {
  const known = draftOf(memory);
  return known ? viewsOf(known) : [];
}

interface Step {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
  /** Since the scan before; 0 for the first. */
  readonly gapSeconds: number;
  readonly notes: Note[];
}

function judgeScan(step: Step): WatchEvent[] {
  const { memory, context, input } = step;
  const { scan, peaks, analysis } = input;
  const events: WatchEvent[] = [];
  const baseline = memory.baselines[memory.state];
  const { unfit, doubt, events: faults } = dataFaults(step, baseline);
  noteDoubt(step.notes, doubt);
  events.push(...faults);
  if (unfit || !isMeasured(peaks)) return events;
  events.push(...followDropOuts(memory, input));
  const { events: slid, doubtful } = followMassScale(memory, input, Math.min(step.gapSeconds, HOUR));
  events.push(...slid);
  if (doubtful) return events;
  const early = isEarly(memory, scan.atMs);
  if (ARMED_STATES.has(memory.state)) {
    events.push(...judgeArmed(step, early));
    // A state may begin, and gas come in, between noisy scans: what was seen of them holds until others are judged.
    noteDoubt(step.notes, doubtfulScatter(memory.quality.scatter));
  } else memory.quality.lastTwo = [];
  // Last, so that a cause which has just been named speaks for the sum that it moved.
  if (LIMIT_STATES.has(memory.state) && !early) {
    events.push(...judgeImpossible(memory, analysis, scan.atMs));
    if (peaks.scaled && !isWithoutScale(memory)) {
      events.push(...judgeLimits(memory, context, analysis.gases, scan.atMs));
    }
  }
  noteHelium(memory, step.notes);
  events.push(...judgeCourses(step));
  return events;
}

function judgeArmed(step: Step, early: boolean): WatchEvent[] {
  const { memory, input } = step;
  const { scan, analysis } = input;
  if (!tellRecipe(step)) {
    rememberVisitOnBase(step);
    return [];
  }
  const current = fittingBaseline(step, memory.baselines[memory.state]);
  if (!current) return [];
  const shown = channelsOf(step, current.masses);
  if (SHORT_STATES.has(memory.state)) rememberVisitOnBase(step);
  if (!isReady(current)) {
    if (isBorrowed(memory)) return [];
    learnGain({ ...step, baseline: current, q: shown });
    // What was let in, or a pump-down, ends in a tail: what is usual is not learned from its beginning.
    if (early && memory.state === 'base') return [];
    learnGases(current, analysis.gases, scan.atMs);
    learnKappa(memory, analysis.kappa);
    learnFirstOf(step, current, shown);
    return [];
  }
  const { q, seen } = onDetector({ ...step, baseline: current, q: shown });
  followSetting(current, input, step.gapSeconds);
  const measured = analysis.measurement?.gain?.from === 'pair';
  const events = followGainStep(memory, scan.atMs, { seen, measured });
  followWarmUp({ ...step, baseline: current, q, atMs: scan.atMs });
  if (early) {
    waitForState(step, current, q);
    return events;
  }
  if (isUnseenTail(memory, scan.atMs)) followFirstTail(step, current, q);
  events.push(...judgeSpectrum({ ...step, baseline: current, q }));
  return events;
}

function learnFirstOf({ memory, input, notes }: Step, baseline: Baseline, shown: Float64Array): void {
  const { scan, peaks } = input;
  const need = scansNeeded(memory.state);
  if (!isDue(baseline, need, scan.atMs)) return;
  noteFirst(baseline, input);
  if (!learnFirst(baseline, shown, need, peaks.readNoisePa)) return;
  startNoise(baseline);
  baseline.temperatureC = memory.temperatureC;
  noteYoung(memory, scan.atMs, notes);
}

const channelsOf = ({ context, input }: Step, masses: Baseline['masses']): Float64Array =>
  scanChannels(context.calibration, input, masses);

/** The first scans after a state: only the tail is followed. */
function waitForState(step: Step, baseline: Baseline, q: Float64Array): void {
  const { memory } = step;
  memory.quality.lastTwo = [];
  if (memory.state !== 'base') return;
  // What was let in falls fast at first: what is granted a tail is told at the end of the wait.
  if (memory.settling?.short) memory.settling = null;
  followFirstTail(step, baseline, q);
}

function followFirstTail({ memory, input, gapSeconds }: Step, baseline: Baseline, q: Float64Array): void {
  const { atMs } = input.scan;
  const start = memory.settling ?? startSettling(memory, baseline, { q, atMs, forceShort: false });
  memory.settling = followTail(start, q, gapSeconds, baseline, atMs);
}

/** What the short state lets in is seen against the spectrum of base. */
function rememberVisitOnBase(step: Step): void {
  const { memory, input } = step;
  const base = memory.baselines.base;
  if (!isReady(base) || !fits(input.peaks, base.masses)) return;
  const q = trimmed(channelsOf(step, base.masses), trimOf(base, input.scan.detector));
  rememberVisit(memory, q, base.masses);
}

function stepOf(
  memory: Memory,
  { analysis }: WatchInput,
  events: readonly WatchEvent[],
  notes: readonly Note[],
): WatchStep {
  const baseline = memory.baselines[memory.state];
  const armed = ARMED_STATES.has(memory.state);
  const need = scansNeeded(memory.state);
  // Scans that do not fit what was learned are not judged: that is not rest.
  const strange = (baseline?.misfits ?? 0) >= ON_DELAY;
  const learning = armed && (strange || !isReady(baseline)) ? { have: baseline?.first?.length ?? 0, need } : null;
  return {
    memory: sealed(memory),
    events,
    strip: driftStrip(isReady(baseline) ? baseline : undefined, analysis.gases),
    learning,
    state: memory.state,
    stateSinceMs: memory.stateSinceMs,
    periodSeconds: memory.periodSeconds,
    notes,
  };
}
