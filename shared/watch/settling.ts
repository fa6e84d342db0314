/**
 * After a vent, a gas step, a transfer or a long gap the spectrum falls for a while, and that is no news. Instead of
 * looking away, the watch lifts its reference to an envelope that only falls: what rises above it, or does not fall as
 * a tail must, is still called.
 *
 * Three bounds hold the envelope down: what has been seen, a creep of 2 % an hour, and a cap that falls as a pump-down
 * does, (1 + t/t₀)^−0.3 after a vent and (1 + t/½ h)^−1 after a gas step. Air is granted half an hour of half-life:
 * nothing legitimate makes it hang about, so a leak born at a vent shows within the hour.
 *
 * After a short state only what was let in is granted a tail: a gas that was not much higher in the state than after it
 * did not come from there, and is judged as on any other day. A gap may hide such a state: what is let in by habit is
 * granted one. What this chamber has shown of its tails bounds them further (usualTail.ts).
 */
import { middleOf, plain, typed } from './channels.ts';
import type { Baseline, Memory, Settling, Standing } from './memory.ts';
import { wallPart } from './ownGases.ts';
import { DAY, HOUR, SETTLE } from './parameters.ts';
import { vector } from './rows.ts';
import type { Visit } from './stateMemory.ts';
import { SHORT_STATES } from './states.ts';
import { beginningOf, mostOfTail, TAIL_DOUBT, usualLeft } from './usualTail.ts';

/** Masses of helium, oxygen and argon: they do not stick to walls. */
export const NOT_STICKING = new Set([4, 32, 40]);
/** A gas that was let in stood at least this much higher in the state than after it. */
const LET_IN_RATIO = 1.5;
/** Fragments of wall gases differ from the catalogue; twice its share is still theirs. */
const WALL_ROOM = 2;

export const tailCap = ({ short, scaleSeconds, atMs: begunMs }: Settling, atMs: number): number =>
  (1 + (atMs - begunMs) / 1000 / scaleSeconds) ** (short ? -1 : -SETTLE.slope);

/** Per channel what is left of the grant by now; `light`: of a mass that does not stick to walls; null: it does. */
export function tailCaps(settling: Settling, atMs: number, light: (m: number) => number | null): Float64Array {
  const cap = tailCap(settling, atMs);
  const caps = Float64Array.from(settling.granted, (_, m) => light(m) ?? cap);
  for (const [m, left] of Object.entries(settling.known ?? {}))
    caps[Number(m)] = Math.min(caps[Number(m)]!, usualLeft(left, (atMs - settling.atMs) / 1000));
  return caps;
}

/** A tail that nobody saw begin is granted so long after its state. */
const UNSEEN_SECONDS = 3 * HOUR;

/** The first scan that is judged after another state, and none came while it was waited for; or nothing was usual yet. */
export const isUnseenTail = ({ state, previousState, stateSinceMs, settling, track }: Memory, atMs: number): boolean =>
  state === 'base' &&
  previousState !== null &&
  settling === null &&
  (track.judged ?? 0) === 0 &&
  atMs - stateSinceMs < UNSEEN_SECONDS * 1000;

export interface SettlingStart {
  readonly q: Float64Array;
  readonly atMs: number;
  readonly forceShort: boolean;
}

