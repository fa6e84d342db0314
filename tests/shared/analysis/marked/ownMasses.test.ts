import { describe, expect, test } from 'vitest';
import { isForeign, ownMasses } from '../../../../shared/analysis/marked/ownMasses.ts';
import { gasById } from '../../../../shared/catalogue/gases.ts';

describe('masses that a gas can have', () => {
  const nitrogen = ownMasses(gasById('N2'));

  test('those of its records', () => {
    expect([...nitrogen.listed].sort((a, b) => a - b)).toEqual([14, 28, 29]);
    expect([14, 28, 29].some((mass) => isForeign(nitrogen, mass))).toBe(false);
  });

  test('isotopes and doubly charged ions in small amounts', () => {
    expect([...nitrogen.near.keys()].sort((a, b) => a - b)).toEqual([7, 15, 16, 30]);
    // ¹⁵N is 0.364 % (IUPAC 2009): both atoms heavy is 1.3e-5, one of a single atom 0.0037 of m/z 14.
    expect(nitrogen.near.get(30)).toBeGreaterThan(1.3e-5);
    expect(nitrogen.near.get(30)).toBeLessThan(0.01);
    expect(nitrogen.near.get(15)).toBeGreaterThan(0.0037 * 0.1379);
  });

  test('water, oxygen, argon and carbon dioxide stand elsewhere', () => {
    for (const mass of [2, 12, 17, 18, 32, 40, 44]) expect(isForeign(nitrogen, mass)).toBe(true);
  });

  test('below the mass at which all records begin nothing is known', () => {
    const gas = { ...gasById('N2'), records: [{ ...gasById('N2').records[0], lowMassCutoff: 13 }] as const };
    expect(isForeign(ownMasses(gas), 12)).toBe(false);
    expect(isForeign(ownMasses(gas), 18)).toBe(true);
  });
});
