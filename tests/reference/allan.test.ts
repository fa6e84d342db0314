/**
 * Allan deviation against published data and against its formula.
 *
 * - Nine frequencies of NBS Monograph 140, annex 8.E: Allan deviation 91.22945 and 115.8082 for averages of one and two
 *   (as quoted in W. J. Riley, NIST Special Publication 1065 (2008), sec. 12.3; checked by hand).
 * - A thousand numbers of the generator n ← 16807·n mod 2³¹−1, from 1234567890, divided by 2³¹−1: 2.922319e-1,
 *   9.965736e-2 and 3.897804e-2 for averages of 1, 10 and 100 (NIST SP 1065, sec. 12.4; values from memory).
 * - White noise σ, flicker noise of one-sided density h/f, drift d per scan: σ_A²(N) = σ²/N + 2 ln 2 · h + d²N²/2
 *   (IEEE Std 1139 and NIST SP 1065, table of noise types, as quoted in public documentation). Flicker noise is made by
 *   fractional integration: N. J. Kasdin, Proc. IEEE 83 (1995) 802; its one-sided density is Q/(π f).
 */
import { expect, test } from 'vitest';
import { type AllanMemory, allanSigmas, learnAllan } from '../../shared/analysis/instrument/allan.ts';
import { seededRandom } from '../support/instrument.ts';

const MASSES = [2, 14, 16, 17, 18, 28, 32, 44];

/** One series per mass; a scan a second. */
function deviations(series: readonly Float64Array[], sigma: number): (number | null)[][] {
  let memory: AllanMemory | null = null;
  for (let i = 0; i < series[0]!.length; i++) {
    memory = learnAllan(memory, {
      scan: {
        analyser: 'a',
        id: String(i),
        atMs: 1000 * i,
        seconds: 1,
        averages: 1,
        masses: MASSES,
        values: new Float64Array(0),
        unit: 'Pa',
        detector: null,
        totalPressurePa: null,
        state: 'base',
        temperatureC: null,
      },
      key: 'k',
      masses: MASSES.slice(0, series.length),
      heightsPa: (row) => series[row]![i]!,
      sigmaPa: sigma,
    });
  }
  return allanSigmas(memory!);
}

test('nine published frequencies', () => {
  const [curve] = deviations([Float64Array.of(892, 809, 823, 798, 671, 644, 883, 903, 677)], 1);
  expect(curve![0]).toBeCloseTo(91.22945, 2);
  expect(curve![1]).toBeCloseTo(115.8082, 1);
});

test('a thousand published numbers, averaged by 1, 10 and 100', () => {
  let n = 1234567890;
  const numbers = Float64Array.from({ length: 1000 }, () => {
    const value = n / 2147483647;
    n = Number((16807n * BigInt(n)) % 2147483647n);
    return value;
  });
  for (const [averages, expected] of [
    [1, 2.922319e-1],
    [10, 9.965736e-2],
    [100, 3.897804e-2],
  ] as const) {
    const blocks = Float64Array.from({ length: 1000 / averages }, (_, k) =>
      numbers.subarray(k * averages, (k + 1) * averages).reduce((sum, value) => sum + value / averages, 0),
    );
    const [curve] = deviations([blocks], 0.01);
    expect(curve![0]! / expected).toBeCloseTo(1, 3);
  }
});

test('drift alone: d N / √2, exactly', () => {
  const [curve] = deviations([Float64Array.from({ length: 8192 }, (_, i) => 0.25 * i)], 1);
  for (let k = 0; k <= 10; k++) expect(curve![k]! / (0.25 * 2 ** k * Math.SQRT1_2)).toBeCloseTo(1, 4);
});

test('white, flicker and drift noise follow the formula over ten octaves', () => {
  const random = seededRandom(7);
  const [scans, sigma, flicker, drift] = [8192, 1, 4e-3, 1e-4];
  const filter = new Float64Array(scans);
  filter[0] = 1;
  for (let k = 1; k < scans; k++) filter[k] = (filter[k - 1]! * (k - 0.5)) / k;
  const series = MASSES.map(() => {
    const steps = Float64Array.from({ length: scans }, () => Math.sqrt(Math.PI * flicker) * random.normal());
    return Float64Array.from({ length: scans }, (_, i) => {
      let sum = drift * i + sigma * random.normal();
      for (let k = 0; k <= i; k++) sum += filter[k]! * steps[i - k]!;
      return sum;
    });
  });
  const curves = deviations(series, sigma);
  for (let k = 0; k <= 10; k++) {
    const n = 2 ** k;
    const expected = Math.sqrt(sigma ** 2 / n + 2 * Math.LN2 * flicker + (drift * n) ** 2 / 2);
    const variance = curves.reduce((sum, curve) => sum + curve[k]! ** 2 / curves.length, 0);
    // A variance from M neighbouring differences of eight series is known to √(3 / 8M) of itself, twice that in a root.
    const tolerance = 3 * Math.sqrt(3 / (8 * (scans / n - 1))) * 0.5 + 0.02;
    expect(Math.abs(Math.sqrt(variance) / expected - 1), `averages of ${n}`).toBeLessThan(tolerance);
  }
  // Averaging has stopped helping: white noise alone would be five times lower.
  expect(curves[0]![10]!).toBeGreaterThan(3 * (sigma / Math.sqrt(1024)));
});
