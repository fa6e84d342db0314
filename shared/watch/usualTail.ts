/**
 * How much of what a short state lets in is usually left when base is judged again. Nothing but this chamber tells it: what
 * its lines, walls and pumps give back differs by orders of magnitude between chambers and hardly between visits. A tail
 * that is granted all that stands there would hide a valve that does not close, for hours, at the very moment at which
 * valves fail to close.
 *
 *   r_m = (height when judging began − usual) / (highest in the state − usual), per mass
 *
 * learned from visits after which mass m did fall, as a tail must, in the first hour; the largest one counts, forgotten by a
 * tenth with every visit.
 */
import { isSameList, typed } from './channels.ts';
import type { Settling } from './conditions.ts';
import type { Baseline, Memory, Vector } from './memory.ts';
import { HOUR, SKIP_SECONDS } from './parameters.ts';
import type { UsualTail } from './stateMemory.ts';

/** Visits from which a mass is known, and how much more than the most of them is still expected (our choice). */
const LEAST_VISITS = 3;
export const TAIL_ROOM = 2;
/** One sigma of a known tail, of its room: half of the most that was seen. */
export const TAIL_DOUBT = 0.25;
const FORGOTTEN = 0.1;
/** A tail that is looked at much later or sooner than the others says nothing of them. */
const LATEST_SECONDS = 2 * SKIP_SECONDS;
const SOONER = 0.7;
/** By then it has fallen: to half, or into noise and the breathing of what is usual. */
const FALLEN_AFTER_HOURS = 1;
const FALLEN_SHARE = 0.5;
const NOISE_SIGMAS = 3;
const BREATHING = 0.05;
/** What was let in stands so far above noise and above base. */
const LET_IN_SIGMAS = 30;
const LET_IN_SHARE = 1;
const UNKNOWN = -1;

/** Transfers are another matter than recipes. */
const kindOf = (state: string): string => (state === 'plasma' ? 'gas-on' : state);

const isLetIn = (letIn: number, { mean, variance }: Baseline, m: number): boolean =>
  letIn > LET_IN_SIGMAS * Math.sqrt(variance[m]!) && letIn > LET_IN_SHARE * mean[m]!;

export interface KnownTail {
  /** Per channel the most that the tail may hold when it begins; infinite where that is not known. */
  readonly most: Float64Array;
  /** What an hour leaves of it. */
  readonly lefts: Vector;
}

/** Null: nothing is known of any channel. */
export function mostOfTail(
  { states, previousState, stateSinceMs }: Memory,
  baseline: Baseline,
  letIn: Float64Array,
  atMs: number,
): KnownTail | null {
  const known = states.tails[kindOf(previousState ?? '')];
  if (!known || !isSameList(known.masses, baseline.masses)) return null;
  if ((atMs - stateSinceMs) / 1000 < SOONER * known.seconds) return null;
  const most = letIn.map((height, m) => {
    if (!(known.visits[m]! >= LEAST_VISITS) || !isLetIn(height, baseline, m)) return Number.POSITIVE_INFINITY;
    return TAIL_ROOM * known.ratios[m]! * height;
  });
  return { most, lefts: known.lefts };
}

/** Of the beginning of a tail, by what an hour leaves: exponential in that hour, and from there as a tail of walls, 1/t. */
export function usualLeft(left: number, ageSeconds: number): number {
  const hours = ageSeconds / HOUR;
  return hours < 1 ? left ** hours : left / hours;
}

/** What is kept of the beginning of a tail, to learn from it once it has fallen. */
export function beginningOf(
  { previousState, stateSinceMs }: Memory,
  excess: Float64Array,
  atMs: number,
): Pick<Settling, 'began'> {
  const seconds = (atMs - stateSinceMs) / 1000;
  if (previousState === null || seconds > LATEST_SECONDS) return {};
  return { began: { state: kindOf(previousState), seconds, excess: Array.from(excess) } };
}

export interface QuietScan {
  readonly q: Float64Array;
  /** What base shows without a tail. */
  readonly usual: Float64Array;
  readonly atMs: number;
}

/** A quiet scan of base: learns from the tail, once, when it had an hour to fall. */
export function learnTail(memory: Memory, baseline: Baseline, { q, usual, atMs }: QuietScan): void {
  const { settling, states } = memory;
  const began = settling?.began;
  if (!settling?.letIn || !began) return;
  if (began.excess.length !== q.length || settling.letIn.length !== q.length) return;
  const hours = (atMs - settling.atMs) / 1000 / HOUR;
  if (hours < FALLEN_AFTER_HOURS) return;
  const { began: _, ...rest } = settling;
  memory.settling = rest;
  const learned = states.tails[began.state];
  const known = learned && isSameList(learned.masses, baseline.masses) ? learned : startOf(baseline.masses);
  const letIn = typed(settling.letIn);
  const visits = [...known.visits];
  const ratios = [...known.ratios];
  const lefts = [...known.lefts];
  for (let m = 0; m < q.length; m++) {
    if (!isLetIn(letIn[m]!, baseline, m) || !Number.isFinite(q[m]!)) continue;
    const now = q[m]! - usual[m]!;
    const ratio = Math.max(0, began.excess[m]!) / letIn[m]!;
    const noise = NOISE_SIGMAS * Math.sqrt(baseline.variance[m]!) + BREATHING * Math.max(0, usual[m]!);
    const before = began.excess[m]!;
    const fell = now < Math.max(FALLEN_SHARE * before, noise);
    // Of a tail that stood hardly out of noise nobody has seen how it falls.
    const left = before > 2 * noise ? (hours * Math.max(now, 0.5 * noise)) / before : FALLEN_SHARE;
    const held = 1 - FORGOTTEN;
    visits[m] = fell ? visits[m]! + 1 : 0;
    ratios[m] = fell ? Math.max(ratio, held * ratios[m]!) : UNKNOWN;
    lefts[m] = fell ? Math.min(FALLEN_SHARE, Math.max(left, held * lefts[m]!)) : UNKNOWN;
  }
  const seconds = Math.max(known.seconds, began.seconds);
  const tail: UsualTail = { masses: baseline.masses, seconds, visits, ratios, lefts };
  memory.states = { ...states, tails: { ...states.tails, [began.state]: tail } };
}

const startOf = (masses: Vector): UsualTail => ({
  masses,
  seconds: 0,
  visits: new Array<number>(masses.length + 1).fill(0),
  ratios: new Array<number>(masses.length + 1).fill(UNKNOWN),
  lefts: new Array<number>(masses.length + 1).fill(UNKNOWN),
});
