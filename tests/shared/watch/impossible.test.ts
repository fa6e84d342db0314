/** Partial pressures above the total, and a gauge that is not there: on simulated chambers, what is wrong is known. */
import { describe, expect, test } from 'vitest';
import type { AnalysisScan } from '../../../shared/analysis/types.ts';
import { isWithoutScale } from '../../../shared/watch/impossible.ts';
import { emptyMemory, type Standing } from '../../../shared/watch/memory.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import { streamOf, watchStream } from '../../support/world/stream.ts';

const MINUTE = 60;
const calm = { quietTimetable: true, mishaps: false, days: (2 * HOUR) / DAY } as const;
const world = (seed: number) => makeWorld(seed, { kind: 'baked', periodSeconds: MINUTE, hasGauge: true });

/** A gauge that reads a tenth of what there is. */
const low =
  (from: number) =>
  (scan: AnalysisScan, t: number): AnalysisScan =>
    t < from || scan.totalPressurePa === null ? scan : { ...scan, totalPressurePa: scan.totalPressurePa / 10 };

describe('partials above the total', () => {
  const fault = { kind: 'line-N2', size: 30, fromSeconds: 80 * MINUTE } as const;
  const limitOf = (seed: number) => [
    { gas: 'N2', limitPa: world(seed).pressures.N2! * 1.5, priority: 'medium' as const },
  ];

  test('disarm the limits of people; ratios go on: nitrogen from a line is still told', () => {
    for (const seed of [381, 382]) {
      const stream = streamOf(world(seed), { ...calm, fault }, { scanAt: low(40 * MINUTE) });
      const { said } = watchStream(world(seed), stream, limitOf(seed));
      expect(
        said.filter((word) => word.startsWith('raised')),
        `seed ${seed}`,
      ).toEqual(['raised impossible-pressure', 'raised gas-inleak']);
    }
  });

  test('without them the same limit calls', () => {
    const { said } = watchStream(world(381), streamOf(world(381), { ...calm, fault }), limitOf(381));
    expect(said).toContain('raised limit');
  });

  test('limits are disarmed as well where the drift that has caused it is what is told', () => {
    const memory = emptyMemory('1', 'base', 0);
    memory.standing = [{ signature: 'sensitivity-drift' } as Standing];
    expect(isWithoutScale(memory)).toBe(false);
    memory.impossible.above = 3;
    expect(isWithoutScale(memory)).toBe(true);
    memory.standing = [];
    expect(isWithoutScale(memory)).toBe(false);
  });
});

describe('a gauge that is missing or out of range is a state, not a zero', () => {
  test.each([
    ['missing', null],
    ['zero', 0],
    ['above the air outside', 1e9],
  ])('%s: nothing has fallen, nothing is raised', (_what, totalPressurePa) => {
    const scanAt = (scan: AnalysisScan, t: number) => (t < 40 * MINUTE ? scan : { ...scan, totalPressurePa });
    const stream = streamOf(world(383), calm, { scanAt });
    expect(watchStream(world(383), stream).said).toEqual([]);
    // And it is said with every reading.
    const codes = stream.at(-1)!.input.analysis.notes.map(({ code }) => code);
    expect(codes).toContain(totalPressurePa === null ? 'no-gauge' : 'gauge-not-believed');
  });
});
