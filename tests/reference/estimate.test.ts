/**
 * The estimator against an outside computation of one worked example: numpy 1.24 and scipy.optimize.nnls 1.10, written
 * apart from this code (weights, covariance, gains and the misfit of the patterns, 0.83575, by plain matrix algebra). The
 * expected numbers below are what that computation printed, to six digits; patterns and sensitivities are stated with it,
 * not taken from the catalogue.
 * The spectrum itself is invented.
 *
 * A second check splits nitrogen and carbon monoxide by hand (common practice: 14/28 = 13.79 % of N2 and 12/28 = 4.7 %
 * of CO, NIST Chemistry WebBook), with exact input.
 */
import { describe, expect, test } from 'vitest';
import type { Column } from '../../shared/analysis/columns.ts';
import { joinColumns } from '../../shared/analysis/design.ts';
import { makeFitter } from '../../shared/analysis/fit.ts';
import { choose, makeFitState, reweight, solveOnce } from '../../shared/analysis/fitState.ts';
import { gainOfSum, makeGains } from '../../shared/analysis/gains.ts';
import { gasIntervals } from '../../shared/analysis/intervals.ts';
import { ownScale } from '../../shared/analysis/scaling.ts';

const MASSES = [12, 14, 16, 17, 18, 20, 28, 29, 32, 40, 44];
const HEIGHTS = Float64Array.of(0.0238, 0.0331, 0.0361, 0.1921, 0.8668, 0.0048, 0.42, 0.00402, 0.0448, 0.0139, 0.1226);
const READ_NOISE = 2e-4;
const SHOT = 1e-6;
const FRAGMENT_ERROR = 0.3;

interface Row {
  readonly id: string;
  readonly sensitivity: number;
  readonly pattern: Readonly<Record<number, number>>;
  readonly error: number;
  readonly isProtected?: boolean;
}

const GASES: readonly Row[] = [
  { id: 'H2O', sensitivity: 0.867, pattern: { 18: 100, 17: 21.22, 16: 0.9, 20: 0.3 }, error: 0.1 },
  { id: 'N2', sensitivity: 1, pattern: { 28: 100, 14: 13.79, 29: 0.74 }, error: 0.05 },
  { id: 'CO', sensitivity: 1.064, pattern: { 28: 100, 12: 4.7, 16: 1.7, 29: 1.2 }, error: 0.1 },
  { id: 'O2', sensitivity: 0.899, pattern: { 32: 100, 16: 21.8 }, error: 0.1 },
  { id: 'Ar', sensitivity: 1.394, pattern: { 40: 100, 20: 14.62 }, error: 0.2 },
  { id: 'CO2', sensitivity: 1.217, pattern: { 44: 100, 28: 9.81, 16: 9.61, 12: 8.71 }, error: 0.1 },
  { id: 'NH3', sensitivity: 0.729, pattern: { 17: 100, 16: 80.08, 14: 2.2, 18: 0.4 }, error: 0.3, isProtected: false },
];

function column({ id, sensitivity, pattern, error, isProtected = true }: Row): Column {
  const entries = MASSES.map((mass, row) => ({ mass, row, share: pattern[mass] ?? 0 })).filter(
    ({ share }) => share > 0,
  );
  return {
    id,
    rows: Int32Array.from(entries, ({ row }) => row),
    response: Float64Array.from(entries, ({ share }) => (sensitivity * share) / 100),
    relativeError: Float64Array.from(entries, ({ share }) => (share === 100 ? 0 : FRAGMENT_ERROR)),
    peakResponse: sensitivity,
    referenceMass: entries.find(({ share }) => share === 100)!.mass,
    referencePlace: entries.findIndex(({ share }) => share === 100),
    sensitivityError: error,
    catalogueError: 0,
    gaugeFactor: 1,
    omittedShare: 0,
    lastRow: MASSES.length - 1,
    unlisted: [],
    isProtected,
    reportable: true,
    seenShare: 1,
  };
}

const design = joinColumns(MASSES, GASES.map(column), []);
const noise = HEIGHTS.map((height) => READ_NOISE ** 2 + SHOT * height);
const fit = makeFitter(design).fit(HEIGHTS, noise);
const scaling = ownScale(fit);
const intervals = gasIntervals(fit, scaling);
const of = (id: string) => intervals[GASES.findIndex((gas) => gas.id === id)]!;

/** Equal to `digits` significant digits. */
const significant = (expected: number, digits = 6) => ({
  asymmetricMatch: (value: unknown) =>
    typeof value === 'number' && Math.abs(value - expected) <= 0.51 * 10 ** (1 - digits) * decade(expected),
  toString: () => `${expected} to ${digits} digits`,
});
const decade = (value: number) => 10 ** Math.floor(Math.log10(Math.abs(value)));

