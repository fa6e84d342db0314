import { describe, expect, test } from 'vitest';
import { totalOfMean } from '../../../shared/watch/baseline.ts';
import { draftOf, type Memory } from '../../../shared/watch/memory.ts';
import { tellRecipe } from '../../../shared/watch/recipes.ts';
import type { WatchInput } from '../../../shared/watch/types.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { raisedOf, runWorld } from '../../support/world/run.ts';

describe('recipes of a state that lets gas in', () => {
  test('two flows of the same gas have a baseline each, and neither is called', () => {
    const world = makeWorld(63, { kind: 'process', periodSeconds: 60, hasGauge: true });
    const spans = [1, 0.5, 1, 0.5, 1].map((level, i) => ({
      from: (1 + 2 * i) * HOUR,
      to: (2 + 2 * i) * HOUR,
      state: 'gas-on',
      level,
    }));
    const run = runWorld(world, { days: (10.9 * HOUR) / DAY, spans, mishaps: false });
    expect(raisedOf(run)).toEqual([]);
    const memory = draftOf(run.last!.memory)!;
    const [aside, ...others] = memory.states.recipes['gas-on']!;
    expect(others).toEqual([]);
    const ratio = totalOfMean(memory.baselines['gas-on']!) / totalOfMean(aside!.baseline);
    expect(ratio).toBeGreaterThan(1.8);
    expect(ratio).toBeLessThan(2.2);
  });
});

describe('the choice of a recipe', () => {
  const chamber = watched(64, { kind: 'process' });
  const scaledBy = (factor: number): WatchInput => ({
    ...chamber.last,
    peaks: { ...chamber.last.peaks, heightPa: chamber.last.peaks.heightPa.map((height) => height * factor) },
  });
  const inGas = (): Memory => {
    const memory = draft(chamber);
    memory.state = 'gas-on';
    memory.baselines['gas-on'] = structuredClone(memory.baselines.base!);
    return memory;
  };
  const visit = (memory: Memory, factor: number, atMs: number) => {
    memory.stateSinceMs = atMs;
    return [1, 2].map(() => tellRecipe({ memory, context: chamber.context, input: scaledBy(factor) }));
  };

  test('waits until the level stands', () => {
    const memory = inGas();
    memory.stateSinceMs = 1;
    const told = [0.2, 0.6, 1, 1].map((factor) =>
      tellRecipe({ memory, context: chamber.context, input: scaledBy(factor) }),
    );
    expect(told).toEqual([false, false, false, true]);
  });

  test('a small flow beside a large one makes a recipe of its own, its noise does not', () => {
    const context = { ...chamber.context, chamber: { ...chamber.context.chamber, gases: ['Ar', 'He'] } };
    const top = Math.max(...chamber.last.peaks.heightPa);
    /** Helium at m/z 4 as a share of the highest peak. */
    const withHelium = (share: number): WatchInput => {
      const heightPa = Float64Array.from(chamber.last.peaks.heightPa);
      heightPa[chamber.last.peaks.masses.indexOf(4)] = share * top;
      return { ...chamber.last, peaks: { ...chamber.last.peaks, heightPa } };
    };
    const told = (from: number, to: number, sigma = 0) => {
      const memory = inGas();
      const baseline = memory.baselines['gas-on']!;
      baseline.mean = [0, ...withHelium(from).peaks.heightPa];
      baseline.variance = baseline.variance.map(() => (sigma * top) ** 2);
      memory.stateSinceMs = 1;
      for (let i = 0; i < 2; i++) tellRecipe({ memory, context, input: withHelium(to) });
      return memory.states.recipes['gas-on']?.length ?? 0;
    };
    expect([told(0.01, 0.011), told(0.01, 0.018), told(0.001, 0.0018)]).toEqual([0, 1, 0]);
    // Ten sigma may be eighteen by chance and by the error of what was learned.
    expect(told(0.01, 0.018, 0.001)).toBe(0);
  });

  test('keeps six, and the one longest unused leaves', () => {
    const memory = inGas();
    for (let i = 0; i < 9; i++) {
      visit(memory, 2 ** i, i + 1);
      // Learned with its first scan, for this test.
      const current = memory.baselines['gas-on']!;
      if (current.first) current.first = [[0, ...scaledBy(2 ** i).peaks.heightPa]];
    }
    expect(memory.states.recipes['gas-on']).toHaveLength(5);
  });

  test('in base nothing is chosen', () => {
    const memory = draft(chamber);
    expect(tellRecipe({ memory, context: chamber.context, input: scaledBy(5) })).toBe(true);
    expect(memory.states.recipes).toEqual({});
  });
});
