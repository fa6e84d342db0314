/**
 * What is no ordinary day of the chamber leaves no trace in what is usual: the same chamber with the same weather, with
 * and without the disturbance, has the same baseline afterwards. Simulated; truths known by construction.
 */
import { describe, expect, test } from 'vitest';
import type { AnalysisScan } from '../../../shared/analysis/types.ts';
import { viewsOf } from '../../../shared/watch/gasBaseline.ts';
import { type Baseline, draftOf, type Memory } from '../../../shared/watch/memory.ts';
import { wobbleOf } from '../../../shared/watch/wobble.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import type { Fault } from '../../support/world/faults.ts';
import { type Streamed, streamOf, watchStream } from '../../support/world/stream.ts';
import type { Span } from '../../support/world/timetable.ts';

const BEFORE = 2 * DAY;
const world = makeWorld(621, {
  kind: 'unbaked',
  periodSeconds: 300,
  hasGauge: true,
  sendsTemperature: true,
  lastMass: 60,
});

interface Disturbance {
  readonly days: number;
  readonly fault?: Fault;
  readonly spans?: readonly Span[];
  readonly scanAt?: (scan: AnalysisScan, seconds: number) => AnalysisScan;
  readonly missing?: (seconds: number) => boolean;
}

function outcomeOf({ days, fault, spans = [], scanAt, missing = () => false }: Disturbance) {
  const options = { days, quietTimetable: true, mishaps: false, spans, ...(fault && { fault }) };
  const stream: readonly Streamed[] = streamOf(world, options, { ...(scanAt && { scanAt }) });
  const { steps, said, notes } = watchStream(
    world,
    stream.filter(({ seconds }) => !missing(seconds)),
  );
  const memories = steps.map(({ memory }) => draftOf(memory)!);
  return { memory: memories.at(-1)!, memories, said, notes };
}

const base = ({ baselines }: Memory): Baseline => baselines.base!;

/** Far less than the disturbance, and no more than the weather of the quiet days differs between two runs. */
function expectAlike(now: Memory, then: Memory): void {
  const [a, b] = [base(now), base(then)];
  expect(a.masses).toEqual(b.masses);
  a.masses.forEach((mass, i) => {
    const m = i + 1;
    const room = 0.06 * Math.abs(b.mean[m]!) + 1.5 * Math.sqrt(b.variance[m]!);
    expect(Math.abs(a.mean[m]! - b.mean[m]!), `mean at m/z ${mass}`).toBeLessThan(room);
    expect(Math.sqrt(a.variance[m]! / b.variance[m]!), `noise at m/z ${mass}`).toBeLessThan(1.4);
    if (a.pinned && b.pinned)
      expect(Math.abs(a.pinned.mean[m]! - b.pinned.mean[m]!), `reference at m/z ${mass}`).toBeLessThan(room);
  });
  for (const own of a.own) {
    const known = b.own.find(({ gas }) => gas === own.gas);
    if (!known || known.clarity < 30) continue;
    expect(wobbleOf(own, 'base') / wobbleOf(known, 'base'), `breathing of ${own.gas}`).toBeLessThan(1.3);
    expect(Math.abs(own.slope - known.slope), `slope of ${own.gas}`).toBeLessThan(0.01);
  }
  const [gasesNow, gasesThen] = [now, then].map(
    (memory) => viewsOf(memory).find(({ state }) => state === 'base')!.gases,
  );
  for (const [gas, usual] of Object.entries(gasesThen!)) {
    // Gases that are hardly seen show the scatter of their own limit.
    if (!b.own.some((own) => own.gas === gas && own.clarity > 30)) continue;
    const shown = gasesNow![gas]!;
    expect(Math.abs(shown.medianLog10Pa - usual.medianLog10Pa), `usual ${gas}`).toBeLessThan(0.06);
    expect(shown.halfWidthDecades, `band of ${gas}`).toBeLessThan(1.4 * usual.halfWidthDecades);
  }
  expect(now.impossible.kappa! / then.impossible.kappa!).toBeCloseTo(1, 1);
}

const untouched = outcomeOf({ days: 5 }).memory;
const early = outcomeOf({ days: BEFORE / DAY }).memory;

describe('an alert that stands', () => {
  test.each([
    ['air', 3, { kind: 'air', size: 100, oxygen: 0.8 }],
    ['water at twice the usual', 3, { kind: 'water', size: 1 }],
    ['a pump that has lost two thirds', 3, { kind: 'pumping', size: 2 }],
    ['a gauge at a third', 3, { kind: 'gauge', size: 1 / 3 }],
    // Told by a mean of 25 scans and an on-delay of eight.
    ['a gauge a quarter too high', 40, { kind: 'gauge', size: 1.25 }],
  ] as const)('%s: for two days nothing is learned of it', (_, most, fault) => {
    const { memory, said } = outcomeOf({ days: 4, fault: { ...fault, fromSeconds: BEFORE } });
    expect(said.some((word) => word.startsWith('raised'))).toBe(true);
    expect(said.filter((word) => word.startsWith('returned'))).toEqual([]);
    // Scans between the beginning and the call are the only ones.
    expect(base(memory).scans - base(early).scans).toBeLessThanOrEqual(most);
    expectAlike(memory, early);
  });
});

describe('what passes', () => {
  test('a vent and its pump-down, and the tail after it', () => {
    const spans = [
      { from: BEFORE, to: BEFORE + 4 * HOUR, state: 'vented' },
      { from: BEFORE + 4 * HOUR, to: BEFORE + 16 * HOUR, state: 'pump-down' },
    ];
    const { memory, memories } = outcomeOf({ days: 5, spans });
    const tail = memories.findIndex(({ settling }) => settling !== null);
    expect(tail).toBeGreaterThan(0);
    expectAlike(memory, untouched);
  });

  test('an ioniser that warms up after a pause', () => {
    const fault = { kind: 'ioniser', size: 3, fromSeconds: BEFORE, untilSeconds: BEFORE + 0.5 * DAY } as const;
    const { memory, memories, notes } = outcomeOf({
      days: 5,
      fault,
      missing: (seconds) => seconds > BEFORE - 3 * HOUR && seconds < BEFORE,
    });
    expect(notes).toContain('warming-up');
    const warm = memories.filter(({ overTime }) => overTime.warmUp !== null);
    expect(warm.length).toBeGreaterThan(3);
    expect(base(warm.at(-1)!).scans).toBe(base(warm[0]!).scans);
    expectAlike(memory, untouched);
  });

  test('scans whose parts are more than the whole', () => {
    const from = BEFORE;
    const scanAt = (scan: AnalysisScan, seconds: number): AnalysisScan =>
      seconds < from || seconds > from + DAY || scan.totalPressurePa === null
        ? scan
        : { ...scan, totalPressurePa: scan.totalPressurePa / 4 };
    const { memory, memories } = outcomeOf({ days: 5, scanAt });
    const counted = (from: number, to: number) => base(memories[to]!).scans - base(memories[from]!).scans;
    expect(counted(BEFORE / 300 - 1, (BEFORE + DAY) / 300)).toBe(0);
    expectAlike(memory, untouched);
  });
});
