import { describe, expect, test } from 'vitest';
import type { Baseline, Memory } from '../../../shared/watch/memory.ts';
import { rescaleMemory } from '../../../shared/watch/rescale.ts';
import { startSettling } from '../../../shared/watch/settling.ts';
import type { WatchMemory } from '../../../shared/watch/types.ts';
import { learnTail, mostOfTail, TAIL_ROOM, usualLeft } from '../../../shared/watch/usualTail.ts';
import { watchScan } from '../../../shared/watch/watch.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';

/** Without a gauge: what is added to the heights is then all there is to know of the pressure. */
const chamber = watched(31, { kind: 'unbaked', hasGauge: false });
const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const LET_IN_PA = 1e-3;

/** Nitrogen in the state, a share of it when judging begins, and what of that an hour leaves. */
interface Visit {
  readonly share: number;
  readonly left: number;
  readonly state?: string;
  readonly waitedSeconds?: number;
}

const at28 = ({ masses }: Baseline): number => masses.indexOf(28) + 1;

/** What stands at 28 above usual, as a spectrum. */
const withNitrogen = (baseline: Baseline, pa: number): Float64Array =>
  Float64Array.from(baseline.mean, (mean, m) => (m === at28(baseline) ? mean + pa : mean));

function visited(memory: Memory, visits: readonly Visit[]): { memory: Memory; baseline: Baseline } {
  const baseline = memory.baselines.base!;
  visits.forEach(({ share, left, state = 'gas-on', waitedSeconds = 840 }, i) => {
    const since = memory.lastAtMs! + i * 10 * HOUR_MS;
    const visit = { masses: baseline.masses, highest: Array.from(withNitrogen(baseline, LET_IN_PA)) };
    Object.assign(memory, { previousState: state, stateSinceMs: since, visit });
    const atMs = since + waitedSeconds * 1000;
    const q = withNitrogen(baseline, share * LET_IN_PA);
    memory.settling = startSettling(memory, baseline, { q, atMs, forceShort: false });
    const usual = Float64Array.from(baseline.mean);
    // Too soon: nothing is learned yet.
    learnTail(memory, baseline, { q, usual, atMs: atMs + 59 * MINUTE_MS });
    const later = withNitrogen(baseline, share * left * LET_IN_PA);
    learnTail(memory, baseline, { q: later, usual, atMs: atMs + HOUR_MS });
    // Once for each visit.
    learnTail(memory, baseline, { q: later, usual, atMs: atMs + HOUR_MS + MINUTE_MS });
  });
  return { memory, baseline };
}

const knownAfter = (visits: readonly Visit[], state = 'gas-on', waitedSeconds = 840) => {
  const { memory, baseline } = visited(draft(chamber), visits);
  Object.assign(memory, { previousState: state });
  const letIn = withNitrogen(baseline, LET_IN_PA).map((value, m) => value - baseline.mean[m]!);
  const known = mostOfTail(memory, baseline, letIn, memory.stateSinceMs + waitedSeconds * 1000);
  return { share: known && known.most[at28(baseline)]! / LET_IN_PA, left: known?.lefts[at28(baseline)] };
};

const usually: Visit = { share: 1e-3, left: 0.2 };

