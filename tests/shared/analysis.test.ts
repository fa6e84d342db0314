/**
 * The whole analysis on simulated analysers with known truth: do the intervals hold, and is nothing seen that is not
 * there? Truth is by construction (tests/support/instrument.ts says how far the simulation is independent); seeds are
 * fixed. A case fails only when the count would be a one-in-a-thousand event at the promised rate, scans being
 * independent and gases of one scan taken as such.
 */
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import type { AnalysisScan } from '../../shared/analysis/types.ts';
import { GASES } from '../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { PROCESS_GASES } from '../support/compositions.ts';
import { type Count, runStudy, type Study } from '../support/coverageStudy.ts';
import {
  type Composition,
  makeSimulatedAnalyser,
  type Random,
  type ScanSettings,
  seededRandom,
  simulateScan,
} from '../support/instrument.ts';

/** Standard deviations of a binomial count that are passed once in a thousand times. */
const ONE_IN_A_THOUSAND = 3.09;
const atLeast = (share: number, of: number) => share * of - ONE_IN_A_THOUSAND * Math.sqrt(share * (1 - share) * of);
const atMost = (share: number, of: number) => share * of + ONE_IN_A_THOUSAND * Math.sqrt(share * (1 - share) * of);

/** The chamber's own process gases are named to the analyser, as a fleet document does. */
const named = (truth: Composition) => catalogueFor(Object.keys(truth).filter((gas) => PROCESS_GASES.includes(gas)));
const bars = (last: number) => ({ first: 1, last, perUnit: 1 });

const settings =
  (changes: (random: Random) => Partial<ScanSettings>): Study['settings'] =>
  (random) => ({
    unit: 'A',
    masses: bars(100),
    range: random.decades(3e3, 3e5),
    ions: random.decades(1e5, 1e7),
    zero: random.normal(),
    gaugeSpread: 0.1,
    ...changes(random),
  });

const study = (changes: Partial<Study> & { readonly seed: number }): Study => ({
  perKind: 50,
  make: { fragmentSpread: 0.2, sensitivitySpread: 0.2 },
  gases: GASES,
  catalogue: named,
  settings: settings(() => ({})),
  ...changes,
});

function expectHonest(
  { detected, covered, undetected, limitHolds, absent, phantoms }: Count,
  phantomShare = 0.002,
): void {
  expect(detected).toBeGreaterThan(500);
  expect(covered, `covered ${covered} of ${detected}`).toBeGreaterThanOrEqual(atLeast(0.95, detected));
  expect(limitHolds, `limits ${limitHolds} of ${undetected}`).toBeGreaterThanOrEqual(atLeast(0.95, undetected));
  expect(phantoms, `phantoms ${phantoms} of ${absent}`).toBeLessThanOrEqual(atMost(phantomShare, absent));
}

describe('intervals hold and nothing absent is seen', () => {
  test.each([
    ['fragments off by 10 %', { seed: 101, make: { fragmentSpread: 0.1, sensitivitySpread: 0.2 } }],
    ['fragments off by 20 %', { seed: 102 }],
    ['fragments off by 30 %', { seed: 103, make: { fragmentSpread: 0.3, sensitivitySpread: 0.2 } }],
    [
      'all fragments of a gas off together',
      { seed: 104, make: { fragmentSpread: 0.1, commonSpread: 0.2, sensitivitySpread: 0.2 } },
    ],
    [
      'organic peaks that no record lists',
      { seed: 105, make: { fragmentSpread: 0.2, sensitivitySpread: 0.2, omittedPeaks: true } },
    ],
    [
      'patterns of another record',
      { seed: 106, make: { fragmentSpread: 0.1, sensitivitySpread: 0.2, otherRecord: true } },
    ],
    ['m/z 1 to 50 in mbar', { seed: 107, settings: settings(() => ({ unit: 'mbar', masses: bars(50) })) }],
    ['m/z 1 to 200 in Torr', { seed: 108, settings: settings(() => ({ unit: 'Torr', masses: bars(200) })) }],
    [
      'profile, 8 points per unit, off its masses',
      {
        seed: 109,
        settings: settings((r) => ({
          masses: { first: 1, last: 100, perUnit: 8 },
          offsetU: r.between(-0.4, 0.4),
          widthU: r.between(0.45, 0.8),
        })),
      },
    ],
    [
      'profile, 24 points per unit, off its masses',
      {
        seed: 110,
        settings: settings((r) => ({
          masses: { first: 0.5, last: 100.5, perUnit: 24 },
          offsetU: r.between(-0.4, 0.4),
          widthU: r.between(0.45, 0.8),
        })),
      },
    ],
    [
      'profile of flat-topped peaks',
      {
        seed: 111,
        settings: settings((r) => ({
          masses: { first: 0.5, last: 100.5, perUnit: 10 },
          offsetU: r.between(-0.3, 0.3),
          widthU: r.between(0.6, 0.85),
          flatTop: true,
        })),
      },
    ],
    [
      'an ion trap, scaled to the gauge',
      {
        seed: 112,
        make: { fragmentSpread: 0.2, sensitivitySpread: 0.2, principle: 'ion trap' as const },
        settings: settings(() => ({ unit: '1' })),
      },
    ],
    ['noise ten times better than assumed of any analyser', { seed: 113, settings: settings(() => ({ range: 3e6 })) }],
  ])('%s', (_name, changes) => {
    expectHonest(runStudy(study(changes)).all);
  });

  test('selected masses: intervals hold; a solvent whose peaks were not selected may be given another name', () => {
    const masses = [2, 4, 12, 14, 15, 16, 17, 18, 20, 28, 32, 40, 43, 44, 57, 69];
    expectHonest(runStudy(study({ seed: 114, settings: settings(() => ({ masses })) })).all, 0.015);
  });

  test('the sum of N2 and CO holds where the two are told to be inseparable', () => {
    const { pairSum } = runStudy(study({ seed: 115, kinds: ['baked', 'unbaked'] }));
    expect(pairSum.shown).toBeGreaterThan(20);
    expect(pairSum.covered).toBeGreaterThanOrEqual(atLeast(0.95, pairSum.shown));
  });
});

