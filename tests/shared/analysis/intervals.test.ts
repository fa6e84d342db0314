/**
 * The arithmetic of the intervals is checked against numpy in tests/reference/estimate.test.ts; here what must hold.
 *
 * Then the whole analysis on simulated analysers with known truth: do the intervals hold, and is nothing seen that is not
 * there? Truth is by construction (tests/support/instrument.ts says how far the simulation is independent); seeds are
 * fixed. A case fails only when the count would be a one-in-a-thousand event at the promised rate, scans being
 * independent and gases of one scan taken as such.
 */
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { gasColumns } from '../../../shared/analysis/columns.ts';
import { makeDesign } from '../../../shared/analysis/design.ts';
import { makeFitter } from '../../../shared/analysis/fit.ts';
import { gainOfSum, gainRow, makeGains } from '../../../shared/analysis/gains.ts';
import { GAUGE_UNCERTAINTY, gaugeReading } from '../../../shared/analysis/gauge.ts';
import { inseparablePair } from '../../../shared/analysis/inseparable.ts';
import { gasIntervals } from '../../../shared/analysis/intervals.ts';
import { ownScale, scaleToGauge } from '../../../shared/analysis/scaling.ts';
import type { AnalysisScan } from '../../../shared/analysis/types.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { KINDS, type Kind, PROCESS_GASES } from '../../support/compositions.ts';
import { type Count, runStudy, type Study } from '../../support/coverageStudy.ts';
import {
  type Composition,
  makeSimulatedAnalyser,
  type Random,
  type ScanSettings,
  seededRandom,
  simulateScan,
} from '../../support/instrument.ts';

function fitOf(masses: readonly number[], truth: Readonly<Record<string, number>>, sigma = 1e-5) {
  const random = seededRandom(6);
  const design = makeDesign(gasColumns(catalogueFor([]), masses), 'quadrupole');
  const heights = Float64Array.from(masses, () => sigma * random.normal());
  for (const column of design.columns) {
    column.rows.forEach((row, k) => {
      heights[row]! += (truth[column.id] ?? 0) * column.response[k]!;
    });
  }
  const fit = makeFitter(design).fit(
    heights,
    heights.map(() => sigma ** 2),
  );
  const of = (id: string) => design.columns.findIndex((column) => column.id === id);
  return { fit, design, of };
}

const ALL = Array.from({ length: 100 }, (_, i) => i + 1);
const WET = { H2O: 1, H2: 0.2, N2: 0.1, CO: 0.05, CO2: 0.05, O2: 0.01, Ar: 0.002, CH4: 0.01 };

describe('gains', () => {
  const { fit, of } = fitOf(ALL, WET);
  const gains = makeGains(fit, ownScale(fit));

  test('applied to the heights they give the amounts back, but for gases that the bound holds at zero', () => {
    for (const id of ['H2O', 'CO2', 'Ar', 'O2']) {
      const { gain } = gainRow(gains, of(id));
      const amount = gain.reduce((sum, g, row) => sum + g * fit.heights[row]!, 0);
      expect(amount / fit.amounts[of(id)]!).toBeCloseTo(1, 4);
    }
  });

  test('the three variances add up to the diagonal of the covariance', () => {
    const row = gainRow(gains, of('N2'));
    const place = fit.placeOf[of('N2')]!;
    const whole = fit.covariance[place * fit.covarianceColumns.length + place]!;
    expect((row.noiseVariance + row.patternVariance + row.ownVariance) / whole).toBeCloseTo(1, 6);
  });

  test('the sum of N2 and CO is known far better than its parts', () => {
    const variance = (columns: number[]) => {
      const { noiseVariance, ownVariance, patternVariance } = gainOfSum(gains, columns);
      return noiseVariance + ownVariance + patternVariance;
    };
    expect(variance([of('N2'), of('CO')])).toBeLessThan(0.05 * variance([of('CO')]));
  });
});

