import { describe, expect, test } from 'vitest';
import { followedScale, learnScale, type ScaleMemory } from '../../../../shared/analysis/instrument/scale.ts';

describe('mass scale', () => {
  const at = (offsetU: number, slope = 0) => ({ offsetU, slope, pivot: 28 });
  const follow = (offsets: readonly number[]) =>
    offsets.reduce<ScaleMemory | null>((memory, offset, k) => learnScale(memory, at(offset), k), null);

  test('a slow drift is followed and the usual place stays', () => {
    const memory = follow(Array.from({ length: 2000 }, (_, k) => (k < 1000 ? 0.05 : 0.05 + (k - 1000) * 1e-4)))!;
    expect(memory.offsetU).toBeCloseTo(0.15, 2);
    expect(memory.usualOffsetU).toBeGreaterThan(0.06);
    expect(memory.usualOffsetU).toBeLessThan(0.11);
  });

  test('one odd scan moves it by 0.005 u at most, three in a row are a new tuning', () => {
    const odd = follow([...Array(20).fill(0), 0.4])!;
    expect(odd.offsetU).toBeLessThanOrEqual(0.005);
    expect(follow([...Array(20).fill(0), 0.3, 0.3, 0.3])!.offsetU).toBeCloseTo(0.3, 6);
  });

  test('profiles without a peak leave it as it was', () => {
    const memory = follow([0.1, 0.1])!;
    expect(learnScale(memory, null, 5)).toBe(memory);
    expect(followedScale(memory)).toEqual(at(0.1));
    expect(followedScale(null)).toBeNull();
  });
});
