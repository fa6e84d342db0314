import { describe, expect, test } from 'vitest';
import { ownMasses } from '../../../../shared/analysis/marked/ownMasses.ts';
import type { PooledScan } from '../../../../shared/analysis/marked/pooledScans.ts';
import { impurity, purityOf } from '../../../../shared/analysis/marked/purity.ts';
import { gasById } from '../../../../shared/catalogue/gases.ts';

const masses = [14, 16, 18, 20, 28, 29, 32, 40, 50];
const question = { gas: 'N2', response: 1, masses, own: ownMasses(gasById('N2')) };

const scan = (peaks: Readonly<Record<number, number>>): PooledScan =>
  ({
    heights: Float64Array.from(masses, (mass) => peaks[mass] ?? 0),
    variance: new Float64Array(masses.length).fill(1e-12),
  }) as unknown as PooledScan;

const rest = (amounts: Readonly<Record<string, number>>, gas: Readonly<Record<number, number>> = {}) => {
  const heights = Float64Array.from(masses, (mass) => gas[mass] ?? 0);
  return { height: heights, gas: heights, sigma: heights.map(() => 0), amounts: new Map(Object.entries(amounts)) };
};

describe('share of the signal', () => {
  test('all of it', () => {
    expect(purityOf(scan({ 28: 1, 14: 0.14 }), rest({}), question)).toEqual({ share: 1, air: false });
  });

  test('water beside it', () => {
    const { share } = purityOf(scan({ 28: 0.8, 18: 0.2 }), rest({ H2O: 0.2 }, { 18: 0.2 }), question);
    expect(share).toBeCloseTo(0.8, 12);
  });

  test('gas below its own peak counts as another', () => {
    const { share } = purityOf(scan({ 28: 1 }), rest({ CO: 0.3 }, { 28: 0.3 }), question);
    expect(share).toBeCloseTo(0.7, 12);
  });

  test('a peak that no gas explains counts as another', () => {
    expect(purityOf(scan({ 28: 1, 50: 1 }), rest({}), question).share).toBeCloseTo(0.5, 12);
  });

  test('an isotope that records leave out does not', () => {
    const wide = { ...question, masses: [...masses, 30] };
    const one = {
      heights: Float64Array.of(0, 0, 0, 0, 1, 0, 0, 0, 0, 0.001),
      variance: new Float64Array(10).fill(1e-12),
    } as unknown as PooledScan;
    const none = {
      height: new Float64Array(10),
      gas: new Float64Array(10),
      sigma: new Float64Array(10),
      amounts: new Map(),
    };
    expect(purityOf(one, none, wide).share).toBe(1);
  });
});

describe('dry air', () => {
  // Mole fractions N2 0.78084, O2 0.20946, Ar 0.00934 (IUPAC 1990).
  const peaks = { 28: 0.781, 14: 0.11, 32: 0.209, 16: 0.04, 40: 0.0093 };
  const seen = { 32: 0.209, 16: 0.04, 40: 0.0093 };

  test('passes as nitrogen', () => {
    expect(purityOf(scan(peaks), rest({ O2: 0.209, Ar: 0.0093 }, seen), question)).toEqual({ share: 1, air: true });
  });

  test('oxygen without argon is not air', () => {
    expect(purityOf(scan(peaks), rest({ O2: 0.209 }, seen), question).air).toBe(false);
  });

  test('for another gas than nitrogen air is a contamination', () => {
    const argon = { ...question, gas: 'Ar', own: ownMasses(gasById('Ar')) };
    expect(purityOf(scan(peaks), rest({ O2: 0.209, Ar: 0.0093 }, seen), argon).air).toBe(false);
  });
});

describe('the sentence', () => {
  test('none when all scans are pure', () => {
    expect(impurity('nitrogen', [{ share: 0.93, air: false }], null)).toBe(null);
  });

  test('says how many scans, how far, and beside what', () => {
    const found = [0.95, 0.5, 0.8].map((share) => ({ share, air: false }));
    expect(impurity('nitrogen', found, 'water')).toMatch(
      /^This is not pure nitrogen: it makes less than 90 % of the signal in 2 of 3 scans \(down to 50 %, beside water\)\./,
    );
  });
});
