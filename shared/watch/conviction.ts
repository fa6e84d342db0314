/** Whether a name is good enough to be raised: evidence, amount, lead over the next, and that it is seen and not only allowed. */

import type { ArgonVerdict } from './argon.ts';
import { pinnedShare } from './dayLane.ts';
import type { Call } from './decide.ts';
import type { Frame } from './frame.ts';
import { isScaledByGauge } from './gaugeSaid.ts';
import { type Candidate, isInstrument, type Naming } from './naming.ts';
import { type Lane, VAPOUR_SIGNATURES } from './nullModel.ts';
import { CLEAR_AIR_EVIDENCE, CLEAR_LEAD, LEAST_EVIDENCE, WAIT_SCANS } from './parameters.ts';
import { backgroundTotal, isOwn, leastAmplitude } from './triggers.ts';
import { isHeld } from './warmUp.ts';

/** An amplitude this near the dead band is of it. */
export const NEAR_BAND = 0.8;
/**
 * What grows by a few per cent a week has been seen for days, and against a reference that does not move. What it adds to
 * is mostly usual: of air the background of nitrogen and argon (our choice).
 */
const DAY_BAND = 0.65;

/** Of the least amplitude that is worth a call, the share that this lane asks for. */
export const bandShare = (frame: Frame, lane: Lane, { direction }: Candidate): number =>
  lane === 'day' ? DAY_BAND * pinnedShare(frame, direction) : NEAR_BAND;

/** Least amplitude that is worth a call. */
export const leastOf = (frame: Frame, { cause, direction }: Candidate): number =>
  leastAmplitude(cause, direction, frame.baseline, backgroundTotal(frame.memory, frame.baseline));

/**
 * Of shares that follow a gauge no later scan can tell a gauge that reads high from a pump that takes less. But where the
 * highest peak has repeated to its last digit it may be at its stop, and all others only seem to rise.
 */
const BY_NOTHING: ReadonlySet<string> = new Set(['pumping', 'gain-up']);
const STOP_SUSPECTED = 2;
const isTied = (frame: Frame, best: Candidate, rival: Candidate | undefined): boolean =>
  isScaledByGauge(frame) &&
  frame.memory.quality.topRepeats < STOP_SUSPECTED &&
  rival !== undefined &&
  BY_NOTHING.has(best.cause.id) &&
  BY_NOTHING.has(rival.cause.id);

export interface Conviction {
  readonly call: Call;
  readonly naming: Naming;
  readonly best: Candidate;
  readonly scans: number;
}

/** Of what a cause adds, the share that must stand out of the spectrum itself; the nitrogen of air may hide in a tail. */
const VISIBLE_SHARE = { most: 0.3, airInTail: 0.08, airByPulses: 0.6 } as const;

/**
 * What goes on while a vapour stands is mostly more of it: another vapour or something unknown is not called beside it.
 * Nor is something unknown where each gas falls at its own pace, in a tail or while the chamber cools: it waits for base.
 */
export const isCompany = ({ memory, reference, state }: Frame, signature: string): boolean =>
  (signature === 'unexplained-peaks' || VAPOUR_SIGNATURES.has(signature)) &&
  (memory.standing.some((standing) => VAPOUR_SIGNATURES.has(standing.signature)) ||
    (signature === 'unexplained-peaks' && (reference.tail !== null || state === 'cool-down')));

/** A gas that nobody has named is not looked for among the remains of a pump-down. */
export const isFarFetched = ({ reference }: Frame, { cause }: Candidate): boolean =>
  reference.tail !== null && !isOwn(cause) && cause.triggers.length === 0;

/**
 * A cause is not raised on what the model allows it, but on what is seen of it. Where argon comes and goes by itself, a
 * pump may let it go: then most of the nitrogen must be seen before it is called air.
 */
export function isVisible({ reference }: Frame, change: Float64Array, best: Candidate, { argon }: Call): boolean {
  if (isInstrument(best)) return true;
  let asked = 0;
  let seen = 0;
  for (let m = 1; m < change.length; m++) {
    const part = Math.max(0, best.amplitude * best.direction[m]!);
    asked += part;
    seen += Math.min(part, Math.max(0, change[m]!));
  }
  return seen >= visibleShare(best, reference.tail !== null, argon) * asked;
}

