import { describe, expect, test } from 'vitest';
import { averageRunLengthOfCusum } from '../../../../shared/analysis/sequential/cusum.ts';
import { simulatedRunLength } from '../../../../shared/analysis/sequential/simulatedRunLength.ts';
import { seededRandom } from '../../../support/instrument.ts';

describe('simulated run lengths', () => {
  const design = { reference: 0.5, interval: 3 };

  test('of independent values are those of the integral equation', () => {
    const { normal } = seededRandom(3);
    const simulated = simulatedRunLength(design, { correlation: 0, runs: 4000, normal });
    // A run length is nearly geometric: 1.6 % standard error of 4000.
    expect(simulated / averageRunLengthOfCusum(design, 0)).toBeCloseTo(1, 1);
  });

  test('the same numbers give the same answer, and memory shortens the runs', () => {
    const run = (correlation: number) =>
      simulatedRunLength(design, { correlation, runs: 500, normal: seededRandom(5).normal });
    expect(run(0.5)).toBe(run(0.5));
    expect(run(0.5)).toBeLessThan(run(0) / 2);
  });
});
