/** Gauge factors: P. A. Redhead, CRC Handbook sec. 15. Air: US Standard Atmosphere 1976. */
import { describe, expect, test } from 'vitest';
import {
  AIR,
  basePeak,
  gasName,
  gaugeFactor,
  mixture,
  molarMass,
  patternsOf,
  peakErrors,
} from '../../../shared/watch/patterns.ts';

const masses = Array.from({ length: 50 }, (_, i) => i + 1);

describe('patterns on channels', () => {
  test('a pascal of nitrogen is a pascal at m/z 28: heights are N2-equivalent', () => {
    const nitrogen = patternsOf('N2', masses)!.variants[0]!;
    expect(nitrogen[28]).toBeCloseTo(1, 6);
    // 14/28 of nitrogen: 0.138 (NIST WebBook).
    expect(nitrogen[14]! / nitrogen[28]!).toBeCloseTo(0.138, 2);
    expect(nitrogen[0]).toBe(1);
  });

  test('channel 0 is the gauge: its own gas factors', () => {
    expect(['H2', 'He', 'Ar', 'CO2'].map(gaugeFactor)).toEqual([0.43, 0.18, 1.4, 1.4]);
    expect(
      mixture(
        [
          ['H2', 2],
          ['Ar', 1],
        ],
        masses,
      )[0],
    ).toBeCloseTo(2 * 0.43 + 1.4, 12);
  });

  test('masses that were not measured are left out; a gas nobody knows has no pattern', () => {
    expect(patternsOf('N2', [18, 28])!.variants[0]!.length).toBe(3);
    expect(patternsOf('unobtainium', masses)).toBeNull();
    expect(gasName('N2')).toBe('nitrogen');
    expect(molarMass('N2')).toBeCloseTo(28.01, 1);
  });

  test('several records are several variants, all scaled to the same base peak', () => {
    const oil = patternsOf(
      'hydrocarbon-oil',
      Array.from({ length: 150 }, (_, i) => i + 1),
    )!;
    expect(oil.variants.length).toBeGreaterThan(2);
    for (const variant of oil.variants) expect(variant[57]!).toBeCloseTo(oil.variants[0]![57]!, 6);
  });

  test('small peaks err by more than large ones, and the base peak least', () => {
    const errors = peakErrors(Float64Array.of(0, 100, 40, 1));
    expect(errors[1]! / 100).toBeLessThan(errors[2]! / 40);
    expect(errors[2]! / 40).toBeLessThan(errors[3]! / 1);
    expect(basePeak(Float64Array.of(900, 3, -7))).toBe(7);
  });

  test('air is nitrogen, oxygen and argon to within a tenth of a per cent', () => {
    expect(AIR.N2 + AIR.O2 + AIR.Ar + AIR.CO2).toBeCloseTo(1, 3);
  });
});
