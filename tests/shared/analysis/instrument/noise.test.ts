import { describe, expect, test } from 'vitest';
import {
  knownNoise,
  learnNoise,
  NO_NOISE,
  type NoiseMemory,
  noiseWithScan,
} from '../../../../shared/analysis/instrument/noise.ts';
import { instrumentView } from '../../../../shared/analysis/instrument/view.ts';
import { GASES } from '../../../../shared/catalogue/gases.ts';
import {
  makeSimulatedAnalyser,
  type Random,
  type ScanSettings,
  seededRandom,
  simulateScan,
} from '../../../support/instrument.ts';
import { analyseSeries, calibrationOf, seriesScan } from '../../../support/series.ts';

const MASSES = Array.from({ length: 60 }, (_, i) => i + 1);
const MINUTE = 60_000;

const heightsWith = (random: Random, sigma: number) =>
  Float64Array.from(MASSES, (mass) => 0.3 + sigma * random.normal() + ([2, 17, 18, 28, 44].includes(mass) ? 1e4 : 0));

function learned(random: Random, sigmas: readonly number[], begin: NoiseMemory = NO_NOISE): NoiseMemory {
  return sigmas.reduce((memory, sigma) => {
    const heights = heightsWith(random, sigma);
    const read = knownNoise(memory)?.sigma ?? sigma;
    return learnNoise(memory, { masses: MASSES, heights, sigma: read, visible: true, successive: true });
  }, begin);
}

describe('noise from differences of successive scans', () => {
  test('nothing is said before twenty differences', () => {
    const random = seededRandom(1);
    expect(knownNoise(learned(random, Array(20).fill(1)))).toBeNull();
    expect(knownNoise(learned(random, Array(21).fill(1)))).not.toBeNull();
  });

  test('known to 10 % in nine of ten series of forty', () => {
    const random = seededRandom(2);
    let near = 0;
    for (let k = 0; k < 100; k++) {
      const { sigma } = knownNoise(learned(random, Array(41).fill(1)))!;
      if (Math.abs(sigma - 1) < 0.1) near++;
    }
    expect(near).toBeGreaterThanOrEqual(90);
  });

  test('ten times the noise is believed in the very scan, and known for good some twenty scans later', () => {
    const random = seededRandom(3);
    const calm = learned(random, Array(41).fill(1));
    const now = noiseWithScan(knownNoise(calm)!, MASSES, heightsWith(random, 10));
    expect(now).toBeGreaterThan(6);
    expect(now).toBeLessThan(16);
    const after = knownNoise(learned(random, Array(45).fill(10), calm))!;
    expect(after.sigma).toBeGreaterThan(8.5);
    expect(after.sigma).toBeLessThan(11.5);
  });

  test('half as much again is believed after five scans', () => {
    const random = seededRandom(4);
    let raised = 0;
    for (let k = 0; k < 40; k++) {
      const calm = learned(random, Array(41).fill(1));
      if (knownNoise(learned(random, Array(6).fill(1.8), calm))!.sigma > 1.4) raised++;
    }
    expect(raised).toBeGreaterThanOrEqual(34);
  });

  test('steady noise is hardly ever raised by chance', () => {
    const random = seededRandom(5);
    let memory = learned(random, Array(41).fill(1));
    let raised = 0;
    for (let k = 0; k < 1000; k++) {
      const known = knownNoise(memory)!;
      const heights = heightsWith(random, 1);
      if (noiseWithScan(known, MASSES, heights) > 1.35) raised++;
      memory = learnNoise(memory, { masses: MASSES, heights, sigma: known.sigma, visible: true, successive: true });
    }
    expect(raised).toBeLessThan(30);
  });

  test('a transient in many masses moves one difference and not the noise; hidden noise is not learned', () => {
    const random = seededRandom(6);
    const calm = learned(random, Array(41).fill(1));
    const burst = heightsWith(random, 1).map((height) => height + 500);
    const after = learnNoise(calm, { masses: MASSES, heights: burst, sigma: 1, visible: true, successive: true });
    expect(Math.abs(knownNoise(learned(random, Array(3).fill(1), after))!.sigma - 1)).toBeLessThan(0.2);
    expect(learnNoise(calm, { masses: MASSES, heights: burst, sigma: 1, visible: false, successive: true })).toBe(
      NO_NOISE,
    );
  });

  test('scans that do not follow each other give no difference', () => {
    const random = seededRandom(7);
    const calm = learned(random, Array(30).fill(1));
    const gap = learnNoise(calm, {
      masses: MASSES,
      heights: heightsWith(random, 50),
      sigma: 1,
      visible: true,
      successive: false,
    });
    expect(gap.squares).toEqual(calm.squares);
  });
});

describe('in a series of scans', () => {
  const SETTINGS: ScanSettings = { unit: 'A', masses: { first: 1, last: 100, perUnit: 1 }, range: 1e4, ions: 1e7 };
  const TRUTH = { H2: 3e-6, H2O: 4e-6, N2: 2e-6, CO: 1e-6, CO2: 6e-7 };

  test('takes over after twenty scans, begins anew with other settings, and is nearer to the truth than one scan', () => {
    const random = seededRandom(8);
    const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.1, sensitivitySpread: 0.1 });
    const scan = (k: number, seconds = 20) => ({
      ...seriesScan(random, analyser, { truth: TRUTH, settings: SETTINGS, atMs: k * MINUTE }),
      seconds,
    });
    const { readNoisePa } = simulateScan(random, analyser, TRUTH, SETTINGS);
    const { answers, memory } = analyseSeries(
      [...Array.from({ length: 45 }, (_, k) => scan(k)), scan(45, 40)],
      calibrationOf(),
    );
    const from = answers.map(({ analysis }) => analysis.measurement!.noiseFrom);
    expect(from.slice(0, 21)).toEqual(Array(21).fill('empty masses'));
    expect(from.slice(21, 45)).toEqual(Array(24).fill('earlier scans'));
    expect(from[45]).toBe('empty masses');
    expect(answers[44]!.analysis.measurement!.readNoisePa! / readNoisePa).toBeCloseTo(1, 0);
    expect(Math.abs(answers[44]!.analysis.measurement!.readNoisePa! / readNoisePa - 1)).toBeLessThan(0.15);
    expect(instrumentView(memory)!.noise).toBeNull();
  });
});
