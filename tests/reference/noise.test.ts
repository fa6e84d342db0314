/**
 * Noise that physics sets, against check values worked out from the constants of the SI (BIPM SI Brochure, 9th ed.):
 * thermal noise of feedback resistors at 300 K (J. B. Johnson 1928), counting statistics of ions (W. Schottky 1918).
 * The minimum detectable partial pressure follows ISO 14291:2012, cl. 5.8 in idea; the multiple (3) is a setting of ours.
 */
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import {
  ionsPerSecond,
  johnsonNoiseAmperesPerRootHertz,
  shotVariancePerAmpere,
} from '../../shared/analysis/electrometer.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { seededRandom } from '../support/instrument.ts';

describe('electrometer', () => {
  test.each([
    [1e9, 4.0704e-15],
    [1e10, 1.2872e-15],
    [1e11, 4.0704e-16],
  ])('thermal noise of %s ohm at 300 K is %s A per root hertz', (resistance, expected) => {
    expect(johnsonNoiseAmperesPerRootHertz(resistance, 300) / expected).toBeCloseTo(1, 4);
  });

  test('1e-15 A are 6,241.509 ions per second', () => {
    expect(ionsPerSecond(1e-15)).toBeCloseTo(6241.509, 3);
  });

  test.each([
    [1e-15, 0.0126577],
    [1e-14, 0.0040027],
    [1e-13, 0.0012658],
  ])('counting ions of %s A for one second leaves a relative error of %s', (current, expected) => {
    expect(Math.sqrt(shotVariancePerAmpere(1) * current) / current).toBeCloseTo(expected, 6);
  });
});

describe('minimum detectable partial pressure', () => {
  test('noise of 2e-15 A at 1e-6 A/Pa is a floor of 6e-9 Pa (three sigma over sensitivity)', () => {
    const random = seededRandom(20);
    const values = Float64Array.from({ length: 200 }, (_, i) => 2e-15 * random.normal() + (i === 27 ? 1e-9 : 0));
    const analyser = makeAnalyser(
      {
        analyser: 'a',
        principle: 'quadrupole',
        massRange: null,
        sensitivityAmperesPerPascal: 1e-6,
        multiplierGain: null,
        transmissionExponent: 0,
        version: '1',
      },
      catalogueFor([]),
    );
    const { analysis } = analyser.analyse({
      analyser: 'a',
      id: '1',
      atMs: 0,
      seconds: 10,
      averages: 1,
      masses: { first: 1, last: 200, perUnit: 1 },
      values,
      unit: 'A',
      detector: 'faraday',
      totalPressurePa: null,
      state: 'base',
      temperatureC: null,
    });
    // Some 200 values know a width to 1/√200 = 7 %; four of those.
    expect(Math.abs(analysis.floorPa! / 6e-9 - 1)).toBeLessThan(0.28);
    expect(analysis.decades!).toBeCloseTo(Math.log10(1e-3 / analysis.floorPa!), 4);
  });
});
