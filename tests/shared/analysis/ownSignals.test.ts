import { describe, expect, test } from 'vitest';
import { artefacts } from '../../../shared/analysis/artefacts.ts';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { makeDesign } from '../../../shared/analysis/design.ts';
import { makeFitter } from '../../../shared/analysis/fit.ts';
import { desorbedOf, desorbedRemark, footOf, footRemark } from '../../../shared/analysis/ownSignals.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';

const MASSES = Array.from({ length: 60 }, (_, i) => i + 1);
const NOISE = 1e-5;

/** Heights of pure columns of the catalogue with extra ions; deterministic, so that nothing but the extras matters. */
function fitOf(gases: Record<string, number>, extra: Record<number, number>, principle: 'quadrupole' | 'ion trap') {
  const design = makeDesign(gasColumns(catalogueFor([]), MASSES), principle);
  const heights = new Float64Array(MASSES.length);
  for (const { id, rows, response } of design.columns.slice(0, design.gasCount)) {
    rows.forEach((row, k) => {
      heights[row]! += (gases[id] ?? 0) * response[k]!;
    });
  }
  for (const [mass, height] of Object.entries(extra)) heights[Number(mass) - 1]! += height;
  const noise = new Float64Array(MASSES.length).fill(NOISE ** 2);
  return makeFitter(design).fit(heights, noise);
}

const foot = (height: number) =>
  Object.fromEntries([1, 2, 3, 4, 5].map((mass) => [mass, height * Math.exp((1 - mass) / 0.8)]));
const WET = { H2O: 1, H2: 0.2, N2: 0.1, CO2: 0.05 };

describe('the low-mass foot', () => {
  test('is taken off m/z 2, and how much is told', () => {
    const fit = fitOf(WET, foot(0.1), 'quadrupole');
    const truth = 0.1 * Math.exp(-1 / 0.8);
    const found = footOf(fit, 2)!;
    expect(found.removedPa / 2).toBeGreaterThan(0.5 * truth);
    expect(found.removedPa / 2).toBeLessThan(1.5 * truth);
    expect(footRemark(found)!.text).toMatch(/% of m\/z 2 was taken off/);
  });

  test('that is not there is not told; a small one is not made a sentence of', () => {
    expect(footOf(fitOf(WET, {}, 'quadrupole'), 1)).toBe(null);
    expect(footRemark({ removedPa: 1e-9, share: 0.01 })).toBe(null);
    expect(footRemark(null)).toBe(null);
  });

  test('is not looked for in an ion trap', () => {
    expect(footOf(fitOf(WET, foot(0.1), 'ion trap'), 1)).toBe(null);
  });
});

describe('ions from surfaces', () => {
  test('chlorine: 35 and 37 as its isotopes (0.7576 : 0.2424, IUPAC 2009) without hydrogen chloride', () => {
    const fit = fitOf(WET, { 35: 0.01, 37: (0.01 * 0.2424) / 0.7576 }, 'quadrupole');
    expect(desorbedOf(fit, 1)).toMatchObject([{ ion: 'Cl+', mass: 35 }]);
    expect(desorbedOf(fit, 1)[0]!.heightPa).toBeCloseTo(0.01, 4);
    const hcl = fit.design.columns.findIndex(({ id }) => id === 'HCl');
    expect(fit.amounts[hcl]).toBe(0);
    expect(desorbedRemark(desorbedOf(fit, 1))!.text).toMatch(/100 % of m\/z 35 \(Cl\+\)/);
  });

  test('hydrogen chloride is still hydrogen chloride', () => {
    const fit = fitOf({ ...WET, HCl: 0.02 }, {}, 'quadrupole');
    const hcl = fit.design.columns.findIndex(({ id }) => id === 'HCl');
    expect(fit.amounts[hcl]).toBeCloseTo(0.02, 3);
    expect(desorbedOf(fit, 1)).toEqual([]);
  });

  test('fluorine and oxygen are told with their share of the peak', () => {
    const fit = fitOf({ H2: 1, CO: 0.1 }, { 16: 0.05, 19: 0.01 }, 'quadrupole');
    const found = desorbedOf(fit, 1);
    expect(found.find(({ ion }) => ion === 'F+')).toMatchObject({ mass: 19 });
    expect(found.find(({ ion }) => ion === 'F+')!.share).toBeGreaterThan(0.9);
  });

  test('need both chlorine masses, and a quadrupole', () => {
    const ids = (masses: number[], principle: 'quadrupole' | 'ion trap') =>
      artefacts(masses, principle).map(({ column }) => column.id);
    expect(ids([2, 18, 35, 37], 'quadrupole')).toContain('desorbed-Cl');
    expect(ids([2, 18, 35], 'quadrupole')).not.toContain('desorbed-Cl');
    expect(ids([2, 16, 18, 19, 35, 37], 'ion trap')).toEqual([]);
  });

  test('nothing to say without them', () => {
    expect(desorbedRemark([])).toBe(null);
    expect(desorbedOf(fitOf(WET, {}, 'quadrupole'), 1)).toEqual([]);
  });
});
