import { describe, expect, test } from 'vitest';
import { offTheRecords, recordedRatio, unsteadyPattern } from '../../../../shared/analysis/marked/recordedRatios.ts';
import { gasById } from '../../../../shared/catalogue/gases.ts';

const ratio = (mean: number, sigma = 0.001, range = 0, noise = 0.001) => ({ mean, sigma, range, noise });

describe('what the records say', () => {
  test('lowest and highest of a peak against another', () => {
    // Two published records of CO, 14/28: not listed, and 1.7 %.
    expect(recordedRatio(gasById('CO'), 14, 28)).toEqual({ low: 0, high: 0.017, mean: 0.0085 });
  });

  test('nothing where all records begin above the mass', () => {
    const gas = { ...gasById('CO'), records: [{ ...gasById('CO').records[0], lowMassCutoff: 15 }] as const };
    expect(recordedRatio(gas, 14, 28)).toBe(null);
    expect(recordedRatio(gas, 20, 28)).toEqual({ low: 0, high: 0, mean: 0 });
  });
});

describe('off the records', () => {
  const check = (fourteen: ReturnType<typeof ratio>) =>
    offTheRecords({
      gas: gasById('N2'),
      masses: [14, 28],
      ratios: [fourteen, ratio(1, 0, 0, 0)],
      referenceMass: 28,
    });

  // Published: 13.8 % of m/z 28. Three times that and a third of it are the limits.
  test.each([
    [0.138, true],
    [0.3, true],
    [0.06, true],
    [0.45, false],
    [0.04, false],
    [0, false],
  ])('14/28 = %s passes: %s', (mean, passes) => {
    expect(check(ratio(mean)) === null).toBe(passes);
  });

  test('what noise allows is not refused', () => {
    expect(check(ratio(0.04, 0.02))).toBe(null);
  });

  test('the sentence gives both numbers', () => {
    expect(check(ratio(0.45))).toBe(
      'The peaks are not those of nitrogen: m/z 14 stands at 45 % of m/z 28, published is 14 %.',
    );
  });
});

describe('a pattern that wanders', () => {
  const check = (one: ReturnType<typeof ratio>) =>
    unsteadyPattern({ masses: [14, 28], ratios: [one, ratio(1, 0, 0, 0)], referenceMass: 28 });

  test.each([
    ['by a tenth', ratio(0.14, 0.01, 0.014), true],
    ['by a third', ratio(0.14, 0.01, 0.046), false],
    ['by a third, all of it noise', ratio(0.14, 0.01, 0.046, 0.01), true],
    ['in a peak that nobody goes by', ratio(0.01, 0.01, 0.01), true],
  ])('%s', (_name, one, passes) => {
    expect(check(one) === null).toBe(passes);
  });
});
