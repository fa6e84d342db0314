/** The spectrum of one fit scan, in an armed state, with a baseline: gaps and tails, then lanes, names, and learning. */
import { hasOutgrown } from './analyserOwn.ts';
import { burstEvents, followArgon } from './argon.ts';
import { follow, learnNoise, totalOfMean } from './baseline.ts';
import { dropBlock, followMaxima } from './blockMaxima.ts';
import { followCalm } from './calm.ts';
import type { Cause } from './cause.ts';
import { causesOf } from './causes.ts';
import { totalOf } from './channels.ts';
import { decide } from './decide.ts';
import { countQuiet } from './detectorBook.ts';
import { doubtfulScatter, noteDoubt } from './doubt.ts';
import { followFault, isAtRest } from './faults.ts';
import { type Frame, makeFrame } from './frame.ts';
import { learnGases } from './gasBaseline.ts';
import { learnKappa, looksImpossible } from './impossible.ts';
import { followKappa, KAPPA_CAUSE } from './kappaStep.ts';
import { advanceLanes, judgeLanes, type LaneVerdict } from './lanes.ts';
import type { Baseline, Memory, Vector } from './memory.ts';
import { newestScatter } from './newestScatter.ts';
import { followNewPeak } from './newPeak.ts';
import { meanShareOf } from './onDelay.ts';
import { HOUR, YOUNG_DAYS, YOUNG_QUIET_SIGMA } from './parameters.ts';
import { judgeScatter, lastChannels, secondDifference } from './quality.ts';
import { isBorrowed } from './recognise.ts';
import { referenceNow } from './reference.ts';
import type { Note } from './relearn.ts';
import { isHasty, varianceAt } from './scanNoise.ts';
import { followTail, startSettling } from './settling.ts';
import { end, followStanding } from './standing.ts';
import { GAS_STATES } from './states.ts';
import { judgeStep } from './stepLane.ts';
import { followShapes } from './trappedVolume.ts';
import { keysOf } from './triggers.ts';
import type { WatchContext, WatchEvent, WatchInput } from './types.ts';
import { updateStanding } from './update.ts';
import { learnTail } from './usualTail.ts';
import { followWaterBursts } from './waterBursts.ts';
import { learnWobble } from './wobble.ts';
import { number } from './wording.ts';

export interface SpectrumInput {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
  readonly baseline: Baseline;
  readonly q: Float64Array;
  readonly gapSeconds: number;
  readonly notes: Note[];
}

/** A gap longer than this may hide a state; a total higher than this after it is a pump-down nobody declared. */
const GAP_SECONDS = 1800;
const GAP_PERIODS = 5;
const AFTER_GAP_FACTOR = 1.6;
const causeCache = new WeakMap<Vector, { chamber: WatchContext['chamber']; causes: Cause[] }>();
/** The same by content, for a memory that has just been read. */
const causesByContent = new Map<string, Cause[]>();
const MOST_CONTENTS = 300;

/** The causes of a chamber on its mass list. They depend on nothing else, so they are kept: making them takes longer than a scan. */
function causesFor(context: WatchContext, masses: Vector): Cause[] {
  const known = causeCache.get(masses);
  if (known?.chamber === context.chamber) return known.causes;
  const { gases, pumpingSpeedLitresPerSecond } = context.chamber;
  const content = JSON.stringify([gases, pumpingSpeedLitresPerSecond, masses]);
  const causes = causesByContent.get(content) ?? causesOf(context, masses);
  if (causesByContent.size >= MOST_CONTENTS) causesByContent.clear();
  causesByContent.set(content, causes);
  causeCache.set(masses, { chamber: context.chamber, causes });
  return causes;
}

export function judgeSpectrum(step: SpectrumInput): WatchEvent[] {
  const { memory, input, baseline, q, gapSeconds } = step;
  const { scan } = input;
  const period = memory.periodSeconds ?? 60;
  if (settlesAfterGap(step, period)) return [];
  const contiguous = gapSeconds <= 2.5 * period;
  const events = noiseEvents(step, contiguous);
  if (memory.standing.some(({ cause }) => cause === 'noise')) return events;
  const seconds = Math.min(gapSeconds, HOUR);
  if (memory.settling) memory.settling = followTail(memory.settling, q, seconds, baseline, scan.atMs);
  const reference = referenceNow(memory, baseline, scan.atMs);
  const frame = makeFrame({
    memory,
    baseline,
    context: step.context,
    input,
    atMs: scan.atMs,
    seconds,
    periodSeconds: period,
    state: memory.state,
    q,
    reference,
    gasCauses: causesFor(step.context, baseline.masses),
  });
  const verdict = judgeFrame(frame, events);
  followReach(frame, verdict);
  learn(frame, verdict);
  return events;
}

function judgeFrame(frame: Frame, events: WatchEvent[]): LaneVerdict {
  const { memory, atMs } = frame;
  const spectra = advanceLanes(frame);
  const { moved, over } = followStanding(frame, spectra.day);
  moved.push(...followShapes(frame).filter((standing) => !moved.includes(standing)));
  if (over.size > 0) events.push(...end(memory, atMs, (standing) => over.has(standing)));
  events.push(...end(memory, atMs, (standing) => hasOutgrown(frame, standing)), ...updateStanding(frame, moved));
  const { triggers } = frame;
  const verdict = judgeLanes(frame, spectra, triggers);
  followCalm(frame, verdict.quiet && !isHasty(frame.baseline));
  const argon = followArgon(frame, triggers, verdict.whitened);
  events.push(...burstEvents(frame, argon, triggers), ...followKappa(frame), ...followWaterBursts(frame));
  const newPeak = followNewPeak(frame);
  const called = verdict.worst ?? judgeStep(frame, triggers, verdict.quiet);
  if (called || newPeak)
    events.push(...decide(frame, { exceedance: called, spectra, argon, byStep: called !== verdict.worst }));
  else memory.track.pending = null;
  return verdict;
}

