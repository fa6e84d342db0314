import { describe, expect, test } from 'vitest';
import { alternativesOf } from '../../../shared/analysis/alternatives.ts';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { type Design, makeDesign } from '../../../shared/analysis/design.ts';
import { makeFitter } from '../../../shared/analysis/fit.ts';
import {
  choose,
  covarianceOf,
  evidenceQuestion,
  makeFitState,
  solveOnce,
  writeResidual,
} from '../../../shared/analysis/fitState.ts';
import { scoreOf } from '../../../shared/analysis/score.ts';
import { tolerantScore } from '../../../shared/analysis/tolerantScore.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { seededRandom } from '../../support/instrument.ts';

const masses = Array.from({ length: 100 }, (_, i) => i + 1);
const design = makeDesign(gasColumns(catalogueFor([]), masses), 'quadrupole');
const of = (id: string) => design.columns.findIndex((column) => column.id === id);

function clean(target: Design, truth: Readonly<Record<string, number>>): Float64Array {
  const out = new Float64Array(target.masses.length);
  for (const [id, amount] of Object.entries(truth)) {
    const { rows, response } = target.columns.find((column) => column.id === id)!;
    rows.forEach((row, k) => {
      out[row]! += amount * response[k]!;
    });
  }
  return out;
}

const TRUTH = { H2: 0.3, H2O: 1, N2: 0.2, CO2: 0.05, Ar: 0.003, acetone: 0.02, 'hydrocarbon-oil': 0.004 };

describe('fit', () => {
  test('exact patterns without noise come back exactly, rare gases by evidence', () => {
    const heights = clean(design, TRUTH);
    const fit = makeFitter(design).fit(
      heights,
      heights.map(() => 1e-16),
    );
    for (const [id, amount] of Object.entries(TRUTH)) expect(fit.amounts[of(id)]! / amount).toBeCloseTo(1, 4);
    expect(fit.included[of('acetone')]).toBe(1);
    expect(fit.included[of('toluene')]).toBe(0);
    expect(fit.included[of('CH4')]).toBe(1);
  });

  test('a scan does not remember the one before', () => {
    const random = seededRandom(4);
    const noisy = (truth: Record<string, number>) => clean(design, truth).map((h) => h + 1e-5 * random.normal());
    const noise = Float64Array.from(masses, () => 1e-10);
    const [oily, dry] = [noisy(TRUTH), noisy({ H2: 1, CO: 0.1 })];
    const used = makeFitter(design);
    used.fit(oily, noise);
    used.fit(dry, noise);
    const again = used.fit(oily, noise);
    const fresh = makeFitter(design).fit(oily, noise);
    expect(Array.from(again.amounts)).toEqual(Array.from(fresh.amounts));
    expect(Array.from(again.covariance)).toEqual(Array.from(fresh.covariance));
  });
});

describe('names in doubt', () => {
  const fitOf = (target: Design) => {
    const heights = clean(target, { H2: 0.3, H2O: 1, N2: 0.2, acetone: 0.02 });
    return makeFitter(target).fit(
      heights,
      heights.map(() => 1e-10),
    );
  };

  test('acetone from a whole spectrum is acetone', () => {
    expect(fitOf(design).alternatives).toEqual([]);
  });

  test('from m/z 43 alone it may be several gases, and the fit says which', () => {
    const few = makeDesign(gasColumns(catalogueFor([]), [2, 16, 17, 18, 28, 32, 40, 43, 44]), 'quadrupole');
    const { alternatives } = fitOf(few);
    const names = alternatives.flatMap(({ column, others }) => [column, ...others].map((j) => few.columns[j]!.id));
    expect(names).toContain('acetone');
    expect(names.length).toBeGreaterThan(1);
  });

  test('asking for them leaves the answer as it was', () => {
    const heights = clean(design, TRUTH);
    const state = makeFitState(design, [0]);
    state.heights = heights;
    state.noiseVariance = heights.map(() => 1e-10);
    const included = design.columns.flatMap((column, j) => (column.isProtected || column.id === 'acetone' ? [j] : []));
    choose(state, included);
    state.variance.set(state.noiseVariance);
    solveOnce(state, false);
    const before = state.amounts.slice();
    alternativesOf(state, included, of('acetone'), 4);
    expect(Array.from(state.amounts)).toEqual(Array.from(before));
  });
});

describe('evidence for a gas outside the fit', () => {
  const protectedColumns = design.columns.flatMap((column, j) => (column.isProtected ? [j] : []));
  const stateFor = (heights: Float64Array, sigma: number) => {
    const state = makeFitState(design, protectedColumns);
    state.heights = heights;
    state.noiseVariance = Float64Array.from(masses, () => sigma ** 2);
    state.variance.set(state.noiseVariance);
    choose(state, protectedColumns);
    solveOnce(state, false);
    writeResidual(state);
    return { state, size: covarianceOf(state, false).length };
  };

  test('the score foresees what the fit would give', () => {
    const { state, size } = stateFor(clean(design, { H2: 0.3, Ar: 0.1, SO2: 0.02 }), 1e-4);
    const score = scoreOf(of('SO2'), evidenceQuestion(state, size));
    expect(score.estimate / 0.02).toBeCloseTo(1, 6);
    expect(score.z).toBeCloseTo(score.estimate / score.sigma, 6);
  });

  test('a fragment that this analyser lacks does not hide an oil in a clean scan', () => {
    const heights = clean(design, { H2O: 1, 'hydrocarbon-oil': 0.01 });
    const oil = design.columns[of('hydrocarbon-oil')]!;
    // Every fragment under a fifth of the largest is missing; noise is a hundred-thousandth of it.
    oil.rows.forEach((row, k) => {
      if (oil.response[k]! < 0.2 * oil.peakResponse) heights[row] = 0;
    });
    const { state, size } = stateFor(heights, 1e-6);
    expect(scoreOf(of('hydrocarbon-oil'), evidenceQuestion(state, size)).z).toBeGreaterThan(4);
    const fit = makeFitter(design).fit(heights, state.noiseVariance);
    expect(fit.amounts[of('hydrocarbon-oil')]! / 0.01).toBeCloseTo(1, 0);
  });

  test('a column that others imitate fully says nothing', () => {
    const same = { ...design.columns[of('Ar')]!, id: 'twin' };
    const twins: Design = makeDesign({ masses, columns: [design.columns[of('Ar')]!, same] }, 'ion trap');
    const question = {
      design: twins,
      residual: Float64Array.from(masses, () => 1),
      variance: Float64Array.from(masses, () => 1),
      placeOf: Int32Array.of(0, -1, -1),
      covariance: Float64Array.of(1 / same.response.reduce((sum, a) => sum + a * a, 0)),
      covarianceSize: 1,
      overlap: new Float64Array(3),
    };
    const score = scoreOf(1, question);
    expect(tolerantScore(twins.columns[1]!, question, 1)).toBe(null);
    expect(score.z).toBe(0);
    expect(score.sigma).toBe(Number.POSITIVE_INFINITY);
  });
});
