/**
 * Quiet chambers: vents, gas steps, transfers, gaps, late and doubled scans, spikes, drift, undeclared pump-downs, and
 * nothing wrong. The rate of false alarms is printed with its 95 % Poisson interval (Garwood: gamma quantiles, solved
 * here from the Poisson sum itself); the bound asserted is loose, since a few chamber-weeks know no rate.
 */
import { describe, expect, test } from 'vitest';
import { makeWorld } from '../../support/world/chamber.ts';
import { raisedOf, runWorld } from '../../support/world/run.ts';

const DAYS_PER_MONTH = 30;

/** P(X ≤ k) for a Poisson mean. */
function poissonUpTo(k: number, mean: number): number {
  let term = Math.exp(-mean);
  let sum = term;
  for (let i = 1; i <= k; i++) {
    term *= mean / i;
    sum += term;
  }
  return sum;
}

/** The mean at which P(X ≤ k) = p, by bisection: it falls as the mean grows. */
function meanWhere(k: number, p: number): number {
  let [low, high] = [0, 20 + 5 * k];
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (poissonUpTo(k, middle) > p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

const poisson95 = (count: number): [number, number] => [
  count === 0 ? 0 : meanWhere(count - 1, 0.975),
  meanWhere(count, 0.025),
];

test('the interval is the published one: 0 seen, at most 3.69; 10 seen, 4.80 to 18.39 (Garwood, Biometrika 28 (1936) 437)', () => {
  expect(poisson95(0)[1]).toBeCloseTo(3.689, 2);
  expect(poisson95(10)[0]).toBeCloseTo(4.795, 2);
  expect(poisson95(10)[1]).toBeCloseTo(18.39, 2);
});

describe('chamber-weeks in which nothing is wrong', () => {
  test('raise next to nothing, and nothing high', () => {
    const seeds = [6001, 6002, 6003, 6004, 6005, 6006];
    const days = 7;
    const raised = seeds.flatMap((seed) => raisedOf(runWorld(makeWorld(seed), { days })));
    const months = (seeds.length * days) / DAYS_PER_MONTH;
    const [low, high] = poisson95(raised.length).map((count) => (count / months).toFixed(2));
    const said = raised.map(({ event }) => event.signature).join(', ');
    console.info(`false alarms per chamber-month: ${(raised.length / months).toFixed(2)} (${low}–${high}) ${said}`);
    // One in a chamber-month would be 1.4 expected; four or more would then have a chance of one in twenty.
    expect(raised.length).toBeLessThan(4);
    expect(raised.filter(({ event }) => event.kind === 'raised' && event.priority === 'high')).toEqual([]);
  });
});
