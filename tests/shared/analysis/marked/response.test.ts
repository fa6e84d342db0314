import { describe, expect, test } from 'vitest';
import { type DosedScan, responseOf } from '../../../../shared/analysis/marked/response.ts';
import type { AnalysisScan } from '../../../../shared/analysis/types.ts';
import { gasById } from '../../../../shared/catalogue/gases.ts';

const dosed = (totalPressurePa: number | null, heightPa: number, gaugeShare = 1): DosedScan => ({
  scan: { totalPressurePa } as AnalysisScan,
  heightPa,
  noise: 1e-3,
  gaugeShare,
});

/** Relative to nitrogen; P. A. Redhead, CRC Handbook of Chemistry and Physics, sec. 15 (helium 0.18). */
const HELIUM_FACTOR = 0.18;

describe('response from the gauge', () => {
  test('the gas factor turns the reading into a pressure', () => {
    // The gauge shows 1.8e-7 Pa in 1e-6 Pa of helium.
    const reading = HELIUM_FACTOR * 1e-6;
    const response = responseOf(gasById('He'), [dosed(reading, 3e-7), dosed(reading, 3e-7)], 1)!;
    expect(response.value).toBeCloseTo(0.3, 10);
    expect(response.scans).toBe(2);
  });

  test('only the part of the reading that the gas makes counts', () => {
    const reading = (HELIUM_FACTOR * 1e-6) / 0.9;
    expect(responseOf(gasById('He'), [dosed(reading, 3e-7, 0.9)], 1)!.value).toBeCloseTo(0.3, 10);
  });

  test('gauge and gas factor make its error: 10 % and 15 %; nitrogen has no factor', () => {
    expect(responseOf(gasById('Ar'), [dosed(1e-6, 1e-6)], 1)!.uncertainty).toBeCloseTo(Math.hypot(0.1, 0.15), 3);
    expect(responseOf(gasById('N2'), [dosed(1e-6, 1e-6)], 1)!.uncertainty).toBeCloseTo(0.1, 3);
  });

  test('scatter between scans comes on top', () => {
    const scattered = [dosed(1e-6, 1e-6), dosed(1e-6, 1.5e-6), dosed(1e-6, 0.67e-6)];
    expect(responseOf(gasById('Ar'), scattered, 1)!.uncertainty).toBeGreaterThan(0.4);
  });

  test('scans without a usable reading do not count; without any there is no answer', () => {
    expect(responseOf(gasById('Ar'), [dosed(null, 1e-6), dosed(1.4e-6, 1e-6)], 1)!.scans).toBe(1);
    expect(responseOf(gasById('Ar'), [dosed(null, 1e-6), dosed(0, 1e-6), dosed(-1, 1e-6)], 1)).toBe(null);
  });
});
