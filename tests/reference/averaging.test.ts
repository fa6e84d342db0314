/**
 * Averaging: what it gains and what it costs.
 *
 * - White noise falls with √N (elementary statistics): (σ / wanted)² sweeps. Allan deviation: allan.test.ts.
 * - Common practice: 3,200 averages of a sweep of 85 ms take 272 s, three take 0.26 s.
 */
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import type { AnalysisScan } from '../../shared/analysis/types.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { whiteSweeps } from '../../shared/measurement/allanCurve.ts';
import { plan, responseSeconds } from '../../shared/measurement/planner.ts';

const scanAt = (k: number): AnalysisScan => ({
  analyser: 'a',
  id: String(k),
  atMs: k * 60_000,
  seconds: 10,
  averages: 1,
  masses: [28],
  values: Float64Array.of(0),
  unit: 'Pa',
  detector: null,
  totalPressurePa: null,
  state: 'base',
  temperatureC: null,
});

describe('response time', () => {
  test.each([
    [3200, 272],
    [3, 0.255],
  ])('%i averages of a sweep of 85 ms take %d s', (averages, seconds) => {
    expect(responseSeconds(averages, 0.085)).toBeCloseTo(seconds, 9);
    const values = Float64Array.from({ length: 50 }, (_, i) => (i === 27 ? 1e-9 : 1e-15 * (i % 3)));
    const { analysis } = makeAnalyser(
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
    ).analyse({
      ...scanAt(0),
      seconds: 0.085,
      averages,
      masses: { first: 1, last: 50, perUnit: 1 },
      values,
      unit: 'A',
      detector: 'faraday',
    });
    expect(analysis.measurement!.responseSeconds).toBeCloseTo(seconds, 9);
  });
});

describe('planner', () => {
  test.each([
    // noise of one sweep, wanted, sweeps: N = (σ / wanted)²
    [1, 1, 1],
    [10, 1, 100],
    [1e-12, 2e-14, 2500],
    [3, 1, 9],
  ])('%d down to %d takes %i sweeps', (noise, wanted, sweeps) => {
    expect(whiteSweeps(noise, wanted)).toBe(sweeps);
  });

  test('noise of 1e-9 Pa, three standard deviations, a pressure of 1e-10 Pa: 900 sweeps of 85 ms, 76.5 s', () => {
    const answer = plan({
      gasName: 'argon',
      pressurePa: 1e-10,
      detectionMultiple: 3,
      mass: 40,
      response: 1,
      secondsPerSweep: 0.085,
      sweepsPerScan: 1,
      periodSeconds: null,
      noisePa: 1e-9,
      allan: null,
      unit: 'Pa',
    });
    expect(answer.sweeps).toBe(900);
    expect(answer.responseSeconds).toBeCloseTo(76.5, 9);
  });
});
