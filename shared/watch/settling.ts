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
 * did not come from there.
 */
import { middleOf, plain, typed } from './channels.ts';
import type { Baseline, Memory, Settling, Standing, Vector } from './memory.ts';
import { type OwnSpectrum, wallPart } from './ownGases.ts';
import { DAY, HOUR, SETTLE } from './parameters.ts';
import { SHORT_STATES } from './states.ts';

/** Masses of helium, oxygen and argon: they do not stick to walls. */
const NOT_STICKING = new Set([4, 32, 40]);
/** A gas that was let in stood at least this much higher in the state than after it. */
const LET_IN_RATIO = 1.5;
/** Fragments of wall gases differ from the catalogue; twice its share is still theirs. */
const WALL_ROOM = 2;
/** A mass is followed by itself when its noise is within 3 % of the envelope; otherwise its gas carries it. */
const KNOWN_WITHIN = 0.03;

const capOf = ({ short, scaleSeconds }: Settling, ageSeconds: number): number =>
  (1 + ageSeconds / scaleSeconds) ** (short ? -1 : -SETTLE.slope);

export const tailCap = (settling: Settling, atMs: number): number => capOf(settling, (atMs - settling.atMs) / 1000);

export interface SettlingStart {
  readonly q: Float64Array;
  readonly atMs: number;
  readonly forceShort: boolean;
}

