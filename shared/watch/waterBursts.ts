/**
 * A cooling circuit leaks in bursts: ice plugs the hole and lets go (common practice). Water that comes at once, goes
 * away by itself and comes back, without air, is not a wall that dries.
 *
 * A burst begins when mass 18 stands at one and a half times its reference within a few scans, and is over when it is
 * back near it. Three within a day are called.
 */
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import { followFault } from './faults.ts';
import type { Frame } from './frame.ts';
import { DAY, HOUR } from './parameters.ts';
import type { WatchEvent } from './types.ts';
import { duration, number, times } from './wording.ts';

export interface WaterBursts {
  /** A burst is going on; scans since mass 18 was last near its reference. */
  readonly on: boolean;
  readonly low: number;
  /** Highest of the present one over the reference. */
  readonly high: number | null;
  /** Of the last day: when each began and how high it went. */
  readonly bursts: readonly { readonly atMs: number; readonly factor: number }[];
}

const BURST_FACTOR = 1.5;
const OVER_FACTOR = 1.2;
const BURST_SIGMAS = 8;
/** From near the reference to the burst in so few scans: a wall or the hall takes longer. */
const SUDDEN_SCANS = 2;
const BURSTS = 3;
const MOST_BURSTS = 12;
/** Air with it: another mass rises by this share of what water rises by. */
const AIR_SHARE = 0.05;
const AIR_SIGMAS = 5;
const SETTLED_HOURS = 2;
const QUIET_DAYS = 2;
/** So high, or so often, it is no drop. */
const HIGH_FACTOR = 10;
const CAUSE = 'water-bursts';

export function followWaterBursts(frame: Frame): WatchEvent[] {
  const { memory, atMs } = frame;
  const before = memory.overTime.water;
  const next = nextOf(frame, before);
  if (next !== before) memory.overTime.water = next;
  if (next.bursts.length === 0 && !memory.standing.some(({ cause }) => cause === CAUSE)) return [];
  const last = next.bursts.at(-1)?.atMs ?? Number.NEGATIVE_INFINITY;
  const recent = next.bursts.filter((burst) => atMs - burst.atMs < DAY * 1000);
  const highest = Math.max(1, ...recent.map(({ factor }) => factor));
  return followFault(memory, atMs, {
    signature: 'water',
    cause: CAUSE,
    on: recent.length >= BURSTS && !next.on,
    off: atMs - last > QUIET_DAYS * DAY * 1000,
    sureness: 'likely',
    gases: ['H2O'],
    priority: highest >= HIGH_FACTOR ? 'high' : 'medium',
    summary: `Water comes in bursts and no air with it: ${recent.length} within a day, up to ${times(highest)} the usual. A cooling circuit rather than a wet wall. Likely.`,
    evidence: [
      {
        name: 'Bursts of water within a day',
        value: recent.length,
        unit: '1',
        expected: 'none',
        expectedHigh: 0,
        verdict: 'a wall that dries does not come back',
      },
      {
        name: 'Highest of them over the usual',
        value: highest,
        unit: '1',
        expected: `below ${number(BURST_FACTOR)}`,
        expectedHigh: BURST_FACTOR,
        verdict: 'no argon, oxygen or nitrogen with it',
      },
      {
        name: 'Time since the last one began',
        value: Number.isFinite(last) ? (atMs - last) / 1000 : null,
        unit: 's',
        expected: null,
        verdict: Number.isFinite(last) ? `${duration((atMs - last) / 1000)} ago` : 'unknown',
      },
    ],
    alternatives: [
      {
        signature: 'water',
        why: `A wet part that is warmed now and then would do the same. ${SIGNATURES_BY_ID.water.settles}`,
      },
    ],
  });
}

function nextOf(frame: Frame, before: WaterBursts): WaterBursts {
  const { memory, baseline, middle, reference, atMs, state } = frame;
  const channel = baseline.masses.indexOf(18) + 1;
  const isCalm = state === 'base' && !memory.settling && atMs - memory.stateSinceMs > SETTLED_HOURS * HOUR * 1000;
  const usual = channel === 0 ? 0 : reference.spectrum[channel]!;
  if (!isCalm || !(usual > 0))
    return before.on || before.low > 0 ? { ...before, on: false, low: SUDDEN_SCANS + 1 } : before;
  const factor = 1 + middle[channel]! / usual;
  const isClear = middle[channel]! > BURST_SIGMAS * Math.sqrt(baseline.variance[channel]!);
  if (factor < OVER_FACTOR) return before.on || before.low > 0 ? { ...before, on: false, low: 0, high: null } : before;
  if (before.on) return factor > (before.high ?? 0) ? raised(before, factor) : before;
  const low = before.low + 1;
  if (!(factor > BURST_FACTOR) || !isClear) return { ...before, low };
  // Slow, or with air: no burst, and none until it has been back.
  if (low > SUDDEN_SCANS || hasAir(frame, middle[channel]!)) return { ...before, low: SUDDEN_SCANS + 1 };
  const burst = { atMs, factor: short(factor) };
  const kept = before.bursts.filter(({ atMs: at }) => atMs - at < QUIET_DAYS * DAY * 1000);
  return { on: true, low, high: factor, bursts: [...kept, burst].slice(-MOST_BURSTS) };
}

const short = (value: number): number => Number(value.toPrecision(3));

function raised(before: WaterBursts, factor: number): WaterBursts {
  const last = before.bursts.at(-1);
  const bursts = last ? [...before.bursts.slice(0, -1), { ...last, factor: short(factor) }] : before.bursts;
  return { ...before, high: factor, bursts };
}

function hasAir({ baseline, middle }: Frame, water: number): boolean {
  return [28, 32, 40].some((mass) => {
    const channel = baseline.masses.indexOf(mass) + 1;
    if (channel === 0) return false;
    const rise = middle[channel]!;
    return rise > AIR_SHARE * water && rise > AIR_SIGMAS * Math.sqrt(baseline.variance[channel]!);
  });
}
