/** How long a condition must last, at scans of a second, a minute and ten minutes. */
import { describe, expect, test } from 'vitest';
import { meanShareOf, offDelayOf, onDelayOf, youngMean } from '../../../shared/watch/onDelay.ts';
import {
  GROSS_ON_DELAY,
  INSTRUMENT_ON_DELAY,
  MEAN_SHARE,
  OFF_DELAY,
  ON_DELAY,
} from '../../../shared/watch/parameters.ts';
import { makeRandom } from '../../support/world/random.ts';

const plain = { lane: 'scan', instrument: false, gross: false, witnessed: false } as const;
const PERIODS = [1, 60, 600];

describe('on-delay', () => {
  test('counts scans that take minutes, and time where they take seconds', () => {
    expect(PERIODS.map((periodSeconds) => onDelayOf({ ...plain, periodSeconds }))).toEqual([60, ON_DELAY, ON_DELAY]);
    const gross = { ...plain, gross: true };
    expect(PERIODS.map((periodSeconds) => onDelayOf({ ...gross, periodSeconds }))).toEqual([
      10,
      GROSS_ON_DELAY,
      GROSS_ON_DELAY,
    ]);
  });

  test('one scan is enough where the gauge says the same, but never a second', () => {
    const witnessed = { ...plain, gross: true, witnessed: true };
    expect(PERIODS.map((periodSeconds) => onDelayOf({ ...witnessed, periodSeconds }))).toEqual([10, 1, 1]);
    expect(onDelayOf({ ...witnessed, gross: false, periodSeconds: 600 })).toBe(ON_DELAY);
  });

  test('instruments wait longest, the day lane two hours', () => {
    const instrument = { ...plain, instrument: true, gross: true, witnessed: true };
    expect(PERIODS.map((periodSeconds) => onDelayOf({ ...instrument, periodSeconds }))).toEqual([
      300,
      INSTRUMENT_ON_DELAY,
      INSTRUMENT_ON_DELAY,
    ]);
    expect(PERIODS.map((periodSeconds) => periodSeconds * onDelayOf({ ...plain, lane: 'day', periodSeconds }))).toEqual(
      [7200, 7200, 7200],
    );
  });
});

test('off-delay: five scans, and a minute of scans that take seconds', () => {
  expect(PERIODS.map(offDelayOf)).toEqual([60, OFF_DELAY, OFF_DELAY]);
  expect(offDelayOf(null)).toBe(OFF_DELAY);
});

describe('the running mean', () => {
  test('holds 25 scans, and minutes of scans that take seconds', () => {
    expect(PERIODS.map(meanShareOf)).toEqual([1 / 600, MEAN_SHARE, MEAN_SHARE]);
    expect(meanShareOf(null)).toBe(MEAN_SHARE);
  });

  test.each([3, 10, 40])('after %i scans it scatters as its weight says', (scans) => {
    const random = makeRandom(scans);
    const share = 0.08;
    let [square, weight] = [0, 0];
    const runs = 6000;
    for (let run = 0; run < runs; run++) {
      let sum = 0;
      weight = 0;
      for (let i = 0; i < scans; i++) {
        sum += share * (random.normal() - sum);
        weight += share * (1 - weight);
      }
      square += (sum / weight) ** 2 / runs;
    }
    const final = share / (2 - share);
    expect(Math.sqrt(square / final) / youngMean(weight)).toBeCloseTo(1, 1);
  });
});
