import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  inSigma,
  MOST_SIGMA,
  type ResidualPeak,
  rises,
  sigmaPlace,
  standingOut,
  sureLine,
  unexplainedFrom,
} from '../../../web/charts/residualScale.ts';

const peak = (told: Partial<ResidualPeak>): ResidualPeak => ({
  mass: 28,
  height: 10,
  explained: 10,
  residual: 0,
  sigma: 1,
  leftOut: null,
  ...told,
});

describe('residuals', () => {
  test('are told in standard deviations, and not at all where those are not known', () => {
    expect(inSigma(peak({ residual: -3, sigma: 1.5 }))).toBe(-2);
    expect(inSigma(peak({ residual: null }))).toBeNull();
    expect(inSigma(peak({ sigma: 0 }))).toBeNull();
    expect(inSigma(peak({ sigma: null }))).toBeNull();
  });

  test('scaling a scan changes no residual in sigma', () => {
    const number = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
    fc.assert(
      fc.property(number, number, fc.double({ min: 1e-12, max: 1e12, noNaN: true }), (residual, sigma, scale) => {
        const before = inSigma(peak({ residual, sigma })) ?? 0;
        const after = inSigma(peak({ residual: residual * scale, sigma: sigma * scale })) ?? 0;
        expect(after / before).toBeCloseTo(1, 9);
      }),
    );
  });

  test('stay within the panel: what lies beyond it gets an arrow', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (away) => {
        const { at, beyond } = sigmaPlace(away);
        expect(Math.abs(at)).toBeLessThanOrEqual(MOST_SIGMA);
        expect(beyond === null).toBe(Math.abs(away) <= MOST_SIGMA);
      }),
    );
  });

  test('only what stands out of its own uncertainty is hatched as unexplained', () => {
    expect(unexplainedFrom(peak({ residual: 1.9, explained: 8.1 }))).toBeNull();
    expect(unexplainedFrom(peak({ residual: 4, explained: 6 }))).toBe(6);
    expect(unexplainedFrom(peak({ residual: -9, explained: 19 }))).toBeNull();
    expect(unexplainedFrom(peak({ residual: 9, leftOut: 'saturated' }))).toBeNull();
  });

  test('a peak within the noise has no height to draw; one that is missing where gas says it should be has', () => {
    expect(rises(peak({ height: 1, explained: 0 }))).toBe(false);
    expect(rises(peak({ height: 3, explained: 0 }))).toBe(true);
    expect(rises(peak({ height: 0.1, explained: 5 }))).toBe(true);
    expect(rises(peak({ height: null }))).toBe(false);
  });

  test('the 95 % line is 1.96 standard deviations to either side', () => {
    expect(sureLine(peak({ height: 10, sigma: 1 }))).toEqual({ low: 10 - 1.96, high: 10 + 1.96 });
    expect(sureLine(peak({ sigma: null }))).toBeNull();
  });

  test('the worst are named first, at most as many as there is room for, and none that was left out', () => {
    const peaks = [
      peak({ mass: 16, residual: 3 }),
      peak({ mass: 48, residual: -8 }),
      peak({ mass: 30, residual: 99, leftOut: 'drop-out' }),
      peak({ mass: 18, residual: 1 }),
    ];
    expect(standingOut(peaks, 9).map(({ mass }) => mass)).toEqual([48, 16]);
    expect(standingOut(peaks, 1).map(({ mass }) => mass)).toEqual([48]);
  });
});