describe('worked example, numpy and scipy', () => {
  test.each([
    // gas, x, sigma of noise, sigma of other patterns, own pattern, evidence, low, high
    ['H2O', 0.999772, 0.00109831, 2.44545e-6, 4.74049e-6, 910.276, 0.821811, 1.21626],
    ['N2', 0.20123, 0.0034374, 0.0278572, 0.195143, 5.9881, 0.121767, 0.293482],
    ['CO', 0.194448, 0.00326631, 0.0412903, 0.0953146, 3.91592, 0.102328, 0.282095],
    ['O2', 0.0498355, 0.000323875, 3.21458e-6, 4.24974e-5, 153.862, 0.0409427, 0.0606449],
    ['Ar', 0.00997223, 0.000166362, 4.29697e-6, 0.000336769, 59.9141, 0.00672186, 0.0147694],
    ['CO2', 0.100743, 0.000331308, 2.41626e-6, 1.87788e-5, 304.065, 0.0828002, 0.122566],
  ] as const)('%s', (id, amount, sigmaNoise, sigmaPattern, ownPattern, evidence, low, high) => {
    const gas = of(id);
    expect(gas.detected).toBe(true);
    expect(gas.amount).toEqual(significant(amount));
    expect(gas.sigmaNoise).toEqual(significant(sigmaNoise));
    // Differences of nearly equal numbers: three digits, and for N2 and CO, where they matter, six.
    expect(gas.sigmaPattern).toEqual(significant(sigmaPattern, sigmaPattern < 1e-4 ? 3 : 6));
    expect(gas.ownPattern).toEqual(significant(ownPattern, ownPattern < 1e-3 ? 3 : 6));
    expect(gas.evidence).toEqual(significant(evidence));
    expect(gas.low).toEqual(significant(low));
    expect(gas.high).toEqual(significant(high));
  });

  test('NH3 is tested and not taken in: z 0.644314, estimate 0.00583163, sigma 0.00905091, limit 0.0318181', () => {
    const score = fit.scores[6]!;
    expect(score.z).toEqual(significant(0.644314));
    expect(score.estimate).toEqual(significant(0.00583163));
    expect(score.sigma).toEqual(significant(0.00905091));
    expect(of('NH3').detected).toBe(false);
    expect(of('NH3').high).toEqual(significant(0.0318181));
  });

  test('chi square 1.45673 with 5 degrees of freedom', () => {
    expect(fit.chiSquare).toEqual(significant(1.45673));
    expect(fit.degreesOfFreedom).toBe(5);
  });

  test('N2 and CO: correlation -0.997116, sum 0.395678 with sigma 0.00458211', () => {
    const q = fit.covarianceColumns.length;
    const [a, b] = [fit.placeOf[1]!, fit.placeOf[2]!];
    const c = fit.covariance;
    expect(c[a * q + b]! / Math.sqrt(c[a * q + a]! * c[b * q + b]!)).toEqual(significant(-0.997116));
    expect(fit.amounts[1]! + fit.amounts[2]!).toEqual(significant(0.395678));
    const row = gainOfSum(makeGains(fit, scaling), [1, 2]);
    const sigma = Math.sqrt(row.noiseVariance + row.patternVariance + row.ownVariance);
    expect(sigma).toEqual(significant(0.00458211));
  });

  test('N2 along the reweightings: 0.227734, 0.196590, 0.202569, 0.200544, 0.201230', () => {
    const state = makeFitState(design, [0, 1, 2, 3, 4, 5]);
    state.heights = HEIGHTS;
    state.noiseVariance = noise;
    choose(state, [0, 1, 2, 3, 4, 5]);
    HEIGHTS.forEach((height, row) => {
      state.variance[row] = noise[row]! + (0.1 * height) ** 2;
    });
    solveOnce(state, false);
    const path = [state.amounts[1]!];
    for (let k = 0; k < 4; k++) {
      reweight(state, 1);
      path.push(state.amounts[1]!);
    }
    expect(path).toEqual([0.227734, 0.19659, 0.202569, 0.200544, 0.20123].map((value) => significant(value)));
  });

  test('a gas that is absent, among the candidates, moves no other gas', () => {
    const without = joinColumns(MASSES, GASES.slice(0, 6).map(column), []);
    const alone = makeFitter(without).fit(HEIGHTS, noise);
    alone.amounts.forEach((amount, j) => {
      expect(amount).toBe(fit.amounts[j]);
    });
  });
});

describe('nitrogen and carbon monoxide by hand', () => {
  test('I28 3.1288104e-13, I14 1.379e-14, I12 1.0005409e-14 A at 1e-6 A/Pa are 1e-7 Pa N2 and 2e-7 Pa CO', () => {
    const masses = [12, 14, 28];
    const entries = (rows: number[], response: number[]) => ({
      referencePlace: rows.length - 1,
      rows: Int32Array.from(rows),
      response: Float64Array.from(response),
      relativeError: Float64Array.from(response, () => 0),
    });
    const base = { ...column(GASES[1]!), lastRow: 2 };
    // S(CO, 28) = r · (100/107.6) / (100/114.53) with r = 1: 1.0644052.
    const co = 114.53 / 107.6;
    const pair = joinColumns(
      masses,
      [
        { ...base, id: 'N2', ...entries([1, 2], [0.1379, 1]), peakResponse: 1 },
        { ...base, id: 'CO', ...entries([0, 2], [0.047 * co, co]), peakResponse: co },
      ],
      [],
    );
    const heights = Float64Array.of(1.0005409e-14, 1.379e-14, 3.1288104e-13).map((current) => current / 1e-6);
    const split = makeFitter(pair).fit(
      heights,
      heights.map(() => 1e-20),
    );
    expect(split.amounts[0]! / 1e-7).toBeCloseTo(1, 6);
    expect(split.amounts[1]! / 2e-7).toBeCloseTo(1, 6);
  });
});
