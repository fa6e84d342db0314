import { describe, expect, test } from 'vitest';
import { powerLawArrival, trendArrival } from '../../../../shared/analysis/fits/arrival.ts';
import { robustPowerLaw, slopeClass } from '../../../../shared/analysis/fits/powerLaw.ts';

const times = Array.from({ length: 15 }, (_, k) => 600 * 1.3 ** k);

describe('slope of a pump-down', () => {
  test.each([
    [1, 'water'],
    [0.5, 'polymer'],
    [0, 'flat'],
    [2.5, 'volume'],
  ] as const)('t^−%s is %s', (alpha, named) => {
    const fit = robustPowerLaw(
      times,
      times.map((t) => 3e-4 * (t / 3600) ** -alpha),
    )!;
    expect(fit.exponent).toBeCloseTo(alpha, 9);
    expect(slopeClass(fit)).toBe(named);
  });

  test('an interval across two classes is unclear, and what is not above zero takes no part', () => {
    expect(slopeClass({ low: 0.5, high: 1.1 })).toBe('unclear');
    expect(robustPowerLaw([0, 1, 2, 3], [1, -1, 2, Number.NaN])).toBeNull();
  });
});

describe('arrival', () => {
  test('the interval of the slope is the interval of the time', () => {
    const eta = powerLawArrival({ exponent: 1, low: 0.5, high: 2 }, { time: 3600, pressure: 1e-5 }, 1e-6);
    expect(eta.at).toBeCloseTo(36_000, 6);
    expect(eta.earliest).toBeCloseTo(3600 * Math.sqrt(10), 6);
    expect(eta.latest).toBeCloseTo(360_000, 6);
  });

  test('what does not fall never arrives; what has arrived is there', () => {
    const flat = { exponent: 0.02, low: -0.03, high: 0.07 };
    expect(powerLawArrival(flat, { time: 10, pressure: 10 }, 1).latest).toBe(Number.POSITIVE_INFINITY);
    expect(powerLawArrival(flat, { time: 10, pressure: 1 }, 2)).toEqual({ at: 10, earliest: 10, latest: 10 });
  });

  test('a trend reaches a level, or never does', () => {
    expect(trendArrival({ slope: -1, low: -2, high: -0.5 }, { x: 10, y: 4 }, 2)).toEqual({
      at: 12,
      earliest: 11,
      latest: 14,
    });
    expect(trendArrival({ slope: -1, low: -2, high: 0.1 }, { x: 10, y: 4 }, 2).latest).toBe(Number.POSITIVE_INFINITY);
  });
});
