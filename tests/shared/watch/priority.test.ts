/** High priority is for what is sure and has a second witness. */
import { describe, expect, test } from 'vitest';
import { type PriorityInput, priorityOf } from '../../../shared/watch/priority.ts';
import { hasSecondWitness } from '../../../shared/watch/secondWitness.ts';
import { frameOf, peaks, watched } from '../../support/world/frames.ts';

const air: PriorityInput = {
  signature: 'air-leak',
  gases: ['N2', 'O2', 'Ar'],
  lane: 'scan',
  sureness: 'nearly certain',
  factor: 3,
  witnessed: true,
  named: [],
};

describe('priority', () => {
  test('of air is high when it is sure, plain and witnessed; else it waits for that', () => {
    expect(priorityOf(air)).toBe('high');
    expect(priorityOf({ ...air, witnessed: false })).toBe('medium');
    expect(priorityOf({ ...air, sureness: 'open' })).toBe('low');
    expect(priorityOf({ ...air, lane: 'day' })).toBe('low');
    expect(priorityOf({ ...air, lane: 'mean' })).toBe('medium');
  });

  test('that people have set holds, one step less where the name is not sure', () => {
    const oil: PriorityInput = { ...air, signature: 'hydrocarbon-oil', gases: ['hydrocarbon-oil'], witnessed: false };
    expect(priorityOf(oil)).toBe('medium');
    expect(priorityOf({ ...oil, set: 'high' })).toBe('high');
    expect(priorityOf({ ...oil, set: 'high', sureness: 'open' })).toBe('medium');
    expect(priorityOf({ ...oil, set: 'low', sureness: 'open' })).toBe('low');
    expect(priorityOf({ ...air, set: 'medium' })).toBe('medium');
  });

  test('of a toxic gas that the chamber handles is high whatever is set', () => {
    const toxic: PriorityInput = { ...air, signature: 'gas-inleak', gases: ['PH3'], named: ['PH3'], set: 'low' };
    expect(priorityOf(toxic)).toBe('high');
    expect(priorityOf({ ...toxic, named: [] })).toBe('low');
  });
});

describe('a second witness', () => {
  const chamber = watched(41);
  const usual = frameOf(chamber, {}).reference.spectrum;
  const witnessed = (change: Parameters<typeof frameOf>[1], signature = 'air-leak') => {
    const frame = frameOf(chamber, change);
    const cause = frame.gasCauses.find((entry) => entry.signature === signature)!;
    const direction = cause.variants[0]!.dense;
    return hasSecondWitness({
      frame,
      signature,
      change: frame.middle,
      direction,
      amplitude: (change.gauge ?? 1e-9) / direction[0]!,
    });
  };

  test('is the gauge that has risen by about what the cause brings', () => {
    expect(witnessed({ ...peaks({ 28: 100, 14: 12 }, 1e-7), gauge: usual[0]! })).toBe(true);
    expect(witnessed({ ...peaks({ 28: 100, 14: 12 }, 1e-7), gauge: 0.02 * usual[0]! })).toBe(false);
  });

  test('is argon and oxygen both, and not one of them', () => {
    expect(witnessed(peaks({ 28: 100, 14: 12, 32: 23, 40: 1.65 }, 1e-7))).toBe(true);
    expect(witnessed(peaks({ 28: 100, 14: 12, 40: 1.65 }, 1e-7))).toBe(false);
    expect(witnessed(peaks({ 28: 100, 14: 12, 32: 23 }, 1e-7))).toBe(false);
  });
});
