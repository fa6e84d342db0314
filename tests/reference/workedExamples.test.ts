/**
 * Small calculations of the trade, worked out apart from this code.
 *
 * - Overdetermined unfolding: eight gases, fourteen masses, sensitivities from r·f/f_N2 with the handbooks' r (CRC,
 *   Redhead) and patterns (NIST Chemistry WebBook); currents are the exact superposition (linear superposition solved by
 *   least squares: common practice, e.g. C. Sherman, report ADA297378, 1995). Matrix and currents were computed with
 *   numpy and are typed below in units of 1e-6 A/Pa and 1e-14 A.
 * - Gauge: p = reading / r (CRC, Redhead); in a mixture r = Σ x r (common practice).
 * - Sensitivity = change of current / change of pressure (ISO 14291:2012, cl. 5.6): (4.35e-10 − 3.5e-11) A over
 *   (4.1e-4 − 1e-5) Pa are 1e-6 A/Pa, 1e-4 A/mbar, 1.33322e-4 A/Torr.
 * - Multiplier: gain = |I_multiplier| / I_Faraday on one peak (common practice): 1.7e-9 / 2e-12 = 850.
 * - Faraday: 1e-4 A/mbar at 1e-11 mbar are 1e-15 A, 6241.5 elementary charges a second.
 */
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import { gasResponse } from '../../shared/analysis/columns.ts';
import { ionsPerSecond } from '../../shared/analysis/electrometer.ts';
import { makeNonNegativeSolver } from '../../shared/analysis/leastSquares.ts';
import type { AnalysisScan, Calibration, InstrumentMemory } from '../../shared/analysis/types.ts';
import { gasById } from '../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { fromPascal, toPascal } from '../../shared/units.ts';
import { seededRandom } from '../support/instrument.ts';

const GASES = ['H2', 'CH4', 'H2O', 'N2', 'CO', 'O2', 'Ar', 'CO2'] as const;
const MASSES = [2, 12, 14, 15, 16, 17, 18, 20, 22, 28, 29, 32, 40, 44];
/** 1e-6 A/Pa. */
// biome-ignore format: a matrix reads best in lines
const SENSITIVITY = [
  [0.48234966, 0, 0, 0, 0, 0, 0, 0],
  [0, 0.030900484, 0, 0, 0.050027045, 0, 0, 0.10601828],
  [0, 0.16604944, 0, 0.1379, 0, 0, 0, 0],
  [0, 0.72209551, 0, 0, 0, 0, 0, 0],
  [0, 0.81317062, 0.0077986992, 0, 0.018094888, 0.19599999, 0, 0.1169731],
  [0, 0.013335998, 0.183876, 0, 0, 0, 0, 0],
  [0, 0, 0.86652213, 0, 0, 0, 0, 0],
  [0, 0, 0.0025995664, 0, 0, 0, 0.20389667, 0],
  [0, 0, 0, 0, 0, 0, 0, 0.023126835],
  [0, 0, 0, 1, 1.0644052, 0, 0, 0.1194075],
  [0, 0, 0, 0.0074, 0.012772862, 0, 0, 0.0012172019],
  [0, 0, 0, 0, 0, 0.89908251, 0, 0],
  [0, 0, 0, 0, 0, 0, 1.3946421, 0],
  [0, 0, 0, 0, 0, 0, 0, 1.2172019],
] as const;
/** 1e-14 A. */
// biome-ignore format: one line per few masses
const CURRENTS = [
  24.11748286, 1.486414985, 1.711098883, 1.444191027, 2.788092377, 5.542951865, 25.99566385, 0.118766326, 0.09250734077,
  31.7657341, 0.3343260565, 0.4495412544, 0.2789284161, 4.868807409,
];
const PRESSURES = [5e-7, 2e-8, 3e-7, 1e-7, 2e-7, 5e-9, 2e-9, 4e-8];

const CALIBRATION: Calibration = {
  analyser: 'a',
  principle: 'quadrupole',
  massRange: null,
  sensitivityAmperesPerPascal: 1e-6,
  multiplierGain: null,
  transmissionExponent: 0,
  version: '1',
};
const BASE: AnalysisScan = {
  analyser: 'a',
  id: '1',
  atMs: 0,
  seconds: 10,
  averages: 1,
  masses: MASSES,
  values: new Float64Array(MASSES.length),
  unit: 'A',
  detector: 'faraday',
  totalPressurePa: null,
  state: 'base',
  temperatureC: null,
};

