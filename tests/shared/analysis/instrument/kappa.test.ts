import { describe, expect, test } from 'vitest';
import { type KappaMemory, kappaIsSteady, learnKappa } from '../../../../shared/analysis/instrument/kappa.ts';
import { seededRandom } from '../../../support/instrument.ts';

const HOUR = 3_600_000;

describe('kappa', () => {
  const random = seededRandom(31);
  const follow = (values: readonly (number | null)[], stepMs = 0.1 * HOUR) =>
    values.reduce<KappaMemory | null>((memory, value, k) => learnKappa(memory, value, k * stepMs), null);
  const around = (centre: number, spread: number, count: number) =>
    Array.from({ length: count }, () => centre * Math.exp(spread * random.normal()));

  test('steady after 200 scans over 12 hours; not with fewer, faster or scattered ones', () => {
    const steady = follow(around(1.3, 0.02, 250))!;
    expect(kappaIsSteady(steady)).toBe(true);
    expect(Math.exp(steady.centre)).toBeCloseTo(1.3, 1);
    expect(Math.sqrt(steady.variance)).toBeLessThan(0.04);
    expect(kappaIsSteady(follow(around(1.3, 0.02, 150))!)).toBe(false);
    expect(kappaIsSteady(follow(around(1.3, 0.02, 250), 0.01 * HOUR)!)).toBe(false);
    expect(kappaIsSteady(follow(around(1.3, 0.15, 400))!)).toBe(false);
  });

  test('a trend is not steady', () => {
    const drifting = Array.from({ length: 600 }, (_, k) => 1.2 * Math.exp(0.15 * (k / 600) + 0.01 * random.normal()));
    expect(kappaIsSteady(follow(drifting)!)).toBe(false);
  });

  test('a step starts it anew, single outliers do not', () => {
    const odd = follow([...around(1.3, 0.02, 250), 3, ...around(1.3, 0.02, 5), 0.2])!;
    expect(odd.sinceMs).toBe(0);
    expect(Math.exp(odd.centre)).toBeCloseTo(1.3, 1);
    const stepped = follow([...around(1.3, 0.02, 250), ...around(0.8, 0.02, 6)])!;
    expect(stepped.sinceMs).toBeCloseTo(254 * 0.1 * HOUR, 3);
    expect(Math.exp(stepped.centre)).toBeCloseTo(0.8, 1);
    expect(kappaIsSteady(stepped)).toBe(false);
  });

  test('scans without a gauge do not count', () => {
    expect(follow([null, 1.1, null, Number.NaN])!.scans).toBe(1);
    expect(follow([null])).toBeNull();
  });

  test('blocks stay bounded for ever', () => {
    const long = follow(around(1, 0.02, 20_000), 0.02 * HOUR)!;
    expect(long.blocks.length).toBeLessThanOrEqual(16);
    expect(kappaIsSteady(long)).toBe(true);
  });
});
