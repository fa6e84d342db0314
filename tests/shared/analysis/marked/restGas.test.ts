import { describe, expect, test } from 'vitest';
import { gasResponse } from '../../../../shared/analysis/columns.ts';
import { hiddenVariance } from '../../../../shared/analysis/marked/hidden.ts';
import { ownMasses } from '../../../../shared/analysis/marked/ownMasses.ts';
import { makeRestFitter } from '../../../../shared/analysis/marked/restGas.ts';
import type { Calibration } from '../../../../shared/analysis/types.ts';
import { type GasId, gasById } from '../../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../../shared/catalogue/select.ts';
import { seededRandom } from '../../../support/instrument.ts';

const masses = Array.from({ length: 60 }, (_, i) => i + 1);
const catalogue = catalogueFor([]);
const calibration = { principle: 'quadrupole' } as Calibration;
const SIGMA = 1e-5;

function heightsOf(truth: Readonly<Record<string, number>>): Float64Array {
  const random = seededRandom(3);
  const heights = Float64Array.from(masses, () => SIGMA * random.normal());
  for (const [gas, pressure] of Object.entries(truth)) {
    gasResponse(catalogue, gas, masses).forEach((response, row) => {
      heights[row]! += response * pressure;
    });
  }
  return heights;
}

const restOf = (gas: GasId, truth: Readonly<Record<string, number>>) => {
  const fitter = makeRestFitter({ gas, catalogue, calibration, masses, own: ownMasses(gasById(gas)) });
  return {
    ...fitter,
    found: fitter.rest(heightsOf(truth), new Float64Array(masses.length).fill(SIGMA ** 2)),
  };
};
const at = (values: Float64Array, mass: number) => values[masses.indexOf(mass)]!;

describe('rest gas below a pure gas', () => {
  test('is found at masses that the pure gas does not have, and reckoned below its peaks', () => {
    const { found } = restOf('N2', { N2: 1, CO: 0.02, H2O: 0.05 });
    expect(found.amounts.get('CO')).toBeCloseTo(0.02, 2);
    expect(found.amounts.get('H2O')).toBeCloseTo(0.05, 2);
    const carbonMonoxide = gasResponse(catalogue, 'CO', masses)[27]! * 0.02;
    expect(Math.abs(at(found.gas, 28) - carbonMonoxide)).toBeLessThan(3 * at(found.sigma, 28));
    expect(at(found.sigma, 28)).toBeLessThan(0.5 * carbonMonoxide);
  });

  test('a pure gas whose fragments are off the records has no rest', () => {
    const truth = heightsOf({ N2: 1 });
    truth[13]! *= 0.6;
    const own = ownMasses(gasById('N2'));
    const { rest } = makeRestFitter({ gas: 'N2', catalogue, calibration, masses, own });
    const { amounts } = rest(truth, new Float64Array(masses.length).fill(SIGMA ** 2));
    expect([...amounts.keys()]).toEqual([]);
  });

  test('names the gases that nothing tells from it', () => {
    expect(restOf('CO', { CO: 1 }).hidden).toEqual(['N2']);
    expect(restOf('N2', { N2: 1 }).hidden).toEqual([]);
  });

  test('knows which masses others lay claim to', () => {
    const { isClaimed, foreign } = restOf('N2', { N2: 1 });
    expect([16, 19, 12].every(isClaimed)).toBe(true);
    expect([9, 30, 50].some(isClaimed)).toBe(false);
    expect(foreign.includes(28)).toBe(false);
  });
});

describe('what may hide', () => {
  const question = {
    masses,
    own: ownMasses(gasById('H2O')),
    hidden: [],
    largest: 1,
    gas: new Float64Array(masses.length),
  };

  test('ions from surfaces at 16 and 19, on a quadrupole only', () => {
    const quadrupole = hiddenVariance({ ...question, principle: 'quadrupole' });
    expect(masses.filter((_, row) => quadrupole[row]! > 0)).toEqual([16, 19]);
    expect(hiddenVariance({ ...question, principle: 'ion trap' }).every((value) => value === 0)).toBe(true);
  });

  test('a gas without a peak of its own, more of it the more other gas is seen', () => {
    const hidden = [
      { rows: Int32Array.of(13, 27), response: Float64Array.of(0.14, 1), peakResponse: 1 },
    ] as unknown as Parameters<typeof hiddenVariance>[0]['hidden'];
    const clean = hiddenVariance({ ...question, hidden, principle: 'ion trap' });
    const gas = new Float64Array(masses.length).fill(0.05);
    const dirty = hiddenVariance({ ...question, hidden, gas, principle: 'ion trap' });
    expect(at(clean, 14) / at(clean, 28)).toBeCloseTo(0.14 ** 2, 10);
    expect(at(dirty, 28)).toBeGreaterThan(at(clean, 28));
  });

  test('the foot below the peaks of hydrogen', () => {
    const own = ownMasses(gasById('H2'));
    const variance = hiddenVariance({ ...question, own, principle: 'quadrupole' });
    expect(at(variance, 1)).toBeGreaterThan(at(variance, 2));
    expect(at(variance, 18)).toBe(0);
  });
});