describe('overdetermined unfolding of eight gases', () => {
  test.each(GASES.map((gas, j) => [gas, j] as const))(
    '%s: the main peak has the sensitivity of the example',
    (gas, j) => {
      const ours = gasResponse(catalogueFor([]), gas, MASSES);
      const largest = Math.max(...SENSITIVITY.map((row) => row[j]!));
      const row = SENSITIVITY.findIndex((line) => line[j] === largest);
      // Our patterns are means of several records, held to the first one's sensitivity at the main peak.
      expect(ours[row]! / largest).toBeCloseTo(1, 4);
    },
  );

  test('the currents give back the pressures to 1e-7, whatever the weights', () => {
    for (const power of [0, 1, 2]) {
      const size = GASES.length;
      const hessian = new Float64Array(size * size);
      const gradient = new Float64Array(size);
      SENSITIVITY.forEach((row, m) => {
        const weight = CURRENTS[m]! ** -power;
        for (let i = 0; i < size; i++) {
          gradient[i]! += weight * row[i]! * CURRENTS[m]! * 1e-8;
          for (let k = 0; k < size; k++) hessian[i * size + k]! += weight * row[i]! * row[k]!;
        }
      });
      const x = new Float64Array(size);
      const problem = { size, hessian, gradient, free: new Uint8Array(size) };
      makeNonNegativeSolver(size).solve(problem, x, new Uint8Array(size), false);
      PRESSURES.forEach((pressure, j) => {
        expect(Math.abs(x[j]! / pressure - 1), `${GASES[j]}, weights y^-${power}`).toBeLessThan(1e-6);
      });
    }
  });

  test('a whole analysis of the currents holds every pressure within its interval', () => {
    const { analysis } = makeAnalyser(CALIBRATION, catalogueFor([])).analyse({
      ...BASE,
      values: Float64Array.from(CURRENTS, (current) => current * 1e-14),
    });
    GASES.forEach((gas, j) => {
      const found = analysis.gases.find((estimate) => estimate.gas === gas)!;
      expect(PRESSURES[j], gas).toBeLessThanOrEqual(found.highPa);
      if (found.detected) expect(PRESSURES[j], gas).toBeGreaterThanOrEqual(found.lowPa);
    });
  });
});

describe('gauge readings', () => {
  test.each([
    ['H2', 2.32558e-8],
    ['He', 5.55556e-8],
    ['Ar', 7.14286e-9],
    ['CO2', 7.14286e-9],
    ['H2O', 1.07527e-8],
    ['Xe', 3.7037e-9],
  ] as const)('1e-8 mbar N2-equivalent of %s are %d mbar', (gas, expected) => {
    expect(1e-8 / gasById(gas).relativeSensitivity.value / expected).toBeCloseTo(1, 5);
  });
});

test('a sensitivity of 1e-6 A/Pa is 1e-4 A/mbar and 1.33322e-4 A/Torr', () => {
  const perPascal = (4.35e-10 - 3.5e-11) / (4.1e-4 - 1e-5);
  expect(perPascal / 1e-6).toBeCloseTo(1, 9);
  expect((perPascal * toPascal(1, 'mbar')) / 1e-4).toBeCloseTo(1, 9);
  expect((perPascal * toPascal(1, 'Torr')) / 1.33322e-4).toBeCloseTo(1, 5);
  expect(ionsPerSecond(1e-11 * toPascal(1, 'mbar') * 1e-6)).toBeCloseTo(6241.5, 1);
  expect(fromPascal(100, 'mbar')).toBeCloseTo(1, 12);
});

test('a pair of 2e-12 A on the Faraday cup and -1.7e-9 A on the multiplier tells a gain of 850, whatever the record says', () => {
  const random = seededRandom(4);
  const calibration = { ...CALIBRATION, multiplierGain: 600 };
  const analyser = makeAnalyser(calibration, catalogueFor([]));
  const scanOf = (k: number, detector: 'faraday' | 'multiplier'): AnalysisScan => {
    const factor = detector === 'faraday' ? 1 : 850;
    return {
      ...BASE,
      id: String(k),
      atMs: k * 60_000,
      detector,
      masses: { first: 1, last: 50, perUnit: 1 },
      values: Float64Array.from({ length: 50 }, (_, i) => {
        const peak = { 2: 1.4, 18: 1, 28: 2, 44: 0.5 }[i + 1] ?? 0;
        return factor * (peak * 1e-12 + 1e-16 * random.normal());
      }),
    };
  };
  let memory: InstrumentMemory | null = null;
  let gain: number | null = null;
  for (let k = 0; k < 6; k++) {
    const answer = analyser.analyse(scanOf(k, k % 2 === 0 ? 'faraday' : 'multiplier'), memory);
    memory = answer.instrument;
    gain = answer.analysis.measurement!.gain?.value ?? gain;
  }
  expect(Math.abs(gain! / 850 - 1)).toBeLessThan(0.02);
});
