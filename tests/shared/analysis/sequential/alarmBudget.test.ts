import { describe, expect, test } from 'vitest';
import {
  averageRunLengthFor,
  thresholdForCusum,
  thresholdForEwma,
  thresholdForSingleValues,
} from '../../../../shared/analysis/sequential/alarmBudget.ts';
import { averageRunLengthOfCusum } from '../../../../shared/analysis/sequential/cusum.ts';
import { averageRunLengthOfEwma } from '../../../../shared/analysis/sequential/ewma.ts';
import { upperTail } from '../../../../shared/analysis/sequential/normal.ts';

describe('false-alarm budget', () => {
  test('is shared among statistics and scans', () => {
    expect(averageRunLengthFor({ falseAlarmsPerMonth: 0.05, scansPerMonth: 8640, statistics: 30 })).toBe(5_184_000);
  });

  test('each threshold gives back the run length that it was made for', () => {
    expect(upperTail(thresholdForSingleValues(5000)) * 5000).toBeCloseTo(1, 9);
    const interval = thresholdForCusum(5000, 0.25);
    expect(averageRunLengthOfCusum({ reference: 0.25, interval }, 0) / 5000).toBeCloseTo(1, 4);
    const width = thresholdForEwma(5000, 0.1);
    expect(averageRunLengthOfEwma({ weight: 0.1, width }, 0) / 5000).toBeCloseTo(1, 4);
  });

  test('no threshold makes a chart call with every value', () => {
    expect(() => thresholdForCusum(1, 0.5)).toThrow('an average run length is more than 1');
  });
});
