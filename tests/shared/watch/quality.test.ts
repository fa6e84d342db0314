import { describe, expect, test } from 'vitest';
import type { PeakList } from '../../../shared/analysis/types.ts';
import { dataFaults } from '../../../shared/watch/dataFaults.ts';
import { followFault } from '../../../shared/watch/faults.ts';
import { emptyMemory } from '../../../shared/watch/memory.ts';
import { isEmpty, judgeRepeats, judgeScatter, judgeTop, lastChannels } from '../../../shared/watch/quality.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';

const random = makeRandom(3);
const chamber = watched(21);
const scanOf = (values: Float64Array) => ({ ...chamber.last.scan, values });
const noisy = () => chamber.last.scan.values.map((v) => v * (1 + 0.01 * random.normal()));

describe('frozen', () => {
  test('three exact repeats after a lively past', () => {
    const memory = emptyMemory('1', 'base', 0);
    for (let i = 0; i < 15; i++) judgeRepeats(memory, scanOf(noisy()));
    const same = scanOf(noisy());
    const verdicts = Array.from({ length: 5 }, () => judgeRepeats(memory, same).frozen);
    expect(verdicts).toEqual([false, false, false, true, true]);
    expect(judgeRepeats(memory, scanOf(noisy()))).toEqual({ repeated: false, frozen: false });
  });

  test('a gateway that asks three times per scan is not frozen, and is when it goes on', () => {
    const memory = emptyMemory('1', 'base', 0);
    for (let i = 0; i < 15; i++) {
      const same = scanOf(noisy());
      for (let k = 0; k < 3; k++) expect(judgeRepeats(memory, same).frozen).toBe(false);
    }
    const same = scanOf(noisy());
    const verdicts = Array.from({ length: 9 }, () => judgeRepeats(memory, same).frozen);
    expect(verdicts.indexOf(true)).toBe(5);
  });

  test('a source that has never shown noise cannot be told from a frozen one', () => {
    const memory = emptyMemory('1', 'base', 0);
    const same = scanOf(noisy());
    for (let i = 0; i < 50; i++) expect(judgeRepeats(memory, same).frozen).toBe(false);
  });

  test('one value that differs in its last digit is another scan', () => {
    const memory = emptyMemory('1', 'base', 0);
    const values = noisy();
    judgeRepeats(memory, scanOf(values));
    const other = Float64Array.from(values);
    other[17] = other[17]! * (1 + 1e-15) + Number.MIN_VALUE;
    expect(judgeRepeats(memory, scanOf(other)).repeated).toBe(other[17] === values[17]);
  });
});

describe('at the stop', () => {
  const { masses } = chamber.last.peaks;
  const peaksOf = (heights: Record<number, number>): PeakList => ({
    ...chamber.last.peaks,
    heightPa: Float64Array.from(masses, (mass) => heights[mass] ?? 1e-12 * (1 + Math.abs(random.normal()))),
  });
  const input = (heights: Record<number, number>) => ({ scan: chamber.last.scan, peaks: peaksOf(heights) });

  test('two peaks of exactly one height, three scans in a row', () => {
    const memory = emptyMemory('1', 'base', 0);
    const verdicts = Array.from({ length: 3 }, () => judgeTop(memory, input({ 18: 1e-6, 28: 1e-6 }), undefined));
    expect(verdicts.map(({ saturated }) => saturated)).toEqual([false, false, true]);
    expect(verdicts[2]!.topMasses).toEqual([18, 28]);
  });

  test('one steady peak is a stop only where its noise should have moved it', () => {
    const baseline = draft(chamber).baselines.base!;
    const channel = baseline.masses.indexOf(18) + 1;
    const verdict = (sigma: number) => {
      const memory = emptyMemory('1', 'base', 0);
      const variance = baseline.variance.map((v, m) => (m === channel ? (sigma * 1e-6) ** 2 : v));
      let saturated = false;
      for (let i = 0; i < 10; i++)
        saturated = judgeTop(memory, input({ 18: 1e-6 }), { ...baseline, variance }).saturated;
      return saturated;
    };
    expect([verdict(1e-5), verdict(1e-2)]).toEqual([false, true]);
    // Gas on: the second highest stands still as well.
    const memory = emptyMemory('1', 'base', 0);
    const variance = baseline.variance.map((v, m) => (m === channel ? 1e-16 : v));
    for (let i = 0; i < 12; i++) {
      const { saturated } = judgeTop(memory, input({ 18: 1e-6, 28: 9e-7 + (i % 2) * 1e-11 }), {
        ...baseline,
        variance,
      });
      expect(saturated).toBe(false);
    }
  });
});

