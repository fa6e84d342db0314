/**
 * Average run lengths of charts on independent normal values, and what becomes of them when values remember each other.
 *
 * Published, to the digits printed:
 * - J. M. Lucas and R. B. Crosier, Technometrics 24 (1982) 199, Table 1 (two-sided CUSUM k 0.5, h 4, without and with the
 *   head start h/2; as quoted in the documents of the CRAN package spc). Their line at 5 σ is left out: nobody here has
 *   recomputed it. With head start at 3 σ the print says 1.32 and the integral equation 1.3254, so the print was cut, not
 *   rounded: tolerance 0.0055 there.
 * - D. Brook and D. A. Evans, Biometrika 59 (1972) 539: k 0.5, h 3 (Markov chain: 117.59, exact 117.596).
 * - L. C. Vance, J. Quality Technology 18 (1986) 189, Table 1: k 0, h 10. At −0.25 σ the print says 2071.51 and numpy
 *   2071.57: tolerance 0.07 there.
 * - S. V. Crowder, Technometrics 29 (1987) 401, Table 1: tolerance 0.01 (2 σ: 1.94 printed, 1.95 recomputed).
 * - J. M. Lucas and M. S. Saccucci, Technometrics 32 (1990) 1, Table 3: λ 0.5 and 0.03 (schemes made for 500: ±0.6 there).
 * - The manual of a statistics package of 1999, quoted in the same CRAN documents, with ten digits: tolerance 1e-6.
 * Recomputed with numpy and scipy (Gauss–Legendre nodes), two decimals: one-sided k 0.5 with h 4 and 5, two-sided h 5
 * (D. C. Montgomery's table, from memory, agrees), five further EWMAs.
 * False-alarm budget: normal tails by scipy.
 * Autocorrelated values: 4000 simulated runs of another generator; ours may differ by 8 %.
 */
import { describe, expect, test } from 'vitest';
import {
  averageRunLengthFor,
  thresholdForCusum,
  thresholdForEwma,
  thresholdForSingleValues,
} from '../../shared/analysis/sequential/alarmBudget.ts';
import { averageRunLengthOfCusum, averageRunLengthOfTwoSidedCusum } from '../../shared/analysis/sequential/cusum.ts';
import { averageRunLengthOfEwma } from '../../shared/analysis/sequential/ewma.ts';
import { simulatedRunLength } from '../../shared/analysis/sequential/simulatedRunLength.ts';
import { seededRandom } from '../support/instrument.ts';

/** Half a unit of the last printed digit, and a little for numbers that lie on it. */
const printedTolerance = (printed: number): number => {
  const decimals = String(printed).split('.')[1]?.length ?? 0;
  return 0.51 * 10 ** -decimals;
};

function expectRow(
  shifts: readonly number[],
  expected: readonly number[],
  {
    of,
    tolerance = () => 0.006,
  }: { of: (shift: number) => number; tolerance?: (printed: number, shift: number) => number },
): void {
  shifts.forEach((shift, i) => {
    const want = expected[i]!;
    expect(Math.abs(of(shift) - want), `shift ${shift}: ${of(shift)} for ${want}`).toBeLessThanOrEqual(
      tolerance(want, shift),
    );
  });
}

describe('CUSUM', () => {
  const shifts = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4];

  test('two-sided, k 0.5, h 4, without and with head start (Lucas and Crosier)', () => {
    expectRow(shifts, [168, 74.2, 26.6, 13.3, 8.38, 4.75, 3.34, 2.62, 2.19, 1.71], {
      of: (shift) => averageRunLengthOfTwoSidedCusum({ reference: 0.5, interval: 4 }, shift),
      tolerance: printedTolerance,
    });
    expectRow(shifts, [149, 62.7, 20.1, 8.97, 5.29, 2.86, 2.01, 1.59, 1.32, 1.07], {
      of: (shift) => averageRunLengthOfTwoSidedCusum({ reference: 0.5, interval: 4, headStart: 2 }, shift),
      tolerance: (printed, shift) => (shift === 3 ? 0.0055 : printedTolerance(printed)),
    });
  });

  test('two-sided, k 0.5, h 5', () => {
    expectRow(shifts, [465.44, 139.49, 38, 17.05, 10.38, 5.75, 4.01, 3.11, 2.57, 2.01], {
      of: (shift) => averageRunLengthOfTwoSidedCusum({ reference: 0.5, interval: 5 }, shift),
    });
  });

  test('one-sided, k 0.5, h 4 and 5', () => {
    const few = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 3];
    expectRow(few, [335.37, 77.08, 26.68, 13.29, 8.38, 4.75, 3.34, 2.19], {
      of: (shift) => averageRunLengthOfCusum({ reference: 0.5, interval: 4 }, shift),
    });
    expectRow(few, [930.89, 141.69, 38.01, 17.05, 10.38, 5.75, 4.01, 2.57], {
      of: (shift) => averageRunLengthOfCusum({ reference: 0.5, interval: 5 }, shift),
    });
  });

  test('k 0.5, h 3 (Brook and Evans) and k 0, h 10 (Vance)', () => {
    expectRow([0, 1.5], [117.59, 3.75], { of: (s) => averageRunLengthOfCusum({ reference: 0.5, interval: 3 }, s) });
    expectRow(
      [-0.25, -0.125, 0, 0.125, 0.25, 0.5, 0.75, 1],
      [2071.51, 400.28, 124.66, 59.3, 36.71, 20.37, 14.06, 10.75],
      {
        of: (shift) => averageRunLengthOfCusum({ reference: 0, interval: 10 }, shift),
        tolerance: (_, shift) => (shift === -0.25 ? 0.07 : 0.006),
      },
    );
  });

  test('k 0.25, h 8 at 2.5 σ with ten digits, and with a head start of 0.1', () => {
    const design = { reference: 0.25, interval: 8 };
    expect(Math.abs(averageRunLengthOfCusum(design, 2.5) - 4.1500836225)).toBeLessThan(1e-6);
    expect(Math.abs(averageRunLengthOfCusum({ ...design, headStart: 0.1 }, 2.5) - 4.1061588131)).toBeLessThan(1e-6);
  });
});

