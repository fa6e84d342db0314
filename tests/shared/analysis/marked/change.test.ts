/**
 * Changes between two scans of one simulated analyser whose patterns are 20 % off the records. Truth is known by
 * construction, in the gas's own scale: what the analyser shows at the reference peak, since sensitivity is left out.
 */
import { Value } from 'typebox/value';
import { describe, expect, test } from 'vitest';
import { type ChangeAnswer, changeBetween, fitPair } from '../../../../shared/analysis/marked/change.ts';
import { changeVariance } from '../../../../shared/analysis/marked/changeSigma.ts';
import type { AnalysisScan, Calibration } from '../../../../shared/analysis/types.ts';
import { catalogueFor } from '../../../../shared/catalogue/select.ts';
import { ChangeResult } from '../../../../shared/contract/calibration.ts';
import { KINDS, scaled } from '../../../support/compositions.ts';
import { type Composition, makeSimulatedAnalyser, seededRandom, simulateScan } from '../../../support/instrument.ts';
import { BARS, dosedScans, markedScans } from '../../../support/markedScans.ts';

const catalogue = catalogueFor([]);
const PAIRS = 200;

interface Coverage {
  readonly noiseOnly: number;
  readonly full: number;
}

/** Share of changes within 1.96 standard deviations; a million ions at the top peak, as the analysis assumes. */
function coverage(change: (before: Composition) => Composition): Coverage {
  const random = seededRandom(20_260);
  let [asked, noiseOnly, full] = [0, 0, 0];
  for (let i = 0; i < PAIRS; i++) {
    const analyser = makeSimulatedAnalyser(random, catalogue.gases, { fragmentSpread: 0.2, sensitivitySpread: 0.03 });
    const [held, pressure] = [KINDS.unbaked(random), random.decades(1e-8, 1e-4)];
    const [first, second] = [scaled(held, pressure), scaled(change(held), pressure)];
    const settings = { ...BARS, range: random.decades(3e3, 3e5) };
    const [before, after] = [first, second].map((truth) => simulateScan(random, analyser, truth, settings)) as [
      ReturnType<typeof simulateScan>,
      ReturnType<typeof simulateScan>,
    ];
    const pair = fitPair({ before: before.scan, after: after.scan, calibration: before.calibration, catalogue });
    if (!pair.ok) throw new Error(pair.problem);
    pair.prepared.fitter.design.columns.forEach(({ id, referenceMass, peakResponse }, column) => {
      if (held[id] === undefined) return;
      const ownScale = analyser.responses.get(id)![referenceMass]! / peakResponse;
      const error =
        pair.after.fit.amounts[column]! - pair.before.fit.amounts[column]! - (second[id]! - first[id]!) * ownScale;
      const { noise, pattern } = changeVariance({ ...pair, own: null, column });
      asked++;
      if (Math.abs(error) < 1.96 * Math.sqrt(noise)) noiseOnly++;
      if (Math.abs(error) < 1.96 * Math.sqrt(noise + pattern)) full++;
    });
  }
  return { noiseOnly: noiseOnly / asked, full: full / asked };
}

describe('uncertainty of a change', () => {
  test('air comes in: noise alone is not enough, noise and patterns are', () => {
    const { noiseOnly, full } = coverage((held) => ({
      ...held,
      N2: held.N2! + 0.2,
      O2: held.O2! + 0.05,
      Ar: held.Ar! + 0.0024,
    }));
    expect(noiseOnly).toBeLessThan(0.85);
    expect(full).toBeGreaterThanOrEqual(0.93);
  });

  test('nothing changes: the patterns cancel, and the intervals are not too wide', () => {
    const { noiseOnly, full } = coverage((held) => held);
    expect(full).toBeGreaterThanOrEqual(0.93);
    expect(noiseOnly).toBeGreaterThanOrEqual(0.93);
    expect(full).toBeLessThanOrEqual(0.985);
  });

  test('water three times as high', () => {
    expect(coverage((held) => ({ ...held, H2O: 3 * held.H2O! })).full).toBeGreaterThanOrEqual(0.93);
  });
});

