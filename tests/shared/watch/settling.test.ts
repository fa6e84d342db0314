import { describe, expect, test } from 'vitest';
import { sealed } from '../../../shared/watch/memory.ts';
import { ownSpectra } from '../../../shared/watch/ownGases.ts';
import { pinnedNow, referenceNow } from '../../../shared/watch/reference.ts';
import { followTail, isUnseenTail, startSettling, tailCap } from '../../../shared/watch/settling.ts';
import { isSettled, liftTo } from '../../../shared/watch/tailLift.ts';
import type { WatchMemory } from '../../../shared/watch/types.ts';
import { rememberVisit } from '../../../shared/watch/visits.ts';
import { watchScan } from '../../../shared/watch/watch.ts';
import { draft, watched } from '../../support/world/frames.ts';

const chamber = watched(31, { kind: 'unbaked' });
const HOUR_MS = 3_600_000;

function begin(change: (mass: number, mean: number) => number, { previousState = 'pump-down' } = {}) {
  const memory = draft(chamber);
  const baseline = memory.baselines.base!;
  const t0 = memory.lastAtMs!;
  Object.assign(memory, { previousState, stateSinceMs: t0, ventEndedAtMs: t0 - 5 * HOUR_MS });
  const spectrum = (factor: number) =>
    Float64Array.from(baseline.mean, (mean, m) => mean + factor * change(m === 0 ? 0 : baseline.masses[m - 1]!, mean));
  return { memory, baseline, t0, spectrum };
}
const wet = (mass: number, mean: number) => ([16, 17, 18].includes(mass) ? 4 * mean : 0);

describe('a tail after a vent', () => {
  test('as long as it falls, the reference stays above it', () => {
    const { memory, baseline, t0, spectrum } = begin(wet);
    let settling = startSettling(memory, baseline, { q: spectrum(1), atMs: t0, forceShort: false });
    for (let minute = 1; minute <= 240; minute++) {
      const atMs = t0 + minute * 60_000;
      const q = spectrum(300 / (300 + minute));
      settling = followTail(settling, q, 60, baseline, atMs);
      const { reference } = liftTo(settling, new Float64Array(baseline.mean), baseline, ownSpectra(baseline));
      const m = baseline.masses.indexOf(18) + 1;
      expect(q[m]!).toBeLessThan(reference[m]! * 1.02);
    }
  });

  test('what rises again stands above it', () => {
    const { memory, baseline, t0, spectrum } = begin(wet);
    let settling = startSettling(memory, baseline, { q: spectrum(1), atMs: t0, forceShort: false });
    for (let i = 1; i <= 60; i++) settling = followTail(settling, spectrum(0.5), 60, baseline, t0 + i * 60_000);
    const m = baseline.masses.indexOf(18) + 1;
    const { reference } = liftTo(settling, new Float64Array(baseline.mean), baseline, ownSpectra(baseline));
    expect(spectrum(1)[m]! / reference[m]!).toBeGreaterThan(1.3);
  });

  test('oxygen that stays is not a tail: half an hour of half-life and no more', () => {
    const airy = (mass: number) => (mass === 32 ? 1e-7 : 0);
    const { memory, baseline, t0, spectrum } = begin(airy);
    let settling = startSettling(memory, baseline, { q: spectrum(1), atMs: t0, forceShort: false });
    for (let i = 1; i <= 120; i++) settling = followTail(settling, spectrum(1), 60, baseline, t0 + i * 60_000);
    const m = baseline.masses.indexOf(32) + 1;
    // Two hours: four half-lives.
    expect(settling.envelope[m]! - baseline.mean[m]!).toBeLessThan(1.2e-7 / 16 + 0.1 * baseline.mean[m]!);
  });

  test('is over when nothing stands above the baseline', () => {
    const { memory, baseline, t0, spectrum } = begin(wet);
    let settling = startSettling(memory, baseline, { q: spectrum(1), atMs: t0, forceShort: false });
    const late = t0 + 3 * HOUR_MS;
    for (let i = 0; i < 3; i++) settling = followTail(settling, spectrum(0), 60, baseline, late);
    const lift = liftTo(settling, new Float64Array(baseline.mean), baseline, ownSpectra(baseline));
    expect(lift.stands).toBe(false);
    expect(isSettled(settling, { ...lift, lifted: new Uint8Array(lift.lifted.length) }, late)).toBe(true);
    expect(isSettled(settling, { ...lift, lifted: new Uint8Array(lift.lifted.length) }, t0 + HOUR_MS)).toBe(false);
  });

  test('that is weak lasts until it is twice as old as at first: what goes with one over time has halved by then', () => {
    const { memory, baseline, t0, spectrum } = begin(wet);
    const settling = startSettling(memory, baseline, { q: spectrum(1), atMs: t0, forceShort: false });
    const old = { ...settling, scaleSeconds: 30 * 3600 };
    const oldest = { ...settling, scaleSeconds: 100 * 3600 };
    const weak = { reference: spectrum(0), lifted: new Uint8Array(baseline.mean.length).fill(1, 3, 4), stands: false };
    const over = (tail: typeof settling, hours: number) => isSettled(tail, weak, t0 + hours * HOUR_MS);
    expect([over(settling, 11), over(settling, 13)]).toEqual([false, true]);
    expect([over(old, 29), over(old, 31)]).toEqual([false, true]);
    // Two days at most.
    expect([over(oldest, 47), over(oldest, 49)]).toEqual([false, true]);
    expect(isSettled(old, { ...weak, stands: true }, t0 + 51 * HOUR_MS)).toBe(false);
  });
});