describe('what is usually left of what was let in', () => {
  test('is known from three visits on, the largest share with room', () => {
    expect(knownAfter([usually, usually]).share).toBe(Number.POSITIVE_INFINITY);
    const { share, left } = knownAfter([usually, { share: 2e-3, left: 0.3 }, usually]);
    expect(share).toBeCloseTo(TAIL_ROOM * 2e-3 * 0.9, 6);
    expect(left).toBeCloseTo(0.3 * 0.9, 6);
  });

  test('is forgotten where it did not fall', () => {
    const stays = { share: 1e-3, left: 0.9 };
    expect(knownAfter([usually, usually, usually, stays]).share).toBe(Number.POSITIVE_INFINITY);
    expect(knownAfter([usually, usually, usually, stays, usually, usually]).share).toBe(Number.POSITIVE_INFINITY);
  });

  test('says nothing of another kind of state, nor of a moment much sooner after it', () => {
    const three = [usually, usually, usually];
    expect(knownAfter(three, 'transfer').share).toBeNull();
    expect(knownAfter(three, 'plasma').share).toBeCloseTo(TAIL_ROOM * 1e-3, 6);
    expect(knownAfter(three, 'gas-on', 400).share).toBeNull();
    // Looked at an hour after the state: not learned from.
    expect(knownAfter(three.map((visit) => ({ ...visit, waitedSeconds: 3000 }))).share).toBeNull();
  });

  test('falls as it did within the hour, and as a tail of walls after it', () => {
    expect([0, 0.5, 1, 2, 4].map((hours) => usualLeft(0.25, hours * 3600))).toEqual([1, 0.5, 0.25, 0.125, 0.0625]);
  });

  test('is the same on a scale that changed meanwhile', () => {
    const memory = draft(chamber);
    const base = memory.baselines.base!;
    const visit = { masses: base.masses, highest: Array.from(withNitrogen(base, LET_IN_PA)) };
    const since = memory.lastAtMs!;
    Object.assign(memory, { previousState: 'gas-on', stateSinceMs: since, visit });
    const q = withNitrogen(base, 1e-3 * LET_IN_PA);
    memory.settling = startSettling(memory, base, { q, atMs: since + 840_000, forceShort: false });
    rescaleMemory(memory, () => 2);
    const baseline = memory.baselines.base!;
    const usual = Float64Array.from(baseline.mean);
    learnTail(memory, baseline, { q: usual, usual, atMs: since + 840_000 + HOUR_MS });
    expect(memory.states.tails['gas-on']!.ratios[at28(baseline)]).toBeCloseTo(1e-3, 6);
  });

  test('bounds what is granted; before, all of it was', () => {
    const grantedAfter = (visits: readonly Visit[]) => {
      const { memory, baseline } = visited(draft(chamber), [...visits, { share: 0.1, left: 1 }]);
      return memory.settling!.granted[at28(baseline)]! / LET_IN_PA;
    };
    expect(grantedAfter([])).toBeGreaterThan(0.1);
    expect(grantedAfter([usually, usually, usually])).toBeCloseTo(TAIL_ROOM * 1e-3, 6);
  });
});

/** Signatures by minutes after base began, of the last of so many visits of nitrogen. */
function lastVisit(visits: number, leftPa: (minutes: number) => number): { signature: string; minutes: number }[] {
  const random = makeRandom(11);
  const { scan, peaks } = chamber.last;
  const nitrogen = peaks.masses.map((mass) => (mass === 28 ? 1 : mass === 14 ? 0.138 : 0));
  let held: WatchMemory = chamber.memory;
  let atMs = draft(chamber).lastAtMs!;
  const called: { signature: string; minutes: number }[] = [];
  const see = (state: string, pa: number, minutes: number | null) => {
    atMs += MINUTE_MS;
    const noise = () => 1 + 0.004 * random.normal();
    const heightPa = peaks.heightPa.map((height, i) => (height + pa * nitrogen[i]!) * noise());
    const values = scan.values.map((value) => value * noise());
    const input = { ...chamber.last, scan: { ...scan, values, atMs, state }, peaks: { ...peaks, heightPa } };
    const step = watchScan(held, chamber.context, input);
    held = step.memory;
    if (minutes === null) return;
    for (const event of step.events) if (event.kind === 'raised') called.push({ signature: event.signature, minutes });
  };
  for (let visit = 0; visit < visits; visit++) {
    const last = visit === visits - 1;
    for (let i = 0; i < 30; i++) see('gas-on', LET_IN_PA, null);
    for (let i = 1; i <= 90; i++) see('base', last ? leftPa(i) : 1e-6 * Math.exp(-i / 24), last ? i : null);
  }
  return called;
}

describe('after a recipe, nitrogen', () => {
  const stays = () => 1e-5;

  test('that stays is called within three scans of the wait where its tail is known', () => {
    const [first] = lastVisit(5, stays);
    expect(first?.signature).toBe('gas-inleak');
    // A quarter of an hour is waited.
    expect(first!.minutes).toBeLessThanOrEqual(15 + 3);
  });

  test('that stays hides longer where nothing is known', () => {
    expect(lastVisit(1, stays).filter(({ minutes }) => minutes <= 25)).toEqual([]);
  });

  test('that falls as it does is not called, nor when there is twice as much of it', () => {
    expect(lastVisit(5, (minutes) => 1e-6 * Math.exp(-minutes / 24))).toEqual([]);
    expect(lastVisit(5, (minutes) => 2e-6 * Math.exp(-minutes / 24))).toEqual([]);
  });
});