export function startSettling(memory: Memory, baseline: Baseline, { q, atMs, forceShort }: SettlingStart): Settling {
  const level = withoutStanding(q, memory.standing);
  const cameFromShort = memory.previousState !== null && SHORT_STATES.has(memory.previousState);
  const short = forceShort || (cameFromShort && atMs - memory.stateSinceMs < HOUR * 1000);
  const letIn = short && !forceShort ? letInBy(memory, baseline) : null;
  const n = level.length;
  const granted = new Float64Array(n);
  const directionOut = new Float64Array(n);
  const excess = level.map((x, m) => (Number.isFinite(x) ? x - baseline.mean[m]! : 0));
  const wall = short ? null : wallPart(excess, baseline);
  for (let m = 0; m < n; m++) {
    if (!Number.isFinite(level[m]!)) continue;
    if (letIn && !(letIn[m]! > LET_IN_RATIO * excess[m]!)) continue;
    const sigma = Math.sqrt(baseline.variance[m]!);
    // m/z 1 carries the foot of the mass filter: no gas answers for it.
    const answerable = m > 0 && baseline.masses[m - 1] !== 1;
    const most = wall && answerable ? WALL_ROOM * wall[m]! + 3 * sigma : Number.POSITIVE_INFINITY;
    const part = Math.min(excess[m]!, most);
    granted[m] = part > 0 ? part + 0.1 * Math.max(0, level[m]!) * (part / excess[m]!) : 0;
    if (m > 1 && part > 3 * sigma) directionOut[m] = part;
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
  const out = Float64Array.from(q);
  for (const { direction, amplitude } of standing) {
    if (direction && amplitude > 0 && direction.length === out.length) {
      for (let m = 0; m < out.length; m++) out[m]! -= amplitude * direction[m]!;
    }
  }
  return out;
}

/** Excess over the base spectrum in the short state just left; null when no scan of it was seen. */
function letInBy({ visit }: Memory, { mean, masses }: Baseline): Float64Array | null {
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
  const cap = capOf(settling, age);
  const air = 2 ** (-age / (SETTLE.airHalfHours * HOUR));
  const creep = 1 + (SETTLE.creepPerHour * Math.min(seconds, HOUR)) / HOUR;
  const under = settling.under;
  const underCap = under ? tailCap(under, atMs) : 0;
  const envelope = typed(settling.envelope);
  const [older, newer] = settling.recent.slice(-2);
  for (let m = 0; m < envelope.length; m++) {
    if (!Number.isFinite(q[m]!)) continue;
    const seen = older && newer ? middleOf(older[m]!, newer[m]!, q[m]!) : q[m]!;
    const sticks = m === 0 || !NOT_STICKING.has(baseline.masses[m - 1]!);
    const grant = settling.granted[m]! * (sticks ? cap : air);
    const longer = under && sticks ? under.granted[m]! * underCap : 0;
    const bound = settling.start[m]! * 1.05 + Math.max(grant, longer);
    envelope[m] = Math.min(envelope[m]! * creep, Math.max(seen, 0), bound);
  }
  const recent = [...settling.recent.slice(-1), plain(q.map((x) => (Number.isFinite(x) ? x : 0)))];
  return { ...settling, envelope: plain(envelope), recent };
}

export interface Lift {
  readonly reference: Float64Array;
  /** 0: baseline; 1: lifted by what is seen at this mass; 2: lifted with the gas that owns it. */
  readonly lifted: Uint8Array;
  /** Something large still stands above the baseline. */
  readonly stands: boolean;
}

export function liftTo(
  settling: Settling,
  base: Float64Array,
  baseline: Baseline,
  spectra: readonly OwnSpectrum[],
): Lift {
  const { envelope } = settling;
  const { mean, variance, masses } = baseline;
  const reference = Float64Array.from(base);
  const lifted = new Uint8Array(base.length);
  const sigma = (m: number) => Math.sqrt(variance[m]!);
  const known = (m: number) =>
    variance[m]! * Math.max(1, envelope[m]! / Math.max(mean[m]!, 1e-300)) < (KNOWN_WITHIN * envelope[m]!) ** 2;
  const light = (m: number) => m > 0 && NOT_STICKING.has(masses[m - 1]!);
  let total = 0;
  for (let m = 1; m < mean.length; m++) total += Math.max(0, mean[m]!);
  let stands = false;
  for (let m = 0; m < base.length; m++) {
    if (!(known(m) || light(m)) || envelope[m]! <= base[m]! * 1.02 + 2 * sigma(m)) continue;
    reference[m] = envelope[m]! + 1.5 * sigma(m);
    lifted[m] = 1;
    if (m > 0 && envelope[m]! > 0.02 * total) stands = true;
  }
  for (const { own, channels } of spectra) {
    if (!lifted[own.marker]) continue;
    const factor =
      (reference[own.marker]! - base[own.marker]!) / Math.max(channels[own.marker]!, 0.5 * base[own.marker]!);
    for (let m = 1; m < base.length; m++) {
      if (lifted[m] === 1 || !(channels[m]! > 0) || known(m) || light(m)) continue;
      reference[m]! += factor * channels[m]!;
      lifted[m] = 2;
    }
  }
  liftByVisit(settling, base, reference, lifted, sigma);
  // Isotopes and fragments of a tail, too weak to be followed by themselves and of gases that the baseline hardly shows.
  const excess = reference.map((value, m) => (lifted[m] === 1 ? value - base[m]! : 0));
  const wall = excess.some((value) => value > 0) ? wallPart(excess, baseline) : null;
  for (let m = 1; m < base.length; m++) {
    if (lifted[m] || known(m)) continue;
    if (envelope[m]! > base[m]! + 4 * sigma(m)) {
      reference[m] = envelope[m]! + 2 * sigma(m);
      lifted[m] = 1;
    } else if (wall && wall[m]! > sigma(m)) {
      reference[m]! += wall[m]!;
      lifted[m] = 2;
    }
  }
  return { reference, lifted, stands };
}

/**
 * The tail of what was let in has the spectrum that the state had: the strongest of its peaks says how much of it is
 * left, and carries the peaks that are too weak to be followed.
 */
function liftByVisit(
  { letIn }: Settling,
  base: Float64Array,
  reference: Float64Array,
  lifted: Uint8Array,
  sigma: (m: number) => number,
): void {
  if (!letIn) return;
  let left = 0;
  for (let m = 1; m < base.length; m++) {
    if (lifted[m] === 1 && letIn[m]! > 0) left = Math.max(left, (reference[m]! - base[m]!) / letIn[m]!);
  }
  for (let m = 1; m < base.length; m++) {
    const part = left * Math.max(0, letIn[m]!);
    if (lifted[m] || part < 0.3 * sigma(m)) continue;
    reference[m]! += part;
    lifted[m] = 2;
  }
}

/** A tail is over when nothing large stands above the baseline, after two hours, or twelve while weak masses do. */
export function isSettled(settling: Settling, { lifted, stands }: Lift, atMs: number): boolean {
  const age = (atMs - settling.atMs) / 1000;
  if (age > SETTLE.longestDays * DAY) return true;
  return !stands && age > (lifted.some((kind) => kind === 1) ? 12 : 2) * HOUR;
}

/** The largest spectrum of the short state, for what it lets in. */
export function rememberVisit(memory: Memory, q: Float64Array, masses: Vector): void {
  const before = memory.visit?.masses.length === masses.length ? memory.visit.highest : null;
  const highest = plain(q.map((x, m) => Math.max(Number.isFinite(x) ? x : 0, before?.[m] ?? 0)));
  memory.visit = { masses, highest };
}