describe('known traps', () => {
  const one = (seed: number, truth: Composition, spread = 0.2) => {
    const random = seededRandom(seed);
    const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: spread, sensitivitySpread: 0.1 });
    return simulateScan(random, analyser, truth, { unit: 'Pa', masses: bars(100), range: 1e5, ions: 1e7 });
  };
  const gasesOf = ({ scan, calibration }: ReturnType<typeof one>, principle = calibration.principle) =>
    makeAnalyser({ ...calibration, principle }, catalogueFor([])).analyse(scan as AnalysisScan).analysis;
  const find = (analysis: ReturnType<typeof gasesOf>, id: string) => analysis.gases.find(({ gas }) => gas === id)!;

  test('a low-mass foot is not helium; without the columns for it, it would be in many scans', () => {
    const truth = { H2: 1, H2O: 0.1, CO: 0.1, CO2: 0.02 };
    let seen = 0;
    let naive = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const simulated = one(seed, truth);
      if (find(gasesOf(simulated), 'He').detected) seen++;
      if (find(gasesOf(simulated, 'ion trap'), 'He').detected) naive++;
    }
    expect(seen).toBeLessThanOrEqual(2);
    expect(naive).toBeGreaterThan(40);
  });

  test('carbon monoxide makes nine tenths of m/z 28: nitrogen is limited, not invented, and the pair is named', () => {
    let holds = 0;
    let claimed = 0;
    let named = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const analysis = gasesOf(one(1000 + seed, { H2O: 0.3, H2: 1, CO: 0.9, N2: 0.1, CO2: 0.05 }));
      const nitrogen = find(analysis, 'N2');
      if (nitrogen.detected) claimed++;
      if (nitrogen.highPa >= 0.1) holds++;
      if (analysis.inseparable !== undefined) named++;
    }
    expect(claimed).toBeLessThanOrEqual(20);
    expect(holds).toBeGreaterThanOrEqual(atLeast(0.95, 200));
    expect(named).toBeGreaterThanOrEqual(190);
  });

  test('ammonia hidden under water does not spoil methane', () => {
    let covered = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const analysis = gasesOf(one(2000 + seed, { H2O: 1, H2: 0.2, N2: 0.1, NH3: 0.05, CH4: 0.01, CO2: 0.05 }));
      const methane = find(analysis, 'CH4');
      if (methane.lowPa <= 0.01 && methane.highPa >= 0.01) covered++;
    }
    expect(covered).toBeGreaterThanOrEqual(atLeast(0.95, 200));
  });

  test('an oil is found in a scan with hardly any noise, though this analyser lacks some of its fragments', () => {
    let found = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const random = seededRandom(3000 + seed);
      const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.3, sensitivitySpread: 0.1 });
      const truth = { H2O: 1, H2: 0.2, N2: 0.1, CO2: 0.05, 'hydrocarbon-oil': 0.005 };
      const simulated = simulateScan(random, analyser, truth, { unit: 'Pa', masses: bars(100), range: 3e6, ions: 1e9 });
      if (find(gasesOf(simulated), 'hydrocarbon-oil').detected) found++;
    }
    expect(found).toBe(100);
  });
});
