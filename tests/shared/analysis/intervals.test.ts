/** The arithmetic of the intervals is checked against numpy in tests/reference/estimate.test.ts; here what must hold. */
import { describe, expect, test } from 'vitest';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { makeDesign } from '../../../shared/analysis/design.ts';
import { makeFitter } from '../../../shared/analysis/fit.ts';
import { gainOfSum, gainRow, makeGains } from '../../../shared/analysis/gains.ts';
import { GAUGE_UNCERTAINTY, gaugeReading } from '../../../shared/analysis/gauge.ts';
import { inseparablePair } from '../../../shared/analysis/inseparable.ts';
import { gasIntervals } from '../../../shared/analysis/intervals.ts';
import { ownScale, scaleToGauge } from '../../../shared/analysis/scaling.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { seededRandom } from '../../support/instrument.ts';

function fitOf(masses: readonly number[], truth: Readonly<Record<string, number>>, sigma = 1e-5) {
  const random = seededRandom(6);
  const design = makeDesign(gasColumns(catalogueFor([]), masses), 'quadrupole');
  const heights = Float64Array.from(masses, () => sigma * random.normal());
  for (const column of design.columns) {
    column.rows.forEach((row, k) => {
      heights[row]! += (truth[column.id] ?? 0) * column.response[k]!;
    });
  }
  const fit = makeFitter(design).fit(
    heights,
    heights.map(() => sigma ** 2),
  );
  const of = (id: string) => design.columns.findIndex((column) => column.id === id);
  return { fit, design, of };
}

const ALL = Array.from({ length: 100 }, (_, i) => i + 1);
const WET = { H2O: 1, H2: 0.2, N2: 0.1, CO: 0.05, CO2: 0.05, O2: 0.01, Ar: 0.002, CH4: 0.01 };

describe('gains', () => {
  const { fit, of } = fitOf(ALL, WET);
  const gains = makeGains(fit, ownScale(fit));

  test('applied to the heights they give the amounts back, but for gases that the bound holds at zero', () => {
    for (const id of ['H2O', 'CO2', 'Ar', 'O2']) {
      const { gain } = gainRow(gains, of(id));
      const amount = gain.reduce((sum, g, row) => sum + g * fit.heights[row]!, 0);
      expect(amount / fit.amounts[of(id)]!).toBeCloseTo(1, 4);
    }
  });

  test('the three variances add up to the diagonal of the covariance', () => {
    const row = gainRow(gains, of('N2'));
    const place = fit.placeOf[of('N2')]!;
    const whole = fit.covariance[place * fit.covarianceColumns.length + place]!;
    expect((row.noiseVariance + row.patternVariance + row.ownVariance) / whole).toBeCloseTo(1, 6);
  });

  test('the sum of N2 and CO is known far better than its parts', () => {
    const variance = (columns: number[]) => {
      const { noiseVariance, ownVariance, patternVariance } = gainOfSum(gains, columns);
      return noiseVariance + ownVariance + patternVariance;
    };
    expect(variance([of('N2'), of('CO')])).toBeLessThan(0.05 * variance([of('CO')]));
  });
});

describe('intervals', () => {
  test('hold the truth, and absent gases get a limit', () => {
    const { fit, design } = fitOf(ALL, WET);
    for (const interval of gasIntervals(fit, ownScale(fit))) {
      const truth = (WET as Record<string, number>)[design.columns[interval.column]!.id] ?? 0;
      expect(interval.high).toBeGreaterThanOrEqual(truth);
      expect(interval.low).toBeLessThanOrEqual(truth);
      expect(Number.isFinite(interval.high)).toBe(true);
      if (!interval.detected) expect(interval.low).toBe(0);
    }
  });

  test('N2 and CO from m/z 28 alone: neither is claimed, each is limited by the peak, the sum is given', () => {
    const { fit, of } = fitOf([2, 18, 28, 32, 40, 44], { H2: 0.2, H2O: 1, N2: 0.1, CO: 0.1 }, 1e-4);
    const scaling = ownScale(fit);
    const intervals = gasIntervals(fit, scaling);
    for (const id of ['N2', 'CO']) {
      expect(intervals[of(id)]!.detected).toBe(false);
      expect(intervals[of(id)]!.high).toBeGreaterThan(0.1);
      expect(intervals[of(id)]!.high).toBeLessThan(0.5);
    }
    const pair = inseparablePair(fit, intervals, scaling)!;
    expect(pair.correlation).toBeLessThan(-0.99);
    expect(pair.lowPa).toBeLessThan(0.2);
    expect(pair.highPa).toBeGreaterThan(0.2);
    expect(pair.text).toMatch(/cannot be told apart.*go by the sum/);
  });

  test('much nitrogen beside little carbon monoxide: only the carbon monoxide is said to be unknown', () => {
    const { fit } = fitOf(ALL, { H2O: 0.1, N2: 1, O2: 0.25, Ar: 0.012, CO: 0.01 });
    const scaling = ownScale(fit);
    const pair = inseparablePair(fit, gasIntervals(fit, scaling), scaling);
    expect(pair?.text ?? 'How much of m/z 28 is carbon monoxide').toMatch(/^How much of m\/z 28 is carbon monoxide/);
  });

  test('without N2 and CO in reach there is no such pair', () => {
    const { fit } = fitOf([2, 18, 40, 44], { H2: 0.2, H2O: 1 });
    expect(inseparablePair(fit, gasIntervals(fit, ownScale(fit)), ownScale(fit))).toBe(null);
  });
});

describe('scale from the gauge', () => {
  const { fit, of } = fitOf(ALL, WET);

  test('is self-consistent: the gauge reads what it would read in the mixture that is reported', () => {
    const scaling = scaleToGauge(fit, 2e-6)!;
    const read = fit.design.columns
      .slice(0, fit.design.gasCount)
      .reduce((sum, column, j) => sum + column.gaugeFactor * fit.amounts[j]! * scaling.factor, 0);
    expect(read / 2e-6).toBeCloseTo(1, 12);
  });

  test('a gas that is nearly all there is keeps little of the error of its own sensitivity', () => {
    const scaling = scaleToGauge(fit, 2e-6)!;
    const water = fit.design.columns[of('H2O')]!;
    const argon = fit.design.columns[of('Ar')]!;
    expect(scaling.sensitivityError(of('H2O'))).toBeLessThan(
      Math.hypot(water.sensitivityError, GAUGE_UNCERTAINTY, 0.15),
    );
    expect(scaling.sensitivityError(of('Ar'))).toBeGreaterThan(argon.sensitivityError);
  });

  test('nothing found, nothing scaled', () => {
    const empty = { ...fit, amounts: new Float64Array(fit.amounts.length) };
    expect(scaleToGauge(empty, 1e-6)).toBe(null);
  });
});

describe('gauge', () => {
  const scan = (totalPressurePa: number | null) => ({ totalPressurePa }) as Parameters<typeof gaugeReading>[0];

  test.each([
    [null, 'missing'],
    [0, 'absurd'],
    [-3e-7, 'absurd'],
    [Number.NaN, 'absurd'],
    [1e7, 'absurd'],
    [3e-7, 'reading'],
  ])('%s is %s', (value, kind) => {
    expect(gaugeReading(scan(value)).kind).toBe(kind);
  });
});
