import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { gasResponse } from '../../../shared/analysis/columns.ts';
import { scanHeights } from '../../../shared/analysis/heights.ts';
import { measurementOf } from '../../../shared/analysis/measurement.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { makeSimulatedAnalyser, seededRandom, simulateScan } from '../../support/instrument.ts';

const CATALOGUE = catalogueFor([]);
const BARS = { first: 1, last: 100, perUnit: 1 };

function simulated(unit: 'A' | 'Pa' | '1' = 'A') {
  const random = seededRandom(12);
  const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.1, sensitivitySpread: 0.1 });
  const truth = { H2O: 1e-6, H2: 3e-7, N2: 1e-7, CO2: 2e-8 };
  return simulateScan(random, analyser, truth, { unit, masses: BARS, range: 1e4, ions: 1e7 });
}

describe('how a scan was measured', () => {
  test('noise per gas: read noise over response at the reference peak, lifted by the transmission', () => {
    const { scan, calibration } = simulated();
    const plain = makeAnalyser(calibration, CATALOGUE).analyse(scan).analysis.measurement!;
    const tilted = { ...calibration, transmissionExponent: 0.5 };
    const lifted = makeAnalyser(tilted, CATALOGUE).analyse(scan).analysis.measurement!;
    const response = (id: string, mass: number) => gasResponse(CATALOGUE, id, [mass])[0]!;
    for (const [id, mass] of [
      ['H2', 2],
      ['N2', 28],
      ['CO2', 44],
    ] as const) {
      expect((plain.noisePerGasPa[id]! * response(id, mass)) / plain.readNoisePa!).toBeCloseTo(1, 9);
      const expected = (lifted.readNoisePa! * (mass / 28) ** 0.5) / response(id, mass);
      expect(lifted.noisePerGasPa[id]! / expected).toBeCloseTo(1, 9);
    }
  });

  test('a pressure scan has its transmission behind it', () => {
    const { scan, calibration } = simulated('Pa');
    const of = (transmissionExponent: number) =>
      makeAnalyser({ ...calibration, transmissionExponent }, CATALOGUE).analyse(scan).analysis.measurement!;
    expect(of(0.5).noisePerGasPa).toEqual(of(0).noisePerGasPa);
  });

  test('response time is seconds times averages', () => {
    const { scan, calibration } = simulated();
    const { measurement } = makeAnalyser(calibration, CATALOGUE).analyse({
      ...scan,
      seconds: 0.085,
      averages: 3200,
    }).analysis;
    // Common practice: 3200 averages of an 85 ms sweep take 272 s.
    expect(measurement!.responseSeconds).toBeCloseTo(272, 9);
  });

  test('without a scale there are no pressures in it', () => {
    const { scan, calibration } = simulated('1');
    const { analysis } = makeAnalyser(calibration, CATALOGUE).analyse(scan);
    expect(analysis.measurement).toMatchObject({
      readNoisePa: null,
      noisePerGasPa: {},
      foot: null,
      desorbed: [],
      groups: [],
    });
    const heights = scanHeights(scan, calibration);
    expect(measurementOf({ scan, calibration, heights, fit: null, factor: null, found: null }).noisePerGasPa).toEqual(
      {},
    );
  });
});