describe('intervals', () => {
  test('hold the truth, and absent gases get a limit', () => {
    const { fit, design } = fitOf(ALL, WET);
    for (const interval of gasIntervals(fit, ownScale(fit))) {
      const truth = (WET as Record<string, number>)[design.columns[interval.column]!.id] ?? 0;
      expect(interval.high).toBeGreaterThanOrEqual(truth);
      expect(interval.low).toBeLessThanOrEqual(truth);
      expect(Number.isFinite(interval.high)).toBe(true);
      if (!interval.detected) expect(interval.low).toBe(0);
    }
  });

  test('N2 and CO from m/z 28 alone: neither is claimed, each is limited by the peak, the sum is given', () => {
    const { fit, of } = fitOf([2, 18, 28, 32, 40, 44], { H2: 0.2, H2O: 1, N2: 0.1, CO: 0.1 }, 1e-4);
    const scaling = ownScale(fit);
    const intervals = gasIntervals(fit, scaling);
    for (const id of ['N2', 'CO']) {
      expect(intervals[of(id)]!.detected).toBe(false);
      expect(intervals[of(id)]!.high).toBeGreaterThan(0.1);
      expect(intervals[of(id)]!.high).toBeLessThan(0.5);
    }
    const pair = inseparablePair(fit, intervals, scaling)!;
    expect(pair.correlation).toBeLessThan(-0.99);
    expect(pair.lowPa).toBeLessThan(0.2);
    expect(pair.highPa).toBeGreaterThan(0.2);
    expect(pair.text).toMatch(/cannot be told apart.*go by the sum/);
  });

  test('much nitrogen beside little carbon monoxide: only the carbon monoxide is said to be unknown', () => {
    const { fit } = fitOf(ALL, { H2O: 0.1, N2: 1, O2: 0.25, Ar: 0.012, CO: 0.01 });
    const scaling = ownScale(fit);
    const pair = inseparablePair(fit, gasIntervals(fit, scaling), scaling);
    expect(pair?.text ?? 'How much of m/z 28 is carbon monoxide').toMatch(/^How much of m\/z 28 is carbon monoxide/);
  });

  test('without N2 and CO in reach there is no such pair', () => {
    const { fit } = fitOf([2, 18, 40, 44], { H2: 0.2, H2O: 1 });
    expect(inseparablePair(fit, gasIntervals(fit, ownScale(fit)), ownScale(fit))).toBe(null);
  });
});

describe('scale from the gauge', () => {
  const { fit, of } = fitOf(ALL, WET);

  test('is self-consistent: the gauge reads what it would read in the mixture that is reported', () => {
    const scaling = scaleToGauge(fit, 2e-6)!;
    const read = fit.design.columns
      .slice(0, fit.design.gasCount)
      .reduce((sum, column, j) => sum + column.gaugeFactor * fit.amounts[j]! * scaling.factor, 0);
    expect(read / 2e-6).toBeCloseTo(1, 12);
  });

  test('a gas that is nearly all there is keeps little of the error of its own sensitivity', () => {
    const scaling = scaleToGauge(fit, 2e-6)!;
    const water = fit.design.columns[of('H2O')]!;
    const argon = fit.design.columns[of('Ar')]!;
    expect(scaling.sensitivityError(of('H2O'))).toBeLessThan(
      Math.hypot(water.sensitivityError, GAUGE_UNCERTAINTY, 0.15),
    );
    expect(scaling.sensitivityError(of('Ar'))).toBeGreaterThan(argon.sensitivityError);
  });

  test('nothing found, nothing scaled', () => {
    const empty = { ...fit, amounts: new Float64Array(fit.amounts.length) };
    expect(scaleToGauge(empty, 1e-6)).toBe(null);
  });
});

describe('gauge', () => {
  const scan = (totalPressurePa: number | null) => ({ totalPressurePa }) as Parameters<typeof gaugeReading>[0];

  test.each([
    [null, 'missing'],
    [0, 'absurd'],
    [-3e-7, 'absurd'],
    [Number.NaN, 'absurd'],
    [1e7, 'absurd'],
    [3e-7, 'reading'],
  ])('%s is %s', (value, kind) => {
    expect(gaugeReading(scan(value)).kind).toBe(kind);
  });

  test('at another port is read with its factor; an absurd reading stays absurd', () => {
    expect(gaugeReading(scan(3e-7), 2)).toEqual({ kind: 'reading', pressurePa: 6e-7 });
    expect(gaugeReading(scan(1e7), 1e-6).kind).toBe('absurd');
  });
});

