/**
 * Units of pressure.
 *
 * - BIPM, The International System of Units (SI Brochure), 9th ed. (2019), section 4, table 8 and its notes:
 *   1 bar = 0.1 MPa = 100 kPa = 1e5 Pa.
 * - NIST Special Publication 811 (2008 ed.), appendix B.8: millibar to pascal 1.0 E+02; torr to pascal 1.333 224 E+02;
 *   atmosphere, standard to pascal 1.013 25 E+05 (760 torr by definition of the torr).
 */
import { describe, expect, test } from 'vitest';
import { fromPascal, PASCAL_PER, type PressureUnit, toPascal } from '../../shared/units.ts';

describe('conversion factors', () => {
  test('millibar: exactly 100 Pa', () => {
    expect(toPascal(1, 'mbar')).toBe(100);
  });

  test('torr: 133.3224 Pa as printed, and 760 of them make a standard atmosphere', () => {
    expect(toPascal(1, 'Torr')).toBeCloseTo(133.3224, 4);
    expect(toPascal(760, 'Torr')).toBeCloseTo(101_325, 9);
  });

  test('one atmosphere is 1013.25 mbar and 760 Torr', () => {
    expect(fromPascal(101_325, 'mbar')).toBeCloseTo(1013.25, 9);
    expect(fromPascal(101_325, 'Torr')).toBeCloseTo(760, 9);
  });

  test('a pressure of the trade: 1e-9 Torr is 1.333224e-9 mbar and 1.333224e-7 Pa', () => {
    const pressurePa = toPascal(1e-9, 'Torr');
    expect(pressurePa * 1e7).toBeCloseTo(1.333224, 6);
    expect(fromPascal(pressurePa, 'mbar') * 1e9).toBeCloseTo(1.333224, 6);
  });

  test('throughput follows from the pressure: 1 Pa·m³/s is 10 mbar·L/s and 7.50062 Torr·L/s (1 m³ = 1000 L)', () => {
    expect(fromPascal(1, 'mbar') * 1000).toBeCloseTo(10, 12);
    // SP 811 appendix B.8, inverse of torr to pascal: 1000/133.3224 = 7.50062
    expect(fromPascal(1, 'Torr') * 1000).toBeCloseTo(7.50062, 5);
  });

  test('there and back changes nothing that a double can hold', () => {
    for (const unit of Object.keys(PASCAL_PER) as PressureUnit[]) {
      for (const value of [1e-13, 3.7e-9, 1, 1013.25])
        expect(fromPascal(toPascal(value, unit), unit) / value).toBeCloseTo(1, 14);
    }
  });
});