describe('a tail that began unseen', () => {
  test('is granted with the first scan that is judged after a state, for some hours', () => {
    const { memory, t0 } = begin(wet, { previousState: 'gas-on' });
    const unseen = { ...memory, settling: null, track: { ...memory.track, judged: 0 } };
    expect(isUnseenTail(unseen, t0 + HOUR_MS)).toBe(true);
    expect(isUnseenTail(unseen, t0 + 4 * HOUR_MS)).toBe(false);
    expect(isUnseenTail({ ...unseen, track: { ...memory.track, judged: 1 } }, t0)).toBe(false);
    expect(isUnseenTail({ ...unseen, previousState: null }, t0)).toBe(false);
    expect(isUnseenTail({ ...unseen, state: 'gas-on' }, t0)).toBe(false);
  });

  test('what was let in and is still going is not called, though no scan came while it was waited for', () => {
    const raisedWith = (judged: number) => {
      const memory = draft(chamber);
      const from = memory.lastAtMs!;
      const base = memory.baselines.base!;
      // Nitrogen with its doubly charged and atomic ions at 14: 14/28 of 0.138, NIST WebBook.
      const nitrogen = base.masses.map((mass) => (mass === 28 ? 1 : mass === 14 ? 0.138 : 0));
      const highest = base.mean.map((mean, m) => mean + (m === 0 ? 0 : 1e-3 * nitrogen[m - 1]!));
      Object.assign(memory, { previousState: 'gas-on', stateSinceMs: from, visit: { masses: base.masses, highest } });
      memory.track = { ...memory.track, judged };
      let held: WatchMemory = sealed(memory);
      return Array.from({ length: 12 }, (_, k) => {
        const atMs = from + 20 * 60_000 + k * 60_000;
        const { scan, peaks } = chamber.last;
        const left = 1e-6 * Math.exp(-k / 24);
        const heightPa = peaks.heightPa.map((height, i) => height + left * nitrogen[i]!);
        const values = scan.values.map((value) => value * (1 + 1e-5 * (k + 1)));
        const step = watchScan(held, chamber.context, {
          ...chamber.last,
          scan: { ...scan, values, atMs },
          peaks: { ...peaks, heightPa },
        });
        held = step.memory;
        return step.events.filter(({ kind }) => kind === 'raised').map(({ signature }) => signature);
      }).flat();
    };
    expect(raisedWith(0)).toEqual([]);
    // As if it had been judged before: then it is new.
    expect(raisedWith(1)).toEqual(['gas-inleak']);
  });
});

