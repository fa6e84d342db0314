/** Simulated scans as a person would mark them: one gas let in, over what the chamber holds anyway. Invented amounts. */
import type { AnalysisScan, Calibration } from '../../shared/analysis/types.ts';
import { GASES, type GasId, gasById } from '../../shared/catalogue/gases.ts';
import {
  type AnalyserMake,
  type Composition,
  makeSimulatedAnalyser,
  type Random,
  type ScanSettings,
  type SimulatedAnalyser,
  seededRandom,
  simulateScan,
} from './instrument.ts';

export const REST: Composition = { H2: 2e-9, H2O: 1e-8, CO: 3e-9, CO2: 1e-9, CH4: 2e-10 };
export const DOSE_PA = 1e-6;
export const BARS: ScanSettings = {
  unit: 'A',
  masses: { first: 1, last: 100, perUnit: 1 },
  range: 3e4,
  ions: 1e6,
};

export const plus = (a: Composition, b: Composition): Composition => {
  const out: Record<string, number> = { ...a };
  for (const [gas, pressure] of Object.entries(b)) out[gas] = (out[gas] ?? 0) + pressure;
  return out;
};

/** What a gauge without any error reads, with the catalogue's gas factors. */
export const gaugePa = (truth: Composition): number =>
  Object.entries(truth).reduce(
    (sum, [gas, pressure]) => sum + pressure * gasById(gas as GasId).relativeSensitivity.value,
    0,
  );

export interface Marked {
  readonly analyser: SimulatedAnalyser;
  readonly calibration: Calibration;
  readonly scans: readonly AnalysisScan[];
}

export interface Marking {
  readonly random: Random;
  readonly analyser: SimulatedAnalyser;
  readonly settings?: ScanSettings;
  /** What the chamber held in each scan. */
  readonly truths: readonly Composition[];
}

/** A scan a minute; the gauge reads with 1 % of noise. */
export function markedScans({ random, analyser, settings = BARS, truths }: Marking): Marked {
  const simulated = truths.map((truth) => simulateScan(random, analyser, truth, settings));
  return {
    analyser,
    calibration: simulated[0]!.calibration,
    scans: simulated.map(({ scan }, i) => ({
      ...scan,
      id: String(i),
      atMs: i * 60_000,
      totalPressurePa: gaugePa(truths[i]!) * Math.exp(0.01 * random.normal()),
    })),
  };
}

export interface Dose {
  readonly seed: number;
  readonly gas: Composition;
  readonly rest?: Composition;
  readonly count?: number;
  readonly make?: Partial<AnalyserMake>;
  readonly settings?: ScanSettings;
}

/** `count` scans with the dose, which breathes by 10 %. */
export function dosedScans({ seed, gas, rest = REST, count = 8, make = {}, settings = BARS }: Dose): Marked {
  const random = seededRandom(seed);
  const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread: 0.2, ...make });
  const truths = Array.from({ length: count }, () => {
    const breath = Math.exp(0.1 * random.normal());
    return plus(rest, Object.fromEntries(Object.entries(gas).map(([id, pressure]) => [id, pressure * breath])));
  });
  return markedScans({ random, analyser, settings, truths });
}