export function startSettling(memory: Memory, baseline: Baseline, { q, atMs, forceShort }: SettlingStart): Settling {
  const level = withoutStanding(q, memory.standing);
  const cameFromShort = memory.previousState !== null && SHORT_STATES.has(memory.previousState);
  const short = forceShort || (cameFromShort && atMs - memory.stateSinceMs < HOUR * 1000);
  const letIn = short ? letInBy(forceShort ? memory.states.habit : memory.visit, baseline) : null;
  const n = level.length;
  const granted = new Float64Array(n);
  const known: Record<string, number> = {};
  const directionOut = new Float64Array(n);
  const excess = level.map((x, m) => (Number.isFinite(x) ? x - baseline.mean[m]! : 0));
  const wall = short ? null : wallPart(excess, baseline);
  const usual = letIn && !forceShort ? mostOfTail(memory, baseline, letIn, atMs) : null;
  for (let m = 0; m < n; m++) {
    if (!Number.isFinite(level[m]!)) continue;
    if (letIn && !(letIn[m]! > LET_IN_RATIO * excess[m]!)) continue;
    const sigma = Math.sqrt(baseline.variance[m]!);
    // m/z 1 carries the foot of the mass filter: no gas answers for it.
    const answerable = m > 0 && baseline.masses[m - 1] !== 1;
    const most = wall && answerable ? WALL_ROOM * wall[m]! + 3 * sigma : (usual?.most[m] ?? Number.POSITIVE_INFINITY);
    const part = Math.min(excess[m]!, most);
    const isKnown = usual !== null && Number.isFinite(usual.most[m]!);
    if (isKnown) known[m] = usual.lefts[m]!;
    const beyond = isKnown ? 0 : 0.1 * Math.max(0, level[m]!) * (part / excess[m]!);
    granted[m] = part > 0 ? part + beyond : 0;
    // Air that stays is no tail: it must not be free to stay as part of one.
    const light = !short && m > 0 && NOT_STICKING.has(baseline.masses[m - 1]!);
    const moving = isKnown ? TAIL_DOUBT * part : part;
    if (m > 1 && moving > 3 * sigma && !light) directionOut[m] = moving;
  }
  return {
    atMs,
    scaleSeconds: short ? HOUR / 2 : tailScale(memory.ventEndedAtMs, atMs),
    short,
    envelope: plain(level.map((x) => (Number.isFinite(x) ? Math.max(x, 0) : 0))),
    granted: plain(granted),
    start: baseline.mean,
    direction: plain(directionOut),
    recent: [plain(q.map((x) => (Number.isFinite(x) ? x : 0)))],
    letIn: letIn ? plain(letIn) : null,
    ...(Object.keys(known).length > 0 && { known }),
    ...(letIn && !forceShort && beginningOf(memory, excess, atMs)),
    under: short ? memory.carried : null,
  };
}

/** Seconds since the vent: the older the pump-down, the slower its tail. A day when no vent is known. */
function tailScale(ventEndedAtMs: number | null, atMs: number): number {
  if (ventEndedAtMs === null) return DAY;
  const age = (atMs - ventEndedAtMs) / 1000;
  return age < 5 * DAY ? Math.max(HOUR, age) : DAY;
}

/** What open alerts explain is not part of a tail. */
function withoutStanding(q: Float64Array, standing: readonly Standing[]): Float64Array {
  const out = q.slice();
  for (const { direction, amplitude } of standing) {
    if (direction && amplitude > 0 && direction.length === out.length) {
      for (let m = 0; m < out.length; m++) out[m]! -= amplitude * direction[m]!;
    }
  }
  return out;
}

/** Excess over the base spectrum in the short state just left, or in those of before; null when no scan of it was seen. */
function letInBy(visit: Visit | null, { mean, masses }: Baseline): Float64Array | null {
  if (!visit || visit.masses.length !== masses.length) return null;
  return Float64Array.from(visit.highest, (x, m) => x - mean[m]!);
}

export function followTail(
  settling: Settling,
  q: Float64Array,
  seconds: number,
  baseline: Baseline,
  atMs: number,
): Settling {
  const age = (atMs - settling.atMs) / 1000;
  const sticks = (m: number) => m === 0 || !NOT_STICKING.has(baseline.masses[m - 1]!);
  const air = 2 ** (-age / (SETTLE.airHalfHours * HOUR));
  const creep = 1 + (SETTLE.creepPerHour * Math.min(seconds, HOUR)) / HOUR;
  const under = settling.under;
  const caps = tailCaps(settling, atMs, (m) => (sticks(m) ? null : air));
  const underCap = under ? tailCap(under, atMs) : 0;
  const envelope = typed(settling.envelope);
  const room = vector(envelope.length);
  const [older, newer] = settling.recent.slice(-2);
  for (let m = 0; m < envelope.length; m++) {
    const grant = settling.granted[m]! * caps[m]!;
    room[m] = Math.max(grant, under && sticks(m) ? under.granted[m]! * underCap : 0);
    if (!Number.isFinite(q[m]!)) continue;
    const seen = older && newer ? middleOf(older[m]!, newer[m]!, q[m]!) : q[m]!;
    const bound = settling.start[m]! * 1.05 + room[m]!;
    envelope[m] = Math.min(envelope[m]! * creep, Math.max(seen, 0), bound);
  }
  const latest = plain(q);
  for (let m = 0; m < latest.length; m++) if (!Number.isFinite(latest[m])) latest[m] = 0;
  const last = settling.recent.at(-1);
  return { ...settling, envelope: plain(envelope), room: plain(room), recent: last ? [last, latest] : [latest] };
}