/** True when this scan only opens a settling. A gap within a tail opens a new one; a pump-down goes on underneath. */
function settlesAfterGap({ memory, baseline, q, gapSeconds, input }: SpectrumInput, period: number): boolean {
  if (memory.state !== 'base' || gapSeconds <= Math.max(GAP_SECONDS, GAP_PERIODS * period)) return false;
  const high = totalOf(q) > AFTER_GAP_FACTOR * totalOfMean(baseline);
  const { settling } = memory;
  if (settling && !settling.short) {
    // The long tail expects this height: nothing new.
    if (high || !memory.gasSeen) return false;
    memory.carried = settling;
  } else if (settling) memory.carried = settling.under;
  // Where no gas is ever let in there is nothing that a gap could hide and a tail could come from.
  if (!high && !memory.gasSeen) return false;
  memory.settling = startSettling(memory, baseline, { q, atMs: input.scan.atMs, forceShort: !high });
  memory.track.mean = null;
  memory.quality.lastTwo = [];
  return true;
}

function noiseEvents({ memory, baseline, q, input, notes }: SpectrumInput, contiguous: boolean): WatchEvent[] {
  const last = contiguous ? lastChannels(memory, q.length) : null;
  const curve = contiguous ? secondDifference(memory, q, baseline) : null;
  if (contiguous) noteDoubt(notes, doubtfulScatter(newestScatter(memory, q, baseline, curve)));
  const { noisy, calm } = judgeScatter(memory, q, baseline, contiguous, curve);
  const { settling } = memory;
  if (last && !isFrozen(memory) && !noisy) {
    const falls = (m: number) =>
      settling !== null && settling.envelope[m]! > 1.05 * baseline.mean[m]! + Math.sqrt(baseline.variance[m]!);
    learnNoise(baseline, q, last, falls, varianceAt(baseline, memory.quality.lastSeconds?.at(-2)));
  }
  if (isAtRest(memory, noisy)) return [];
  const { scatter } = memory.quality;
  return followFault(memory, input.scan.atMs, {
    signature: 'noise',
    on: noisy,
    off: calm,
    summary: `The scatter from scan to scan has grown to ${number(Math.sqrt(scatter))} times the usual: small peaks cannot be seen. Nearly certain.`,
    evidence: [
      {
        name: 'Scatter from scan to scan against the usual',
        value: Math.sqrt(scatter),
        unit: '1',
        expected: 'below 2.2',
        expectedHigh: 2.2,
        verdict: 'too noisy to judge',
      },
    ],
  });
}

/** Nothing is learned while a condition stands that could move the baseline. */
export const isFrozen = (memory: Memory): boolean =>
  memory.standing.some(
    ({ cause, direction, held, signature }) =>
      !held &&
      (signature === 'impossible-pressure' ||
        cause === KAPPA_CAUSE ||
        (direction !== null && signature !== 'argon-bursts')),
  );

/** The highest values of quiet hours; what stands, settles or is called makes them no quiet ones. */
function followReach(
  { memory, baseline, reference, triggers, seconds, periodSeconds }: Frame,
  { meanZ, worst }: LaneVerdict,
): void {
  if (worst || isFrozen(memory)) baseline.maxima &&= dropBlock(baseline.maxima);
  else if (meanZ && !memory.settling && !reference.tail && !isBorrowed(memory)) {
    const meanShare = meanShareOf(periodSeconds);
    baseline.maxima = followMaxima(baseline.maxima, {
      keys: keysOf(triggers),
      z: meanZ,
      seconds,
      periodSeconds,
      meanShare,
    });
  }
}

function learn(frame: Frame, { quiet, worst, highest }: LaneVerdict): void {
  const { memory, baseline, state, q, deviation, reference, seconds, atMs, input } = frame;
  if (isFrozen(memory) || isBorrowed(memory) || worst || isHasty(baseline)) return;
  // What an ioniser gives off while it warms up, and what cannot be, is not the chamber.
  if (memory.overTime.warmUp || looksImpossible(memory, input.analysis)) return;
  if (state !== 'base' && memory.standing.length > 0 && !GAS_STATES.has(state)) return;
  const young = baseline.days < YOUNG_DAYS && highest < YOUNG_QUIET_SIGMA;
  if (!quiet && !young) return;
  const { lifted, spectra, spectrum, tail } = reference;
  if (quiet && tail && state === 'base')
    learnTail(memory, baseline, { q, usual: spectrum.map((value, m) => value - tail[m]!), atMs });
  learnWobbleOf(frame, spectra);
  const settling = memory.settling !== null || reference.tail !== null;
  follow(baseline, { q, deviation, atMs, seconds, lifted, settling });
  countQuiet(baseline, seconds);
  if (!settling) {
    learnGases(baseline, input.analysis.gases, atMs);
    learnKappa(memory, input.analysis.kappa);
  }
}

function learnWobbleOf(frame: Frame, spectra: Frame['reference']['spectra']): void {
  const { baseline, q, deviation, reference, seconds, state, memory } = frame;
  learnWobble(baseline, {
    q,
    deviation,
    spectra,
    lifted: reference.lifted,
    seconds,
    state,
    temperatureC: memory.temperatureC,
  });
}