const HELD: Composition = { H2O: 1e-7, H2: 2e-8, N2: 2e-8, CO: 1e-8, CO2: 5e-9, O2: 1e-9, Ar: 3e-10, CH4: 1e-9 };
const scansOf = (truths: readonly Composition[], settings = BARS, seed = 4) => {
  const random = seededRandom(seed);
  const analyser = makeSimulatedAnalyser(random, catalogue.gases, { fragmentSpread: 0.1, sensitivitySpread: 0.1 });
  return markedScans({ random, analyser, truths, settings });
};
const changeOf = (truths: readonly [Composition, Composition], settings = BARS) => {
  const { scans, calibration } = scansOf(truths, settings);
  return changeBetween({ before: scans[0]!, after: scans[1]!, calibration, catalogue });
};
const gasesOf = (answer: ChangeAnswer) => {
  if (!answer.ok) throw new Error(answer.problem);
  return new Map(answer.gases.map((change) => [change.gas, change]));
};
const significant = (answer: ChangeAnswer) =>
  [...gasesOf(answer).values()].filter((change) => change.significant).map(({ gas }) => gas);

describe('the change between two scans', () => {
  test('finds what changed and nothing else', () => {
    const answer = changeOf([HELD, { ...HELD, Ar: 3e-9, CO2: 1e-9 }]);
    expect(significant(answer)).toEqual(['Ar', 'CO2']);
    expect(gasesOf(answer).get('CO2')!.changePa).toBeLessThan(0);
    expect(gasesOf(answer).get('Ar')!.changePa).toBeGreaterThan(0);
  });

  test('nothing is significant between two scans of the same gas', () => {
    expect(significant(changeOf([HELD, HELD]))).toEqual([]);
  });

  test('a gas that is there in one scan only is judged in both', () => {
    expect(significant(changeOf([HELD, { ...HELD, acetone: 1e-8 }]))).toEqual(['acetone']);
    const gone = gasesOf(changeOf([{ ...HELD, acetone: 1e-8 }, HELD])).get('acetone')!;
    expect(gone.changePa).toBeLessThan(0);
    expect(gone.significant).toBe(true);
  });

  test('relative signals are scaled to the gauge', () => {
    const relative = { ...BARS, unit: '1' as const };
    expect(significant(changeOf([HELD, { ...HELD, Ar: 3e-8 }], relative))).toContain('Ar');
    const scaledBy = gasesOf(changeOf([HELD, { ...HELD, Ar: 3e-8 }], relative)).get('Ar')!.changePa;
    expect(scaledBy).toBeGreaterThan(1e-8);
    expect(scaledBy).toBeLessThan(1e-7);
  });

  test('a gauge that repeats to one per cent makes no change of a main gas', () => {
    const relative = { ...BARS, unit: '1' as const };
    const found = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10].flatMap((seed) => {
      const { scans, calibration } = scansOf([HELD, HELD], relative, seed);
      return significant(changeBetween({ before: scans[0]!, after: scans[1]!, calibration, catalogue }));
    });
    // Ten gases in ten pairs at three standard deviations: a third of one by chance.
    expect(found.length).toBeLessThanOrEqual(2);
  });

  test('masses that one of the scans lacks are left out', () => {
    const { scans, calibration } = scansOf([HELD, { ...HELD, Ar: 3e-9 }]);
    const short = { ...scans[1]!, masses: { first: 1, last: 50, perUnit: 1 }, values: scans[1]!.values.slice(0, 50) };
    const answer = changeBetween({ before: scans[0]!, after: short, calibration, catalogue });
    expect(significant(answer)).toEqual(['Ar']);
  });

  test('an own gas that comes and goes widens the change of that gas only', () => {
    const { scans, calibration } = scansOf([HELD, HELD]);
    const peaks = { 44: { heightPa: 3e-9, sigmaPa: 1e-11 } };
    const sigma = (background: Calibration['background']) =>
      gasesOf(
        changeBetween({
          before: scans[0]!,
          after: scans[1]!,
          calibration: { ...calibration, background: background ?? null },
          catalogue,
        }),
      );
    const [plain, unsteady] = [sigma(null), sigma({ peaks, unsteadiness: 0.2 })];
    // Both scans have it: √2 · 0.2 · 3e-9 N2-equivalent Pa at m/z 44; less in CO2, whose other peaks then count for more.
    const added = Math.sqrt(unsteady.get('CO2')!.sigmaPa ** 2 - plain.get('CO2')!.sigmaPa ** 2);
    expect(added).toBeGreaterThan(0.25 * Math.SQRT2 * 0.2 * 3e-9);
    expect(added).toBeLessThan(Math.SQRT2 * 0.2 * 3e-9);
    expect(unsteady.get('Ar')!.sigmaPa / plain.get('Ar')!.sigmaPa).toBeCloseTo(1, 2);
  });

  test('between the two detectors the gain does not cancel', () => {
    const { scans, calibration } = scansOf([HELD, HELD]);
    const known = { ...calibration, multiplierGain: 1000 };
    const multiplied: AnalysisScan = {
      ...scans[1]!,
      detector: 'multiplier',
      values: scans[1]!.values.map((value) => 1000 * value),
    };
    const same = gasesOf(changeBetween({ before: scans[0]!, after: scans[1]!, calibration: known, catalogue }));
    const other = gasesOf(changeBetween({ before: scans[0]!, after: multiplied, calibration: known, catalogue }));
    expect(other.get('H2O')!.sigmaPa).toBeGreaterThan(10 * same.get('H2O')!.sigmaPa);
    expect(other.get('H2O')!.significant).toBe(false);
  });

  test('a multiplier that has aged, and was measured, is no change of the chamber', () => {
    const { scans, calibration } = scansOf([HELD, HELD]);
    const [first, second] = scans as [AnalysisScan, AnalysisScan];
    const aged = (scan: AnalysisScan, gain: number): AnalysisScan => ({
      ...scan,
      detector: 'multiplier',
      values: scan.values.map((value) => value * gain),
    });
    const asked = {
      before: aged(first, 1000),
      after: aged(second, 650),
      calibration: { ...calibration, multiplierGain: 1000 },
      catalogue,
    };
    const water = (answer: ChangeAnswer) => {
      if (!answer.ok) throw new Error(answer.problem);
      return answer.gases.find(({ gas }) => gas === 'H2O')!;
    };
    expect(water(changeBetween(asked)).significant).toBe(true);
    expect(water(changeBetween({ ...asked, gains: { before: null, after: 650 } })).significant).toBe(false);
  });

  test('is what may be sent', () => {
    const answer = changeOf([HELD, HELD]);
    const gases = answer.ok ? [...answer.gases] : [];
    expect(gases.length).toBeGreaterThan(5);
    const sent = { before: '2031-01-08T06:00:00Z', after: '2031-01-08T07:00:00Z', gases };
    expect(Value.Check(ChangeResult, sent)).toBe(true);
    expect(Object.keys(gases[0]!).sort()).toEqual(['changePa', 'gas', 'sigmaPa', 'significant']);
  });
});

describe('refused', () => {
  const { scans, calibration } = dosedScans({ seed: 1, gas: { N2: 1e-6 }, count: 2 });
  const [before, after] = scans as [AnalysisScan, AnalysisScan];
  const problem = (changed: Partial<AnalysisScan>) => {
    const answer = changeBetween({ before, after: { ...after, ...changed }, calibration, catalogue });
    return answer.ok ? 'nothing refused' : answer.problem;
  };

  test('no mass in common', () => {
    expect(problem({ masses: [150, 151], values: Float64Array.of(1e-12, 1e-12) })).toMatch(/hardly a mass in common/);
  });

  test('no signal', () => {
    expect(problem({ values: after.values.map(() => 0) })).toMatch(/no signal/);
  });

  test('pressures against relative signals', () => {
    expect(problem({ unit: '1' })).toMatch(/in pressures, the other in relative/);
  });

  test('relative signals without a gauge', () => {
    const relative = { ...before, unit: '1' as const };
    const answer = changeBetween({
      before: relative,
      after: { ...relative, totalPressurePa: null },
      calibration,
      catalogue,
    });
    expect(answer).toMatchObject({ ok: false, problem: expect.stringMatching(/without a usable gauge/) });
  });
});
