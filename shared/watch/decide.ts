/** A lane has called: name the change, and raise it if the name is good enough and there is enough of it. */
import type { Signature } from '../contract/words.ts';
import { isMostlyOwn } from './analyserOwn.ts';
import type { ArgonVerdict } from './argon.ts';
import { type Step, stepSince } from './calm.ts';
import {
  bandShare,
  convinces,
  isCompany,
  isFarFetched,
  isVisible,
  leastOf,
  NEAR_BAND,
  waitsForLine,
} from './conviction.ts';
import { explainedByStanding, leftShare, POOR_SHARE, shapeSeen, tolerances } from './explained.ts';
import { judge } from './finding.ts';
import { type Frame, recentMean } from './frame.ts';
import { partialsAboveTotal } from './impossible.ts';
import type { Exceedance, LaneSpectra } from './lanes.ts';
import { type Candidate, isInstrument, type Naming, nameChange } from './naming.ts';
import type { Lane } from './nullModel.ts';
import { ON_DELAY } from './parameters.ts';
import { groundOf, nameBest } from './ranking.ts';
import { isArmed, onDelayScans, widened } from './rules.ts';
import { raise, stands } from './standing.ts';
import { surfaceIonsAlone } from './surfaceIons.ts';
import { isOwn } from './triggers.ts';
import type { WatchEvent } from './types.ts';

/** Naming costs milliseconds: what did not convince is looked at again after 1, 2, 3 … scans. */
const LONGEST_PAUSE = 10;

export interface Call {
  /** Null: a new peak that no direction covers. */
  readonly exceedance: Exceedance | null;
  readonly spectra: LaneSpectra;
  readonly argon: ArgonVerdict;
  /** Not a lane but a step has called (stepLane.ts). */
  readonly byStep?: boolean;
}

export function decide(frame: Frame, call: Call): WatchEvent[] {
  const { memory } = frame;
  const pending = memory.track.pending ?? { scans: 0, tries: 0, next: memory.scans };
  pending.scans++;
  memory.track.pending = pending;
  if (memory.scans < pending.next) return [];
  pending.tries++;
  pending.next = memory.scans + Math.min(pending.tries, LONGEST_PAUSE);
  const lane = call.exceedance?.lane ?? 'scan';
  const all = changeOfLane(frame, call, lane);
  if (!all) return [];
  // An average still holds what is just going away.
  if (lane !== 'scan' && memory.standing.some(({ below }) => below > 0)) return [];
  const known = explainedByStanding(frame);
  const change = known ? all.map((value, m) => value - known[m]!) : all;
  const naming = nameBest(frame, {
    change,
    lane,
    fall: call.exceedance?.trigger.instrument ?? false,
    step: stepOf(frame, all, lane),
    byStep: call.byStep ?? false,
  });
  const [best] = naming.candidates;
  if (!best || !convinces(frame, { call, naming, best, scans: pending.scans })) return [];
  // Nobody is called for them: the page of the analyser shows what its surfaces give off.
  if (surfaceIonsAlone(frame, change)) return [];
  const named = explaining(frame, change, naming, call);
  if (named && waitsForLine(call, named)) return [];
  if (named ? !isVisible(frame, change, named, call) || isFarFetched(frame, named) : !hasPeaks(frame, change))
    return [];
  return raiseNamed(frame, { call, naming, candidate: named ?? best, unknown: named === null, change, lane });
}

/** What a step can hold of breathing is asked when it is first named: waiting for a clearer name makes it no older. */
function stepOf(frame: Frame, all: Float64Array, lane: Lane): Step | null {
  const { memory, reference } = frame;
  const step = lane === 'day' || reference.tail ? null : stepSince(memory.calm.before, all, frame);
  const { pending } = memory.track;
  if (!step || !pending) return step;
  pending.breathing ??= step.breathing;
  return { ...step, breathing: pending.breathing };
}

interface Named {
  readonly call: Call;
  readonly naming: Naming;
  readonly candidate: Candidate;
  /** Nothing explains it: the best candidate is told as an alternative alone. */
  readonly unknown: boolean;
  readonly change: Float64Array;
  readonly lane: Lane;
}

