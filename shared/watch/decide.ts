/** A lane has called: name the change, and raise it if the name is good enough and there is enough of it. */
import type { Signature } from '../contract/words.ts';
import { isMostlyOwn } from './analyserOwn.ts';
import type { ArgonVerdict } from './argon.ts';
import { totalOfMean } from './baseline.ts';
import { explainedByStanding, leftShare, shapeSeen, tolerances } from './explained.ts';
import { judge } from './finding.ts';
import { type Frame, recentMean } from './frame.ts';
import { partialsAboveTotal } from './impossible.ts';
import type { Exceedance, LaneSpectra } from './lanes.ts';
import { type Candidate, isInstrument, type Naming, nameChange } from './naming.ts';
import { type Lane, VAPOUR_SIGNATURES } from './nullModel.ts';
import { CLEAR_AIR_EVIDENCE, CLEAR_LEAD, LEAST_EVIDENCE, ON_DELAY, WAIT_SCANS } from './parameters.ts';
import { raise, stands } from './standing.ts';
import { isOwn, leastAmplitude } from './triggers.ts';
import type { WatchEvent } from './types.ts';

/** A cause that leaves more than a third of what came in, or asks for as much that is not there, is no explanation. */
const POOR_SHARE = 0.35;
const NEAR_BAND = 0.8;
/** Naming costs milliseconds: what did not convince is looked at again after 1, 2, 3 … scans. */
const LONGEST_PAUSE = 10;

export interface Call {
  /** Null: a new peak that no direction covers. */
  readonly exceedance: Exceedance | null;
  readonly spectra: LaneSpectra;
  readonly argon: ArgonVerdict;
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
  const naming = nameChange(frame, change, lane, call.exceedance?.trigger.instrument ?? false);
  const [best] = naming.candidates;
  if (!best || !convinces(frame, { call, naming, best, scans: pending.scans })) return [];
  const named = explaining(frame, change, naming, call);
  const unknown = named === null;
  if (named ? !isVisible(frame, change, named) || isFarFetched(frame, named) : !hasPeaks(frame, change)) return [];
  const candidate = named ?? best;
  const cause = unknown ? 'unknown' : candidate.cause.id;
  if (isCompany(frame, unknown ? 'unexplained-peaks' : candidate.cause.signature)) return [];
  const signature = unknown ? 'unexplained-peaks' : signatureOf(frame, candidate);
  if (signature === null || memory.standing.some((standing) => standing.cause === cause)) return [];
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
    leastAmplitude: unknown ? NEAR_BAND : leastOf(frame, candidate),
  };
  return [raise(memory, frame.atMs, condition)];
}

function changeOfLane(frame: Frame, { exceedance, spectra }: Call, lane: Lane): Float64Array | null {
  if (lane === 'mean') return spectra.mean;
  if (lane === 'day') return spectra.day;
  return exceedance && exceedance.scans < ON_DELAY ? recentMean(frame, 2) : frame.middle;
}

const leastOf = (frame: Frame, { cause, direction }: Candidate): number =>
  leastAmplitude(cause, direction, frame.baseline, totalOfMean(frame.baseline));

interface Conviction {
  readonly call: Call;
  readonly naming: Naming;
  readonly best: Candidate;
  readonly scans: number;
}

/** Of what a cause adds, the share that must stand out of the spectrum itself; the nitrogen of air may hide in a tail. */
const VISIBLE_SHARE = { most: 0.3, airInTail: 0.08 } as const;

/** What goes on while a vapour stands is mostly more of it: another vapour or something unknown is not called beside it. */
const isCompany = ({ memory, reference }: Frame, signature: string): boolean =>
  (signature === 'unexplained-peaks' || VAPOUR_SIGNATURES.has(signature)) &&
  (memory.standing.some((standing) => VAPOUR_SIGNATURES.has(standing.signature)) ||
    (signature === 'unexplained-peaks' && reference.tail !== null));

/** A gas that nobody has named is not looked for among the remains of a pump-down. */
const isFarFetched = ({ reference }: Frame, { cause }: Candidate): boolean =>
  reference.tail !== null && !isOwn(cause) && cause.triggers.length === 0;

/** A cause is not raised on what the model allows it, but on what is seen of it. */
function isVisible({ reference }: Frame, change: Float64Array, best: Candidate): boolean {
  if (isInstrument(best)) return true;
  let asked = 0;
  let seen = 0;
  for (let m = 1; m < change.length; m++) {
    const part = Math.max(0, best.amplitude * best.direction[m]!);
    asked += part;
    seen += Math.min(part, Math.max(0, change[m]!));
  }
  const share = reference.tail && best.cause.id === 'air' ? VISIBLE_SHARE.airInTail : VISIBLE_SHARE.most;
  return seen >= share * asked;
}

/** Seen from one height per mass only, a slid mass scale resembles too much: it is raised when clear of the rest. */
const NEVER_OPEN: ReadonlySet<string> = new Set(['mass-shift']);

function convinces(frame: Frame, { call, naming, best, scans }: Conviction): boolean {
  const evidence = best.score - naming.nothing;
  const lane = call.exceedance?.lane ?? 'scan';
  if (evidence < (frame.reference.tail ? 2 : 1) * LEAST_EVIDENCE) return false;
  const newPeak = call.exceedance === null;
  if (!newPeak && best.amplitude < NEAR_BAND * leastOf(frame, best)) return false;
  if (best.cause.id === 'He' && frame.state === 'leak-check') return false;
  // A tail that falls a little faster than foreseen takes something off every peak, as a slid mass scale does.
  if (best.cause.id === 'mass-shift' && frame.memory.settling) return false;
  if (best.cause.id === 'Ar' && lane !== 'day' && !call.argon.line) return false;
  const rival = naming.candidates.find(({ cause }) => cause.signature !== best.cause.signature);
  const lead = rival ? best.score - rival.score : Number.POSITIVE_INFINITY;
  const clearAir = best.cause.id === 'air' && evidence > CLEAR_AIR_EVIDENCE;
  // In a tail, or under a fault that stands, much moves: what blames the instrument must be beyond doubt.
  const moving = frame.reference.tail !== null || frame.memory.standing.some(({ direction }) => direction !== null);
  if (moving && isInstrument(best)) return lead >= 4 * CLEAR_LEAD;
  return lead >= CLEAR_LEAD || clearAir || (scans > WAIT_SCANS && !NEVER_OPEN.has(best.cause.id));
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
  const second = nameChange(frame, rest, call.exceedance?.lane ?? 'scan').candidates[0];
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
