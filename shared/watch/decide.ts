/** A lane has called: name the change, and raise it if the name is good enough and there is enough of it. */
import type { Signature } from '../contract/words.ts';
import type { ArgonVerdict } from './argon.ts';
import { totalOfMean } from './baseline.ts';
import { judge, OUTSTANDING_SIGMA } from './finding.ts';
import { type Frame, recentMean } from './frame.ts';
import { partialsAboveTotal } from './impossible.ts';
import type { Exceedance, LaneSpectra } from './lanes.ts';
import { type Candidate, type Naming, nameChange } from './naming.ts';
import type { Lane } from './nullModel.ts';
import { CLEAR_AIR_EVIDENCE, CLEAR_LEAD, LEAST_EVIDENCE, ON_DELAY, WAIT_SCANS } from './parameters.ts';
import { raise, stands } from './standing.ts';
import { isOwn, leastAmplitude } from './triggers.ts';
import type { WatchEvent } from './types.ts';

/** A cause that leaves more than a third of what came in, or asks for as much that is not there, is no explanation. */
const POOR_SHARE = 0.35;
/** What a peak may differ from its pattern (two sigma of 30 %), and its noise. */
const PEAK_TOLERANCE = 0.6;
const NOISE_TOLERANCE = 4;
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
  const known = explainedByStanding(frame);
  const change = known ? all.map((value, m) => value - known[m]!) : all;
  const naming = nameChange(frame, change, lane, call.exceedance?.trigger.instrument ?? false);
  const [best] = naming.candidates;
  if (!best || !convinces(frame, call, naming, best, pending.scans)) return [];
  const named = explaining(frame, change, naming, lane);
  const unknown = named === null;
  if (unknown && !hasPeaks(frame, change)) return [];
  const candidate = named ?? best;
  const signature = unknown ? 'unexplained-peaks' : signatureOf(frame, candidate);
  if (signature === null) return [];
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
  const condition = {
    signature,
    cause: unknown ? 'unknown' : candidate.cause.id,
    gases,
    priority,
    finding,
    lane,
    direction: unknown ? change : candidate.direction,
    observed: change,
    amplitude: unknown ? 1 : candidate.amplitude,
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

function convinces(frame: Frame, call: Call, naming: Naming, best: Candidate, scans: number): boolean {
  const evidence = best.score - naming.nothing;
  const lane = call.exceedance?.lane ?? 'scan';
  if (evidence < LEAST_EVIDENCE) return false;
  const newPeak = call.exceedance === null;
  if (!newPeak && best.amplitude < NEAR_BAND * leastOf(frame, best)) return false;
  if (best.cause.id === 'He' && frame.state === 'leak-check') return false;
  if (best.cause.id === 'Ar' && lane !== 'day' && !call.argon.line) return false;
  const rival = naming.candidates.find(({ cause }) => cause.signature !== best.cause.signature);
  const lead = rival ? best.score - rival.score : Number.POSITIVE_INFINITY;
  const clearAir = best.cause.id === 'air' && evidence > CLEAR_AIR_EVIDENCE;
  return lead >= CLEAR_LEAD || clearAir || scans > WAIT_SCANS;
}

/** What open alerts stand for already; null when none does. */
function explainedByStanding({ memory, q, state }: Frame): Float64Array | null {
  let known: Float64Array | null = null;
  for (const { direction, amplitude, state: raisedIn } of memory.standing) {
    if (!direction || raisedIn !== state || direction.length !== q.length) continue;
    known ??= new Float64Array(q.length);
    for (let m = 0; m < q.length; m++) known[m]! += Math.max(0, amplitude) * direction[m]!;
  }
  return known;
}

/** Share of the change that a cause leaves unexplained or over-explains, beyond noise and the error of patterns. */
function leftShare(frame: Frame, change: Float64Array, explained: Float64Array): number {
  const { baseline, reference } = frame;
  const known = explainedByStanding(frame);
  let left = 0;
  let all = 0;
  for (let m = 1; m < change.length; m++) {
    const noise =
      NOISE_TOLERANCE * Math.sqrt(baseline.variance[m]!) +
      0.05 * Math.abs(reference.spectrum[m]!) +
      Math.max(0, reference.tail?.[m] ?? 0) +
      PEAK_TOLERANCE * Math.abs(known?.[m] ?? 0);
    all += Math.max(0, Math.abs(change[m]!) - noise);
    left += Math.max(0, Math.abs(change[m]! - explained[m]!) - noise - PEAK_TOLERANCE * Math.abs(explained[m]!));
  }
  return all > 0 ? left / all : 0;
}

/** How many of the best are asked whether they explain the change at all. */
const ASKED = 4;

/**
 * The best cause that accounts for what came in. When the best of all leaves too much, it may be one of two causes
 * that came together; otherwise the next one that leaves little is taken, and null says that none does.
 */
function explaining(frame: Frame, change: Float64Array, { candidates }: Naming, lane: Lane): Candidate | null {
  const best = candidates[0]!;
  // Pumps and instruments are judged by proportion: ions of the ioniser take no part in either.
  if (isOwn(best.cause)) return best;
  const share = (candidate: Candidate) => leftShare(frame, change, part(candidate));
  if (share(best) <= POOR_SHARE) return best;
  const first = part(best);
  const rest = change.map((value, m) => value - first[m]!);
  const second = nameChange(frame, rest, lane).candidates[0];
  if (second && !isOwn(second.cause)) {
    const other = part(second);
    const both = first.map((value, m) => value + other[m]!);
    if (leftShare(frame, change, both) <= POOR_SHARE) return best;
  }
  return candidates.slice(1, ASKED).find((candidate) => share(candidate) <= POOR_SHARE) ?? null;
}

const part = ({ direction, amplitude }: Candidate): Float64Array => direction.map((value) => value * amplitude);

/** Something stands out that can be pointed at. */
const hasPeaks = ({ baseline }: Frame, change: Float64Array): boolean =>
  baseline.variance.some((variance, m) => m > 0 && change[m]! > OUTSTANDING_SIGMA * Math.sqrt(variance));

/** Null: said already by another alert. */
function signatureOf({ memory, input }: Frame, { cause }: Candidate): Signature | null {
  const { id, signature } = cause;
  if (id !== 'gain-up' && id !== 'gauge-down') return signature;
  if (stands(memory, 'impossible-pressure')) return null;
  if (partialsAboveTotal(input.analysis.kappa)) return 'impossible-pressure';
  return 'sensitivity-drift';
}