test('the gain of a multiplier makes all gases doubtful together', () => {
  const { fit, of } = fitOf(ALL, WET);
  const ratio = (gainError: number) => {
    const { low, high } = gasIntervals(fit, ownScale(fit, gainError))[of('H2O')]!;
    return Math.log(high / low);
  };
  const column = fit.design.columns[of('H2O')]!;
  expect(ownScale(fit, 0.3).sensitivityError(of('H2O'))).toBeCloseTo(Math.hypot(column.sensitivityError, 0.3), 12);
  expect(ratio(0.3)).toBeGreaterThan(1.2 * ratio(0));
});

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
  // An interval that always holds is wider than it says.
  expect(covered, `covered ${covered} of ${detected}`).toBeLessThanOrEqual(atMost(0.98, detected));
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

  test('selected masses: intervals hold; a solvent whose peaks were not selected is not given another name', () => {
    const masses = [2, 4, 12, 14, 15, 16, 17, 18, 20, 28, 32, 40, 43, 44, 57, 69];
    const { all, byGas } = runStudy(study({ seed: 114, settings: settings(() => ({ masses })) }));
    expectHonest(all);
    // The masses were selected for oil: it is found.
    expect(byGas.get('hydrocarbon-oil')!.detected).toBeGreaterThanOrEqual(45);
  });

  test('everything wrong at once: far off the records in all ways, intervals still hold in seven of eight cases', () => {
    const make = {
      fragmentSpread: 0.3,
      sensitivitySpread: 0.3,
      tiltSpread: 0.3,
      omittedPeaks: true,
      otherRecord: true,
    };
    const { all } = runStudy(study({ seed: 116, make }));
    expect(all.covered / all.detected).toBeGreaterThanOrEqual(0.875);
    expect(all.limitHolds).toBeGreaterThanOrEqual(atLeast(0.95, all.undetected));
    expect(all.phantoms).toBeLessThanOrEqual(atMost(0.002, all.absent));
  });

  test.each([
    ['off by 10 %', 0.1, 117],
    ['off by 30 %', 0.3, 118],
  ])('nitrogen beside carbon monoxide, fragments %s: each holds by itself', (_name, fragmentSpread, seed) => {
    const make = { fragmentSpread, sensitivitySpread: 0.2 };
    const { byGas } = runStudy(study({ seed, make, perKind: 100, kinds: ['unbaked', 'air', 'oil'] }));
    for (const id of ['N2', 'CO']) {
      const { covered, detected, limitHolds, undetected } = byGas.get(id)!;
      expect(covered, `${id} covered ${covered} of ${detected}`).toBeGreaterThanOrEqual(atLeast(0.93, detected));
      expect(limitHolds, `${id} limits ${limitHolds} of ${undetected}`).toBeGreaterThanOrEqual(
        atLeast(0.95, undetected),
      );
    }
  });

  test('one analyser over a long time: a wrong pattern makes no phantom that stays', () => {
    let staying = 0;
    for (let analyser = 0; analyser < 12; analyser++) {
      const random = seededRandom(500 + analyser);
      const kind = (Object.keys(KINDS) as Kind[])[analyser % 6]!;
      const instrument = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.3, sensitivitySpread: 0.2 });
      const usual = KINDS[kind](random) as Composition;
      const noise = settings(() => ({}))(random);
      const seen = new Map<string, number>();
      for (let scan = 0; scan < 40; scan++) {
        const truth = Object.fromEntries(
          Object.entries(usual).map(([gas, p]) => [gas, 1e-6 * p * Math.exp(0.5 * random.normal())]),
        );
        const simulated = simulateScan(random, instrument, truth, noise);
        const { gases } = makeAnalyser(simulated.calibration, named(truth)).analyse(simulated.scan).analysis;
        for (const { gas, detected } of gases) {
          if (detected && truth[gas] === undefined) seen.set(gas, (seen.get(gas) ?? 0) + 1);
        }
      }
      staying += [...seen.values()].filter((count) => count >= 10).length;
    }
    expect(staying).toBe(0);
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