function raiseNamed(frame: Frame, { call, naming, candidate, unknown, change, lane }: Named): WatchEvent[] {
  const { memory, context } = frame;
  const cause = unknown ? 'unknown' : candidate.cause.id;
  // Scatter that is just growing makes peaks of its own, and so does a single value: both are judged within some scans.
  if (unknown && (memory.quality.noisy > 0 || (call.exceedance?.scans ?? ON_DELAY) < ON_DELAY)) return [];
  if (isCompany(frame, unknown ? 'unexplained-peaks' : candidate.cause.signature)) return [];
  const signature = unknown ? 'unexplained-peaks' : signatureOf(frame, candidate);
  if (signature === null || memory.standing.some((standing) => standing.cause === cause)) return [];
  const leastAmplitude = unknown ? NEAR_BAND : leastOfLane(frame, candidate, { signature, lane });
  if (!unknown && candidate.amplitude < NEAR_BAND * leastAmplitude && call.exceedance) return [];
  if (!isArmed(context, signature, frame.state) || waitsForRule(frame, call, signature)) return [];
  const gases = unknown ? [] : [...(candidate.variant.gases ?? candidate.cause.gases)];
  const { finding, priority } = judge({
    frame,
    naming,
    candidate,
    signature,
    gases,
    change,
    lane,
    growing: false,
  });
  const seen = unknown
    ? { direction: change, amplitude: 1 }
    : { direction: candidate.direction, amplitude: candidate.amplitude };
  const condition = {
    signature,
    cause,
    gases,
    priority,
    finding,
    lane,
    ...seen,
    observed: shapeSeen(frame, change, seen),
    before: lane === 'day' ? null : memory.calm.before,
    leastAmplitude,
  };
  return [raise(memory, frame.atMs, condition)];
}

/** Least amplitude that is raised, over NEAR_BAND; a band that people have asked for holds in every lane. */
function leastOfLane(
  frame: Frame,
  candidate: Candidate,
  { signature, lane }: { readonly signature: Signature; readonly lane: Lane },
): number {
  const least = leastOf(frame, candidate);
  const asked = widened(frame.context, signature, { least, instrument: isInstrument(candidate) });
  return asked > least ? asked : (bandShare(frame, lane, candidate) / NEAR_BAND) * least;
}

/** People have asked for a longer on-delay: it is looked at again when that is over. */
function waitsForRule({ memory, context }: Frame, { exceedance }: Call, signature: Signature): boolean {
  const missing = onDelayScans(context, signature) - (exceedance?.scans ?? memory.track.peak.scans);
  if (missing <= 0) return false;
  if (memory.track.pending) memory.track.pending.next = memory.scans + missing;
  return true;
}

function changeOfLane(frame: Frame, { exceedance, spectra }: Call, lane: Lane): Float64Array | null {
  if (lane === 'mean') return spectra.mean;
  if (lane === 'day') return spectra.day;
  return exceedance && exceedance.scans < ON_DELAY ? recentMean(frame, Math.min(2, exceedance.scans)) : frame.middle;
}

/** How many of the best are asked whether they explain the change at all. */
const ASKED = 4;

/**
 * The best cause that accounts for what came in. When the best of all leaves too much, it may be one of two causes
 * that came together; otherwise the next one that leaves little is taken, and null says that none does.
 */
function explaining(frame: Frame, change: Float64Array, { candidates }: Naming, call: Call): Candidate | null {
  const best = candidates[0]!;
  // What makes everything move is judged by proportion: surface ions and the foot take no part in it.
  if (isOwn(best.cause) && (call.exceedance?.trigger.instrument || !best.cause.instrument)) return best;
  const tolerance = tolerances(frame);
  const share = (candidate: Candidate) => leftShare(change, part(candidate), tolerance);
  if (share(best) <= POOR_SHARE) return best;
  const first = part(best);
  const rest = change.map((value, m) => value - first[m]!);
  const second = nameChange(groundOf(frame), rest, { lane: call.exceedance?.lane ?? 'scan' }).candidates[0];
  if (second && !isOwn(second.cause)) {
    const other = part(second);
    const both = first.map((value, m) => value + other[m]!);
    if (leftShare(change, both, tolerance) <= POOR_SHARE) return isOwn(best.cause) ? second : best;
  }
  const others = candidates.slice(1, ASKED).filter((candidate) => !isInstrument(candidate));
  return others.find((candidate) => share(candidate) <= POOR_SHARE) ?? null;
}

const part = ({ direction, amplitude }: Candidate): Float64Array => direction.map((value) => value * amplitude);

/** Something stands out that can be pointed at: beyond noise, what stands already, and the foot at m/z 1. */
function hasPeaks(frame: Frame, change: Float64Array): boolean {
  const tolerance = tolerances(frame);
  return change.some((value, m) => m > 0 && value > tolerance[m]!);
}

/** Null: said already by another alert. */
function signatureOf(frame: Frame, { cause, variant }: Candidate): Signature | null {
  const { memory, input } = frame;
  const { id, signature } = cause;
  if (!isOwn(cause) && isMostlyOwn(frame, variant.gases ?? cause.gases)) return 'analyser-outgassing';
  if (id !== 'gain-up' && id !== 'gauge-down') return signature;
  if (stands(memory, 'impossible-pressure')) return null;
  if (partialsAboveTotal(input.analysis.kappa)) return 'impossible-pressure';
  return 'sensitivity-drift';
}
