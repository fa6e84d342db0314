/**
 * Fits against outside answers.
 *
 * - P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379, example: slope 4 with the 93 % interval as SciPy and the CRAN package
 *   deming test it (the interval printed in the paper is wrong); intercepts of both usual definitions from the same tests.
 * - NIST Statistical Reference Datasets, nonlinear regression, Misra1a (y = b₁(1 − exp(−b₂ x))) and DanWood
 *   (y = b₁ x^b₂): certified values, standard errors and residual sums, from both published starts.
 * - 40 CFR 1065.644, worked example of a closed volume: 0.00030 mol/s as printed (from memory); 2.9657×10⁻⁴ recomputed
 *   from its inputs with R = 8.314472.
 * - Rate of rise: a table calculated from P = P₀ + a t + b(1 − e^(−t/τ)) with V = 50 l, a V = 1×10⁻⁵ mbar·l/s,
 *   b = 5×10⁻⁵ mbar, τ = 120 s. Calculated, not measured: it checks the algebra, not the shape.
 * - Quantiles of the normal distribution: tables of the NIST/SEMATECH e-Handbook 1.3.6.7.1 (five digits) and the widely
 *   printed 1.959963984540054 (from memory). Of Student's t: tables of the same handbook, 1.3.6.7.2.
 */
import { describe, expect, test } from 'vitest';
import { powerLawArrival } from '../../shared/analysis/fits/arrival.ts';
import { fitCurve } from '../../shared/analysis/fits/curveFit.ts';
import { normalQuantile, studentQuantile } from '../../shared/analysis/fits/normal.ts';
import { fitPowerLaw, robustPowerLaw } from '../../shared/analysis/fits/powerLaw.ts';
import { fitRateOfRise, molarInflow } from '../../shared/analysis/fits/rateOfRise.ts';
import { theilSen } from '../../shared/analysis/fits/theilSen.ts';

/** Relative. */
const within = (value: number, certified: number, share: number) =>
  expect(Math.abs(value / certified - 1), `${value} against ${certified}`).toBeLessThan(share);

describe('Sen 1968', () => {
  const t = [1, 2, 3, 4, 10, 12, 18];
  const y = [9, 15, 19, 20, 45, 55, 78];

  test('slope, 93 % interval and intercept', () => {
    const fit = theilSen(t, y, 0.93)!;
    expect(fit.slope).toBe(4);
    expect(fit.low).toBeCloseTo(26 / 7, 12);
    expect(fit.high).toBeCloseTo(35 / 8, 12);
    expect(fit.intercept).toBe(6);
  });
});

describe('NIST StRD', () => {
  const misra = {
    x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
    y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
    b: [238.94212918, 5.5015643181e-4],
    se: [2.7070075241, 7.2668688436e-6],
    rss: 0.12455138894,
    rsd: 0.1018787633,
  };
  const saturating = {
    value: (x: number, [b1, b2]: readonly number[]) => b1! * -Math.expm1(-b2! * x),
    gradient: (x: number, [b1, b2]: readonly number[]) => [-Math.expm1(-b2! * x), b1! * x * Math.exp(-b2! * x)],
  };

  test.each([
    [500, 1e-4],
    [250, 5e-4],
  ])('Misra1a, a saturating rise, from (%s, %s)', (...start) => {
    const fit = fitCurve(saturating, misra.x, misra.y, start)!;
    misra.b.forEach((certified, k) => {
      within(fit.parameters[k]!, certified, 1e-8);
    });
    misra.se.forEach((certified, k) => {
      within(fit.standardErrors[k]!, certified, 1e-7);
    });
    within(fit.residualSum, misra.rss, 1e-9);
    within(fit.residualSigma, misra.rsd, 1e-8);
  });

  const wood = {
    x: [1.309, 1.471, 1.49, 1.565, 1.611, 1.68],
    y: [2.138, 3.421, 3.597, 4.34, 4.882, 5.66],
    b: [0.76886226176, 3.8604055871],
    se: [0.01828197386, 0.051726610913],
    rss: 0.0043173084083,
  };

  test.each([
    [1, 5],
    [0.7, 4],
  ])('DanWood, a power law, from (%s, %s)', (...start) => {
    const fit = fitPowerLaw(wood.x, wood.y, start)!;
    wood.b.forEach((certified, k) => {
      within(fit.parameters[k]!, certified, 1e-8);
    });
    wood.se.forEach((certified, k) => {
      within(fit.standardErrors[k]!, certified, 1e-7);
    });
    within(fit.residualSum, wood.rss, 1e-9);
  });

  test('the robust line on logarithms holds the certified exponent inside its interval', () => {
    const fit = robustPowerLaw(wood.x, wood.y)!;
    expect(-fit.high).toBeLessThan(wood.b[1]!);
    expect(-fit.low).toBeGreaterThan(wood.b[1]!);
  });
});

