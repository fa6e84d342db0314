/** Calculated shapes with a little noise; the tables of others are in tests/reference/fits.test.ts. */
import { describe, expect, test } from 'vitest';
import { fitRateOfRise } from '../../../../shared/analysis/fits/rateOfRise.ts';
import { makeRandom } from '../../../support/world/random.ts';

const times = Array.from({ length: 40 }, (_, k) => 20 * k);
const rise = (inflow: number, height: number, tau: number, noise: number, seed: number) => {
  const random = makeRandom(seed);
  return times.map((t) => 1e-6 + inflow * t + height * (1 - Math.exp(-t / tau)) + noise * random.normal());
};

describe('rate of rise', () => {
  test('the interval holds the true inflow beside outgassing', () => {
    let held = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const fit = fitRateOfRise(times, rise(2e-7, 5e-5, 120, 2e-7, seed))!;
      if (fit.inflowLow <= 2e-7 && fit.inflowHigh >= 2e-7) held++;
    }
    // Binomial with p = 0.95 of 40: 32 and fewer happen once in ten thousand.
    expect(held).toBeGreaterThan(32);
  });

  test('a bend that has not come to an end cannot be told from a line, and says so', () => {
    expect(fitRateOfRise(times, rise(1e-8, 5e-5, 600, 1e-9, 3))).toMatchObject({ separable: false });
    expect(fitRateOfRise(times, rise(1e-7, 0, 100, 1e-8, 3))).toMatchObject({ outgassing: null, separable: true });
  });

  test('too little to say anything', () => {
    expect(fitRateOfRise([0, 1, 2], [1, 2, 3])).toBeNull();
    expect(fitRateOfRise([1, 1, 1, 1, 1, 1, 1], [1, 2, 3, 4, 5, 6, 7])).toBeNull();
  });
});