function visibleShare({ cause }: Candidate, inTail: boolean, argon: ArgonVerdict): number {
  if (cause.id !== 'air') return VISIBLE_SHARE.most;
  if (inTail) return VISIBLE_SHARE.airInTail;
  return argon.pulses > 0 && !argon.line ? VISIBLE_SHARE.airByPulses : VISIBLE_SHARE.most;
}

/** Seen from one height per mass only, a slid mass scale resembles too much: it is raised when clear of the rest. */
const NEVER_OPEN: ReadonlySet<string> = new Set(['mass-shift']);

/** Between hydrogen and the pump the gases of the background decide, by their step: later scans only add their breathing. */
const BY_BACKGROUND: ReadonlySet<string> = new Set(['H2', 'pumping']);
const isKnownAtOnce = ({ memory }: Frame, best: Candidate, rival: Candidate | undefined): boolean =>
  memory.track.pending?.breathing !== undefined &&
  rival !== undefined &&
  BY_BACKGROUND.has(best.cause.id) &&
  BY_BACKGROUND.has(rival.cause.id);

/** Argon that comes and goes may be a pump that lets it go: it is a line when it has lasted. */
export const waitsForLine = ({ exceedance, argon }: Call, { cause }: Candidate): boolean =>
  cause.id === 'Ar' && exceedance?.lane !== 'day' && !argon.line;

/** Air of which hardly more than the argon is seen is no surer than argon is. */
const argonInstead = (best: Candidate, { candidates }: Naming): Candidate | undefined =>
  candidates.find(
    ({ cause, score }) => cause.id === 'Ar' && best.cause.id === 'air' && best.score - score < CLEAR_LEAD,
  );

/**
 * A tail that falls a little faster than foreseen takes something off every peak, as a slid mass scale does; and walls
 * that were vented give off oxides for days, little enough for the gauge not to show it, as a hot ioniser does.
 */
const TAIL_LIKE: ReadonlySet<string> = new Set(['mass-shift', 'analyser-outgassing']);

/**
 * Where a chamber cools everything falls, each gas at its own pace, as a slid mass scale or a lost gain would have it: what
 * is said of the analyser waits for base. Gases that rise are called: seals open while they cool.
 */
const isOfCooling = ({ state }: Frame, best: Candidate): boolean => state === 'cool-down' && isInstrument(best);

export function convinces(frame: Frame, { call, naming, best, scans }: Conviction): boolean {
  if (isOfCooling(frame, best)) return false;
  const evidence = best.score - naming.nothing;
  const lane = call.exceedance?.lane ?? 'scan';
  if (evidence < (frame.reference.tail ? 2 : 1) * LEAST_EVIDENCE) return false;
  const newPeak = call.exceedance === null;
  if (!newPeak && best.amplitude < bandShare(frame, lane, best) * leastOf(frame, best)) return false;
  if (best.cause.id === 'He' && frame.state === 'leak-check') return false;
  if (isHeld(frame.memory, best.cause.id)) return false;
  if (frame.memory.settling && TAIL_LIKE.has(best.cause.signature)) return false;
  if (waitsForLine(call, argonInstead(best, naming) ?? best)) return false;
  const rival = naming.candidates.find(({ cause }) => cause.signature !== best.cause.signature);
  const lead = rival ? best.score - rival.score : Number.POSITIVE_INFINITY;
  // Argon may hide in a tail for a while: then it is not yet seen whether this is air or nitrogen.
  const hidden = frame.reference.tail !== null && rival?.cause.id === 'N2';
  const clearAir = best.cause.id === 'air' && evidence > CLEAR_AIR_EVIDENCE && !hidden;
  // In a tail, or under a fault that stands, much moves: what blames the instrument must be beyond doubt.
  const moving = frame.reference.tail !== null || frame.memory.standing.some(({ direction }) => direction !== null);
  if (moving && isInstrument(best)) return lead >= 4 * CLEAR_LEAD;
  const wait = isKnownAtOnce(frame, best, rival) || isTied(frame, best, rival) ? 0 : WAIT_SCANS;
  return lead >= CLEAR_LEAD || clearAir || (scans > wait && !NEVER_OPEN.has(best.cause.id));
}