describe('rate of rise', () => {
  test('a closed volume after 40 CFR 1065.644', () => {
    const inflow = molarInflow({
      volumeM3: 0.002,
      seconds: 70,
      startPa: 25_300,
      startKelvin: 293.15,
      endPa: 50_600,
      endKelvin: 293.15,
    });
    within(inflow, 2.9657046846e-4, 5e-6);
    expect(Number(inflow.toFixed(5))).toBe(0.0003);
  });

  const t = [0, 60, 120, 180, 240, 300, 360, 420, 480, 540, 600];
  const leak = [1e-6, 1.3e-5, 2.5e-5, 3.7e-5, 4.9e-5, 6.1e-5, 7.3e-5, 8.5e-5, 9.7e-5, 1.09e-4, 1.21e-4];
  const both = [
    1e-6, 3.2673e-5, 5.6606e-5, 7.5843e-5, 9.2233e-5, 1.069e-4, 1.2051e-4, 1.3349e-4, 1.4608e-4, 1.5844e-4, 1.7066e-4,
  ];
  const outgassing = [
    1e-6, 2.0673e-5, 3.2606e-5, 3.9843e-5, 4.4233e-5, 4.6896e-5, 4.8511e-5, 4.949e-5, 5.0084e-5, 5.0445e-5, 5.0663e-5,
  ];
  const litres = 50;

  test('a leak alone is a line', () => {
    const fit = fitRateOfRise(t, leak)!;
    expect(fit.outgassing).toBeNull();
    within(fit.inflow * litres, 1e-5, 1e-6);
  });

  test('a leak under outgassing is the constant part', () => {
    const fit = fitRateOfRise(t, both)!;
    within(fit.inflow * litres, 1e-5, 2e-3);
    within(fit.outgassing!.height, 5e-5, 2e-3);
    within(fit.outgassing!.timeConstant, 120, 3e-3);
    expect(fit.separable).toBe(true);
  });

  test('outgassing alone leaves no leak', () => {
    const fit = fitRateOfRise(t, outgassing)!;
    expect(Math.abs(fit.inflow * litres)).toBeLessThan(2e-8);
    within(fit.outgassing!.timeConstant, 120, 2e-3);
  });
});

test('3×10⁻⁸ after ten hours is 1×10⁻⁸ after thirty when it falls as one over time', () => {
  const eta = powerLawArrival({ exponent: 1, low: 1, high: 1 }, { time: 10, pressure: 3e-8 }, 1e-8);
  expect(eta.at).toBeCloseTo(30, 9);
});

test.each([
  [0.975, 1.959963984540054],
  [0.95, 1.644854],
  [0.99, 2.326348],
  [0.9, 1.281552],
  [0.999, 3.090232],
  [0.001, -3.090232],
  [0.5, 0],
])('normal quantile of %s', (share, expected) => {
  expect(normalQuantile(share)).toBeCloseTo(expected, 5);
});

test.each([
  [0.95, 4, 2.132],
  [0.95, 10, 1.812],
  [0.99, 5, 3.365],
  [0.99, 10, 2.764],
  [0.999, 5, 5.893],
  [0.999, 10, 4.143],
])("Student's quantile of %s with %s degrees of freedom, within 2 per cent", (share, degrees, expected) => {
  within(studentQuantile(share, degrees), expected, 0.02);
});
