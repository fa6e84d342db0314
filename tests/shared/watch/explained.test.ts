import { describe, expect, test } from 'vitest';
import { tolerances } from '../../../shared/watch/explained.ts';
import type { Memory } from '../../../shared/watch/memory.ts';
import { followNewPeak } from '../../../shared/watch/newPeak.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';

/** A mass without a gas, beside a high peak of a profile: its foot has been taken off. */
const MASS = 35;

describe('a mass that usually lies below zero', () => {
  const chamber = watched(65);
  const usual = chamber.last.peaks.heightPa.reduce((sum, height) => sum + Math.max(0, height), 0);
  const depth = 0.02 * usual;
  const at = (height: number): Memory => {
    const memory = draft(chamber);
    const base = memory.baselines.base!;
    const channel = base.masses.indexOf(MASS) + 1;
    memory.baselines.base = { ...base, mean: base.mean.map((value, m) => (m === channel ? height : value)) };
    return memory;
  };
  const channel = draft(chamber).baselines.base!.masses.indexOf(MASS) + 1;
  const peakAfter = (memory: Memory, rise: number) => {
    let found = false;
    for (let i = 0; i < 7; i++) found = followNewPeak(frameOf(chamber, { [MASS]: rise }, { times: 1, memory }));
    return found;
  };

  test('needs no cause to come back to nothing', () => {
    const tolerance = (usually: number, rise: number) =>
      tolerances(frameOf(chamber, { [MASS]: rise }, { memory: at(usually) }))[channel]!;
    expect(tolerance(-depth, depth)).toBe(Number.POSITIVE_INFINITY);
    expect(tolerance(-depth, 3 * depth)).toBeGreaterThan(depth);
    expect(tolerance(-depth, 3 * depth)).toBeLessThan(2 * depth);
    expect(tolerance(0, depth)).toBeLessThan(depth);
  });

  test('is a new peak only where it rises above it', () => {
    expect(peakAfter(at(-depth), depth)).toBe(false);
    expect(peakAfter(at(-depth), 2 * depth)).toBe(true);
    expect(peakAfter(at(0), depth)).toBe(true);
  });
});
