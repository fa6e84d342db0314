import { describe, expect, test } from 'vitest';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { makeDesign } from '../../../shared/analysis/design.ts';
import { explainPeaks } from '../../../shared/analysis/explain.ts';
import { makeFitter } from '../../../shared/analysis/fit.ts';
import { gasIntervals } from '../../../shared/analysis/intervals.ts';
import {
  aboveGaugeRemark,
  doubtfulNameRemarks,
  gaugeRemark,
  poorFitRemark,
  scaledRemark,
  unexplainedRemark,
} from '../../../shared/analysis/remarks.ts';
import { sayPressure, sayPressureTwice, sayShare } from '../../../shared/analysis/say.ts';
import { ownScale } from '../../../shared/analysis/scaling.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';

const masses = Array.from({ length: 100 }, (_, i) => i + 1);
const design = makeDesign(gasColumns(catalogueFor([]), masses), 'quadrupole');

function fitOf(truth: Readonly<Record<string, number>>, extra: Readonly<Record<number, number>> = {}) {
  const heights = new Float64Array(masses.length);
  for (const column of design.columns) {
    column.rows.forEach((row, k) => {
      heights[row]! += (truth[column.id] ?? 0) * column.response[k]!;
    });
  }
  for (const [mass, height] of Object.entries(extra)) heights[Number(mass) - 1]! += height;
  return makeFitter(design).fit(
    heights,
    heights.map(() => 1e-10),
  );
}

describe('what explains a peak', () => {
  test('parts and what is left make up the whole, and artefacts are named as such', () => {
    const { peaks } = explainPeaks(fitOf({ H2O: 1, CO2: 0.1 }, { 19: 0.02, 93: 0.003 }), 1);
    for (const peak of peaks) {
      if (peak.parts.length === 0) continue;
      const whole = peak.parts.reduce((sum, part) => sum + part.share, peak.unexplained);
      expect(whole).toBeGreaterThan(0.98);
      expect(whole).toBeLessThan(1.000001);
    }
    expect(peaks[18]!.parts[0]!.gas).toBe('desorbed F+');
    expect(peaks[17]!.parts[0]!.gas).toBe('H2O');
  });

  test('a peak that no gas has is listed with its share; a fragment that is a fifth too strong is not', () => {
    const fit = fitOf({ H2O: 1, CO2: 0.1 }, { 93: 0.003, 17: 0.04 });
    const explanation = explainPeaks(fit, 1);
    expect(explanation.listed.map(({ mass }) => mass)).toEqual([93]);
    expect(explanation.peaks[92]!.unexplained).toBeGreaterThan(0.9);
    expect(explanation.peaks[16]!.unexplained).toBe(0);
    expect(explanation.unexplained).toBeGreaterThan(0.001);
    expect(unexplainedRemark(explanation)!.text).toMatch(/^No gas of this chamber explains m\/z 93 \(0\.2\d %\)/);
  });

  test('a spectrum that is explained has no such remark', () => {
    expect(unexplainedRemark(explainPeaks(fitOf({ H2O: 1 }), 1))).toBe(null);
  });
});

describe('against the gauge', () => {
  const fit = fitOf({ H2O: 1, N2: 0.3 });
  const intervals = gasIntervals(fit, ownScale(fit));

  test('a sum within the errors of both is not remarked', () => {
    expect(aboveGaugeRemark(fit, intervals, 1.2)).toBe(null);
    expect(aboveGaugeRemark(fit, intervals, 50)).toBe(null);
  });

  test('a partial pressure above the total is impossible, and the gas is named', () => {
    const remark = aboveGaugeRemark(fit, intervals, 0.04)!;
    expect(remark.code).toBe('above-gauge');
    expect(remark.text).toMatch(/H2O alone is more than the total/);
  });

  test('a gauge that is missing or absurd is a state with a reason', () => {
    expect(gaugeRemark({ kind: 'missing' }, true)!.text).toMatch(/only ratios/);
    expect(gaugeRemark({ kind: 'absurd', valuePa: -1 }, false)!.code).toBe('gauge-not-believed');
    expect(gaugeRemark({ kind: 'reading', pressurePa: 1 }, false)).toBe(null);
    expect(scaledRemark(2.3e-7).text).toMatch(/2\.3e-7 Pa \(2\.3e-9 mbar\)/);
  });
});

describe('a name in doubt', () => {
  const few = makeDesign(gasColumns(catalogueFor([]), [18, 43]), 'quadrupole');
  const fit = makeFitter(few).fit(Float64Array.of(1, 0.01), Float64Array.of(1e-10, 1e-10));

  test('resting on too few of its masses is told by the mass, and no gas is claimed', () => {
    const [remark] = doubtfulNameRemarks(fit);
    expect(remark!.code).toBe('may-be-another');
    expect(remark!.text).toMatch(/^m\/z 43 shows \S+ or \S+.*none is counted as seen/);
    const claimed = gasIntervals(fit, ownScale(fit))[fit.alternatives[0]!.column]!;
    expect(claimed).toMatchObject({ detected: false, low: 0 });
    expect(claimed.high).toBeGreaterThan(claimed.amount);
  });

  test('of a gas whose masses were measured is said with the other names', () => {
    const sure = { ...fit, alternatives: fit.alternatives.map((one) => ({ ...one, guessed: false })) };
    expect(doubtfulNameRemarks(sure)[0]!.text).toMatch(/^What is called \S+ here may as well be \S+/);
  });
});

test('a bad fit is said from chi square 3 per degree of freedom', () => {
  expect(poorFitRemark(3)).toBe(null);
  expect(poorFitRemark(null)).toBe(null);
  expect(poorFitRemark(7.25)!.text).toMatch(/7\.3/);
});

test('numbers in sentences', () => {
  expect(sayPressure(2.34e-7)).toBe('2.3e-7 Pa');
  expect(sayPressureTwice(1e-4)).toBe('1.0e-4 Pa (1.0e-6 mbar)');
  expect([0.5, 0.0123, 0.0004, 1e-6].map(sayShare)).toEqual(['50 %', '1.2 %', '0.04 %', 'less than 0.01 %']);
});