test('a short tail that is over gives way to that of the vent underneath it', () => {
  // A hundredth of the spectrum: weak, and clear of its noise.
  const { memory, baseline, t0, spectrum } = begin((mass, mean) => (mass === 16 ? mean : 0));
  const long = startSettling(memory, baseline, { q: spectrum(0.15), atMs: t0, forceShort: false });
  const atMs = t0 + 3 * HOUR_MS;
  const short = { ...long, short: true, atMs: t0, scaleSeconds: 1800, granted: long.granted.map(() => 0) };
  memory.settling = followTail({ ...short, under: long }, spectrum(0), 60, baseline, atMs);
  referenceNow(memory, baseline, t0 + 13 * HOUR_MS);
  expect(memory.settling).toBeNull();
  expect(memory.carried).toBeNull();
  const old = { ...long, scaleSeconds: 50 * 3600 };
  memory.settling = followTail({ ...short, under: old }, spectrum(0.15), 60, baseline, atMs);
  referenceNow(memory, baseline, t0 + 13 * HOUR_MS);
  expect(memory.settling).toMatchObject({ short: false, scaleSeconds: 50 * 3600 });
});

describe('after a short state', () => {
  const argon = (mass: number) => (mass === 40 ? 1e-8 : 0);
  const both = (mass: number) => argon(mass) + (mass === 18 ? 1e-6 : 0);

  test('only what was let in is granted a tail', () => {
    const { memory, baseline, t0, spectrum } = begin(both, { previousState: 'gas-on' });
    // In the state argon stood a thousand times higher; water was as now.
    rememberVisit(
      memory,
      Float64Array.from(spectrum(1), (v, m) => (baseline.masses[m - 1] === 40 ? v * 1000 : v)),
      baseline.masses,
    );
    const settling = startSettling(memory, baseline, { q: spectrum(1), atMs: t0 + 900_000, forceShort: false });
    expect(settling.short).toBe(true);
    expect(settling.granted[baseline.masses.indexOf(40) + 1]!).toBeGreaterThan(0);
    expect(settling.granted[baseline.masses.indexOf(18) + 1]!).toBe(0);
  });

  test('peaks too weak to be followed are carried by the strongest of what was let in', () => {
    const { memory, baseline, t0, spectrum } = begin(both, { previousState: 'gas-on' });
    const [strong, weak] = [40, 36].map((mass) => baseline.masses.indexOf(mass) + 1) as [number, number];
    const sigma = Math.sqrt(baseline.variance[weak]!);
    const visit = Float64Array.from(baseline.mean);
    visit[strong]! += 1e-5;
    // A thousandth of it is left: one sigma at the weak mass.
    visit[weak]! += 1000 * sigma;
    rememberVisit(memory, visit, baseline.masses);
    const settling = startSettling(memory, baseline, { q: spectrum(1), atMs: t0 + 900_000, forceShort: false });
    const { reference, lifted } = liftTo(settling, new Float64Array(baseline.mean), baseline, ownSpectra(baseline));
    expect([lifted[strong], lifted[weak]]).toEqual([1, 2]);
    expect((reference[weak]! - baseline.mean[weak]!) / sigma).toBeGreaterThan(0.5);
  });

  test('the cap of a short tail falls faster than that of a pump-down', () => {
    const { memory, baseline, t0, spectrum } = begin(both, { previousState: 'gas-on' });
    const short = startSettling(memory, baseline, { q: spectrum(1), atMs: t0, forceShort: true });
    const long = { ...short, short: false, scaleSeconds: 86_400 };
    expect(tailCap(short, t0 + HOUR_MS)).toBeCloseTo(1 / 3, 6);
    expect(tailCap(long, t0 + HOUR_MS)).toBeGreaterThan(0.98);
  });
});

test('the reference follows the temperature by each slope, and the pinned one likewise', () => {
  const memory = draft(chamber);
  const baseline = memory.baselines.base!;
  baseline.temperatureC = 20;
  memory.temperatureC = 23;
  baseline.pinned = { mean: baseline.mean, atMs: 0 };
  const { spectrum, spectra, lifted } = referenceNow(memory, baseline, memory.lastAtMs!);
  expect(lifted).toBeNull();
  const m = baseline.masses.indexOf(18) + 1;
  const own = spectra.find((s) => s.own.gas === 'H2O')!;
  expect(spectrum[m]! - baseline.mean[m]!).toBeCloseTo(own.channels[m]! * (Math.exp(3 * own.own.slope) - 1), 12);
  expect(pinnedNow(memory, baseline, spectra)![m]!).toBeCloseTo(spectrum[m]!, 12);
});
