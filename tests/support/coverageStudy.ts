/** Counts how often intervals hold, over many simulated analysers. One scan per analyser: scans are independent. */
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import type { Catalogue, CatalogueGas } from '../../shared/catalogue/types.ts';
import { KINDS, type Kind, scaled } from './compositions.ts';
import {
  type AnalyserMake,
  type Composition,
  makeSimulatedAnalyser,
  type Random,
  type ScanSettings,
  seededRandom,
  simulateScan,
} from './instrument.ts';

export interface Study {
  readonly seed: number;
  readonly perKind: number;
  readonly kinds?: readonly Kind[];
  readonly make: AnalyserMake;
  readonly settings: (random: Random) => ScanSettings;
  /** What the analyser may meet. */
  readonly gases: readonly CatalogueGas[];
  /** What the estimator considers for a composition. */
  readonly catalogue: (truth: Composition) => Catalogue;
  readonly composition?: (random: Random, kind: Kind) => Composition;
}

export interface Count {
  detected: number;
  covered: number;
  /** Truth below and above the interval. */
  below: number;
  above: number;
  undetected: number;
  limitHolds: number;
  absent: number;
  phantoms: number;
  /** |log10(estimate / truth)| of detected gases. */
  readonly errors: number[];
  /** ln(estimate / truth) and half of ln(high / low) of the same. */
  readonly logErrors: number[];
  readonly halfWidths: number[];
}

const fresh = (): Count => ({
  detected: 0,
  covered: 0,
  below: 0,
  above: 0,
  undetected: 0,
  limitHolds: 0,
  absent: 0,
  phantoms: 0,
  errors: [],
  logErrors: [],
  halfWidths: [],
});

export interface StudyResult {
  readonly all: Count;
  readonly byGas: ReadonlyMap<string, Count>;
  readonly phantomNames: ReadonlyMap<string, number>;
  readonly noiseRatios: readonly number[];
  readonly pairSum: { shown: number; covered: number };
  scans: number;
}

/** Ionisation gauge with the catalogue's factors, each off by 15 %. */
const gaugeOf = (random: Random, gases: readonly CatalogueGas[]) => {
  const factor = new Map(
    gases.map((gas) => [gas.id, gas.relativeSensitivity.value * Math.exp(0.15 * random.normal())]),
  );
  factor.set('N2', 1);
  return (truth: Composition): number =>
    Object.entries(truth).reduce((sum, [gas, pressure]) => sum + pressure * (factor.get(gas) ?? 1), 0);
};

export function runStudy(study: Study): StudyResult {
  const random = seededRandom(study.seed);
  const result = {
    all: fresh(),
    byGas: new Map<string, Count>(),
    phantomNames: new Map<string, number>(),
    noiseRatios: [] as number[],
    pairSum: { shown: 0, covered: 0 },
    scans: 0,
  };
  for (const kind of study.kinds ?? (Object.keys(KINDS) as Kind[])) {
    for (let i = 0; i < study.perKind; i++) {
      const instrument = makeSimulatedAnalyser(random, study.gases, study.make);
      const draw = study.composition ?? ((r: Random, k: Kind) => KINDS[k](r));
      const truth = scaled(draw(random, kind), random.decades(1e-8, 1e-4));
      const simulated = simulateScan(random, instrument, truth, study.settings(random), gaugeOf(random, study.gases));
      const { peaks, analysis } = makeAnalyser(simulated.calibration, study.catalogue(truth)).analyse(simulated.scan);
      result.scans++;
      result.noiseRatios.push(peaks.readNoisePa / simulated.readNoisePa);
      tally(result, truth, analysis);
    }
  }
  return result;
}

function tally(
  result: Omit<StudyResult, 'byGas' | 'phantomNames'> & {
    byGas: Map<string, Count>;
    phantomNames: Map<string, number>;
  },
  truth: Composition,
  analysis: ReturnType<ReturnType<typeof makeAnalyser>['analyse']>['analysis'],
): void {
  for (const gas of analysis.gases) {
    const own = result.byGas.get(gas.gas) ?? fresh();
    result.byGas.set(gas.gas, own);
    const value = truth[gas.gas] ?? 0;
    for (const count of [result.all, own]) {
      if (value === 0) {
        count.absent++;
        if (gas.detected) count.phantoms++;
      } else if (gas.detected) {
        count.detected++;
        if (value >= gas.lowPa && value <= gas.highPa) count.covered++;
        if (value < gas.lowPa) count.below++;
        if (value > gas.highPa) count.above++;
        count.errors.push(Math.abs(Math.log10(gas.valuePa / value)));
        count.logErrors.push(Math.log(gas.valuePa / value));
        count.halfWidths.push(Math.log(gas.highPa / gas.lowPa) / 2);
      } else {
        count.undetected++;
        if (value <= gas.highPa) count.limitHolds++;
      }
    }
    if (value === 0 && gas.detected) {
      result.phantomNames.set(gas.gas, (result.phantomNames.get(gas.gas) ?? 0) + 1);
    }
  }
  const pair = analysis.inseparable;
  if (pair !== undefined) {
    const sum = (truth.N2 ?? 0) + (truth.CO ?? 0);
    result.pairSum.shown++;
    if (sum >= pair.lowPa && sum <= pair.highPa) result.pairSum.covered++;
  }
}
