/**
 * Decision and detection limits.
 *
 * L. A. Currie, Anal. Chem. 40 (1968) 586: with a decision at k_α standard deviations of the blank, a true amount of
 * (k_α + k_β) of them is missed with probability β. With our decision at three standard deviations a single gas without
 * pattern errors must be called detected in α = 0.135 % of blanks, in 50 % at 3 σ and in 95 % at (3 + 1.645) σ; its upper
 * limit must hold in 95 % or more. Normal quantiles: any table (1.645 at 95 %).
 * His table for paired counts (5 % and 5 %): background 0, 1, 10, 100, 1000 counts: detection limit 2.71, 7.36, 17.42,
 * 49.24, 149.85, that is k² + 2 k √(2 B) with k = 1.645: shot noise is a variance proportional to the signal.
 */
import { describe, expect, test } from 'vitest';
import type { Column } from '../../shared/analysis/columns.ts';
import { joinColumns } from '../../shared/analysis/design.ts';
import { ELEMENTARY_CHARGE_COULOMB, shotVariancePerAmpere } from '../../shared/analysis/electrometer.ts';
import { makeFitter } from '../../shared/analysis/fit.ts';
import { gasIntervals } from '../../shared/analysis/intervals.ts';
import { ownScale } from '../../shared/analysis/scaling.ts';
import { seededRandom } from '../support/instrument.ts';

const TRIALS = 4000;
const DECISION = 3;
const ONE_SIDED_95 = 1.645;

/** A protected gas with two peaks, 100 : 50, whose pattern is known exactly. */
const ALONE = {
  id: 'Ar',
  rows: Int32Array.of(0, 1),
  response: Float64Array.of(1, 0.5),
  relativeError: new Float64Array(2),
  peakResponse: 1,
  referenceMass: 40,
  referencePlace: 0,
  sensitivityError: 0.1,
  gaugeFactor: 1,
  omittedShare: 0,
  lastRow: 1,
  unlisted: [],
  catalogueError: 0,
  isProtected: true,
  reportable: true,
  seenShare: 1,
} as Column;
const fitter = makeFitter(joinColumns([40, 20], [ALONE], []));
/** Two peaks of one gas: σ of the amount is σ of a height / √(1 + 0.5²). */
const SIGMA = 1 / Math.hypot(1, 0.5);

function trial(amount: number, seed: number) {
  const random = seededRandom(seed);
  let detected = 0;
  let undetected = 0;
  let limitHolds = 0;
  for (let i = 0; i < TRIALS; i++) {
    const heights = Float64Array.of(amount + random.normal(), 0.5 * amount + random.normal());
    const fit = fitter.fit(heights, Float64Array.of(1, 1));
    const [gas] = gasIntervals(fit, ownScale(fit));
    if (gas!.detected) detected++;
    else {
      undetected++;
      if (gas!.high >= amount) limitHolds++;
    }
  }
  return { detected: detected / TRIALS, limitHolds: limitHolds / undetected, undetected };
}

/** Four standard deviations of a share of so many trials. */
const width = (share: number): number => 4 * Math.sqrt((share * (1 - share)) / TRIALS);

describe('one gas without pattern errors', () => {
  test.each([
    [0, 0.00135],
    [DECISION, 0.5],
    [DECISION + ONE_SIDED_95, 0.95],
  ])('a true amount of %d standard deviations is detected with probability %d', (sigmas, probability) => {
    expect(Math.abs(trial(sigmas * SIGMA, 31).detected - probability)).toBeLessThan(width(probability));
  });

  test.each([0, 1, 2, 3])(
    'at %d standard deviations, the limit of what was not detected holds nineteen times in twenty',
    (sigmas) => {
      const { limitHolds, undetected } = trial(sigmas * SIGMA, 32);
      expect(undetected).toBeGreaterThan(1000);
      expect(limitHolds).toBeGreaterThan(0.95 - 4 * Math.sqrt((0.95 * 0.05) / undetected));
    },
  );
});

test.each([
  [0, 2.71],
  [1, 7.36],
  [10, 17.42],
  [100, 49.24],
  [1000, 149.85],
])('paired counts, background %i: the detection limit is %d counts', (background, expected) => {
  // One count in one second is e amperes, so the shot variance is counted in counts here.
  const variancePerCount = shotVariancePerAmpere(1) / ELEMENTARY_CHARGE_COULOMB;
  const blank = Math.sqrt(2 * background * variancePerCount);
  const limit = ONE_SIDED_95 ** 2 + 2 * ONE_SIDED_95 * blank;
  expect(Math.abs(limit - expected)).toBeLessThan(0.015);
});