describe('scatter', () => {
  test('four times the usual is called, a steady rise is not', () => {
    const baseline = draft(chamber).baselines.base!;
    const spectrum = (factor: number, rise = 1) =>
      Float64Array.from(
        baseline.mean,
        (v, m) => v * rise + factor * Math.sqrt(baseline.variance[m]!) * random.normal(),
      );
    const run = (make: (i: number) => Float64Array) => {
      const memory = draft(chamber);
      let noisyAt = -1;
      for (let i = 0; i < 30; i++) if (judgeScatter(memory, make(i), baseline, true).noisy && noisyAt < 0) noisyAt = i;
      return noisyAt;
    };
    expect(run(() => spectrum(4))).toBeGreaterThan(3);
    expect(run(() => spectrum(1))).toBe(-1);
    expect(run((i) => spectrum(1, 1.05 ** i))).toBe(-1);
  });

  test('the scan before is forgotten across a gap', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const q = new Float64Array(baseline.mean);
    judgeScatter(memory, q, baseline, true);
    expect(lastChannels(memory, q.length)).not.toBeNull();
    judgeScatter(memory, q, baseline, false);
    expect(memory.quality.lastTwo).toHaveLength(1);
  });
});

describe('shares that a gauge scales', () => {
  const memoryOf = () => draft(chamber);
  /** H2O at its stop or not, the others alive; the gauge breathes by a per cent, as sent with `digits` digits. */
  const verdictOf = (stop: boolean, digits: number) => {
    const memory = memoryOf();
    const { scan, peaks } = chamber.last;
    const events = [];
    for (let i = 0; i < 9; i++) {
      const lively = (height: number) => Number((height * (1 + 0.004 * random.normal())).toPrecision(digits));
      const values = Float64Array.from({ length: 50 }, (_, m) =>
        m === 17 ? (stop ? 0.42 : lively(0.42)) : lively(0.2 / (m + 1)),
      );
      const scaled = { ...peaks, heightPa: peaks.heightPa.map((height) => height * (1 + 0.01 * random.normal())) };
      const shares = { ...scan, unit: '1' as const, masses: { first: 1, last: 50, perUnit: 1 }, values };
      const input = { ...chamber.last, scan: { ...shares, atMs: scan.atMs + i * 6e4 }, peaks: scaled };
      events.push(...dataFaults({ memory, input }, memory.baselines.base).events);
    }
    return events.filter(({ kind }) => kind === 'raised').map(({ signature }) => signature);
  };

  test('a peak that repeats as it was sent is at its stop, however the gauge breathes', () => {
    expect(verdictOf(true, 5)).toEqual(['detector-saturated']);
    expect(verdictOf(false, 5)).toEqual([]);
  });

  test('with too few digits nothing can be said', () => {
    expect(verdictOf(true, 2)).toEqual([]);
  });
});

describe('their alerts', () => {
  test('stand until the data are well again, once', () => {
    const memory = emptyMemory('1', 'base', 0);
    const fault = { signature: 'noise' as const, summary: 'Noisy.', evidence: [] };
    expect(followFault(memory, 1, { ...fault, on: true, off: false })).toHaveLength(1);
    expect(followFault(memory, 2, { ...fault, on: true, off: false })).toEqual([]);
    expect(followFault(memory, 3, { ...fault, on: false, off: true })).toMatchObject([
      { kind: 'returned', signature: 'noise' },
    ]);
  });

  test('scans without a value are no silence and no rest: called after three, over with the first value', () => {
    const memory = draft(chamber);
    const nothing = (value: number) => ({ ...chamber.last, scan: scanOf(noisy().fill(value)) });
    expect([isEmpty(nothing(Number.NaN).scan), isEmpty(nothing(0).scan), isEmpty(chamber.last.scan)]).toEqual([
      true,
      true,
      false,
    ]);
    const step = (input: typeof chamber.last) => dataFaults({ memory, input }, memory.baselines.base);
    const kinds = [Number.NaN, 0, Number.NaN].map((value) => step(nothing(value)).events.map(({ kind }) => kind));
    expect(kinds).toEqual([[], [], ['raised']]);
    expect(memory.standing).toMatchObject([{ signature: 'frozen', cause: 'empty', priority: 'medium' }]);
    expect(step({ ...chamber.last, scan: scanOf(noisy()) }).events.map(({ kind }) => kind)).toEqual(['returned']);
    memory.state = 'vented';
    expect([1, 2, 3, 4].flatMap(() => step(nothing(0)).events)).toEqual([]);
  });

  test('a frozen scan is not judged further', () => {
    const memory = draft(chamber);
    const input = { ...chamber.last, scan: scanOf(noisy()) };
    let verdict = dataFaults({ memory, input }, memory.baselines.base);
    for (let i = 0; i < 9; i++) verdict = dataFaults({ memory, input }, memory.baselines.base);
    expect(verdict.unfit).toBe(true);
    expect(memory.standing.map(({ signature }) => signature)).toEqual(['frozen']);
  });
});
