/**
 * Q = ΔP · S / x with x of argon 0.00934 (IUPAC's dry air, as in the catalogue): 1×10⁻⁹ Pa above the usual at 250 l/s is
 * 1×10⁻⁹ · 0.25 / 0.00934 = 2.677×10⁻⁸ Pa·m³/s, worked out by hand.
 */
import { expect, test } from 'vitest';
import { airInflow } from '../../../shared/measurement/airInflow.ts';
import type { GasSide } from '../../../shared/measurement/gasSide.ts';

const side = (pressurePa: number | null, limitPa: number | null = null): GasSide => ({
  scans: 240,
  detectedShare: pressurePa === null ? 0 : 1,
  mean: pressurePa === null ? null : { ln: Math.log(pressurePa), sigma: 0.01, effective: 60, degrees: 59 },
  course: 'level',
  atMs: null,
  growth: null,
  limitPa,
  lasting: 0.1,
  pattern: 0.02,
  catalogue: 0,
});
const usual = { middlePa: 1e-10, sigmaPa: 1e-11 };
const ask = (before: GasSide, after: GasSide) =>
  airInflow({ before, after, usual, litresPerSecond: 250, share: 0.00934 });

test('the leak before, and what is left of it', () => {
  const found = ask(side(1.1e-9), side(3e-10));
  expect((found?.before.value as number) / 2.677e-8).toBeCloseTo(1, 3);
  expect((found?.after.value as number) / (0.2 * 2.677e-8)).toBeCloseTo(1, 3);
  expect(found?.before.low).toBeLessThan(2.677e-8);
  expect(found?.before.high).toBeGreaterThan(2.677e-8);
});

test('what is back in the usual is no leak, but one below a bound', () => {
  const found = ask(side(1.1e-9), side(1.05e-10));
  expect(found?.after.value).toBeNull();
  expect(found?.after.low).toBe(0);
  // 5×10⁻¹² Pa above the middle, and twice the usual's own 1×10⁻¹¹: some 2.5×10⁻¹¹ Pa of argon at most.
  expect((found?.after.high as number) / ((2.5e-11 * 0.25) / 0.00934)).toBeLessThan(1.5);
  expect(found?.timesLessAtLeast).toBeGreaterThan(25);
  expect(found?.timesLessAtLeast).toBeLessThan(1e-9 / 2.4e-11);
});

test('below detection its limit is the bound', () => {
  const found = ask(side(1.1e-9), side(null, 5e-11));
  expect(found?.after.value).toBeNull();
  expect(found?.timesLessAtLeast).toBeCloseTo(20, -1);
});

test('nothing above the usual before: there was no leak to compare', () => {
  expect(ask(side(1.05e-10), side(1e-10))).toBeNull();
  expect(ask(side(null, 1e-10), side(1e-10))).toBeNull();
});