describe('EWMA', () => {
  const shifts = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4];
  const of = (weight: number, width: number) => (shift: number) => averageRunLengthOfEwma({ weight, width }, shift);

  test('λ 0.25, L 3 at 1 σ with eleven digits', () => {
    expect(Math.abs(of(0.25, 3)(1) - 11.154267016)).toBeLessThan(1e-8);
  });

  test('λ 0.5 and 0.05, L 2 (Crowder)', () => {
    expectRow([0, 1, 2, 3], [26.45, 4.91, 1.94, 1.26], { of: of(0.5, 2), tolerance: () => 0.01 });
    expectRow([0, 1, 2, 3], [127.53, 8.38, 4.04, 2.76], { of: of(0.05, 2), tolerance: () => 0.01 });
  });

  test('λ 0.5 and 0.03 (Lucas and Saccucci)', () => {
    const tolerance = (printed: number, shift: number) => (shift === 0 ? 0.6 : printedTolerance(printed));
    expectRow(shifts, [500, 255, 88.8, 35.9, 17.5, 6.53, 3.63, 2.5, 1.93, 1.34], { of: of(0.5, 3.071), tolerance });
    expectRow(shifts, [500, 76.7, 29.3, 17.6, 12.6, 8.07, 5.99, 4.8, 4.03, 3.11], { of: of(0.03, 2.437), tolerance });
  });

  test.each([
    [0.4, 3.054, [499.95, 223.73, 71.2, 28.42, 14.26, 5.87, 3.52, 2.54, 2.02, 1.44]],
    [0.25, 2.998, [499.84, 170.3, 48.29, 20.11, 11.14, 5.46, 3.61, 2.74, 2.26, 1.73]],
    [0.2, 2.962, [499.74, 150.22, 41.76, 18.15, 10.54, 5.5, 3.74, 2.88, 2.38, 1.86]],
    [0.1, 2.814, [499.58, 106.32, 31.3, 15.85, 10.33, 6.08, 4.36, 3.44, 2.87, 2.19]],
    [0.05, 2.615, [499.93, 84.01, 28.76, 16.37, 11.38, 7.11, 5.22, 4.17, 3.5, 2.69]],
  ])('λ %d, L %d, recomputed', (weight, width, expected) => {
    expectRow(shifts, expected, { of: of(weight, width) });
  });
});

describe('false-alarm budget', () => {
  test.each([
    [1, 43_200, 43_200, 4.07],
    [25, 43_200, 1_080_000, 4.77],
    [25, 2880, 72_000, 4.19],
  ])('%d statistics of %d scans a month, one false alarm', (statistics, scansPerMonth, length, z) => {
    const needed = averageRunLengthFor({ falseAlarmsPerMonth: 1, scansPerMonth, statistics });
    expect(needed).toBe(length);
    expect(Math.abs(thresholdForSingleValues(needed) - z)).toBeLessThan(0.006);
  });

  test('interval of a CUSUM with k 0.5 that keeps to it', () => {
    const table = { 370: 4.095, 1000: 5.071, 10000: 7.361, 43200: 8.823, 100000: 9.662, 1080000: 12.041 };
    for (const [length, interval] of Object.entries(table)) {
      expect(Math.abs(thresholdForCusum(Number(length), 0.5) - interval)).toBeLessThan(0.0006);
    }
  });

  test('and what is paid for it in scans', () => {
    expectRow([0.5, 1, 2, 3], [174.4, 24.5, 8.7, 5.4], {
      of: (shift) => averageRunLengthOfCusum({ reference: 0.5, interval: 12.041 }, shift),
      tolerance: printedTolerance,
    });
  });

  test('width of an EWMA: the schemes that were made for 500', () => {
    expect(Math.abs(thresholdForEwma(500, 0.5) - 3.071)).toBeLessThan(0.001);
    expect(Math.abs(thresholdForEwma(500, 0.03) - 2.437)).toBeLessThan(0.001);
  });
});

describe('values that remember each other', () => {
  test.each([
    [0, 933],
    [0.25, 239],
    [0.5, 107],
    [0.75, 68],
    [0.9, 72],
  ])('correlation %d: false alarms after %d values instead of 931', (correlation, length) => {
    const { normal } = seededRandom(7);
    const simulated = simulatedRunLength({ reference: 0.5, interval: 5 }, { correlation, runs: 4000, normal });
    expect(Math.abs(simulated / length - 1)).toBeLessThan(0.08);
  });
});
