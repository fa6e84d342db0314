/** Simulated analysers with gas of their own, known by construction. */
import { Value } from 'typebox/value';
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../../shared/analysis/analyse.ts';
import { type BackgroundAnswer, LEAST_UNSTEADINESS } from '../../../../shared/analysis/marked/closedValve.ts';
import { recordBackground } from '../../../../shared/analysis/marked/recordBackground.ts';
import { GASES } from '../../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../../shared/catalogue/select.ts';
import { BackgroundValue } from '../../../../shared/contract/calibration.ts';
import { type Composition, makeSimulatedAnalyser, type Random, seededRandom } from '../../../support/instrument.ts';
import { BARS, markedScans, plus } from '../../../support/markedScans.ts';

const catalogue = catalogueFor([]);
const OWN: Composition = { H2: 5e-8, CO: 2e-8, CO2: 1e-8, CH4: 3e-9, H2O: 1e-8 };
const CHAMBER: Composition = { H2: 5e-8, H2O: 1e-7, N2: 4e-8, CO: 1e-8, CO2: 2e-9, Ar: 2e-9, O2: 1e-9, CH4: 5e-10 };

const times = (composition: Composition, factor: number): Composition =>
  Object.fromEntries(Object.entries(composition).map(([gas, pressure]) => [gas, pressure * factor]));
const analyserOf = (random: Random, sensitivitySpread = 0.2) =>
  makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread });
const repeated = (composition: Composition, count = 9) => Array.from({ length: count }, () => composition);

const recorded = (answer: BackgroundAnswer) => {
  if (!answer.ok) throw new Error(answer.problem);
  return answer;
};
const problem = (answer: BackgroundAnswer): string => (answer.ok ? 'nothing refused' : answer.problem);

describe('valve closed', () => {
  const closed = (truths: readonly Composition[], settings = BARS, seed = 1) => {
    const random = seededRandom(seed);
    return markedScans({ random, analyser: analyserOf(random), truths, settings });
  };
  const recordClosed = (truths: readonly Composition[], settings = BARS, seed = 1) =>
    recordBackground({ ...closed(truths, settings, seed), catalogue, other: null });

  test('heights are those of the analyser’s own gas', () => {
    const { analyser, ...marked } = closed(repeated(OWN));
    const { background } = recorded(recordBackground({ ...marked, catalogue, other: null }));
    for (const mass of [18, 28, 44]) {
      const truth = Object.entries(OWN).reduce((sum, [gas, p]) => sum + p * analyser.responses.get(gas)![mass]!, 0);
      expect(background.peaks[mass]!.heightPa / truth).toBeCloseTo(1, 1);
      expect(background.peaks[mass]!.sigmaPa).toBeLessThan(0.01 * truth);
    }
    expect(background.peaks[40]).toBeUndefined();
  });

  test('foot and zero are left to every scan’s own fit', () => {
    const shifted = { ...BARS, zero: 20 };
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const { background } = recorded(recordClosed(repeated(OWN), shifted, seed));
      // Twenty standard deviations of the noise on every mass: none of it may be taken for gas.
      expect(Object.keys(background.peaks).length).toBeLessThan(40);
      expect(background.peaks[8]).toBeUndefined();
    }
  });

  test('steady scans do not promise a steady month; unsteady ones show it', () => {
    expect(recorded(recordClosed(repeated(OWN))).background.unsteadiness).toBe(LEAST_UNSTEADINESS);
    const breathing = [1, 1.6, 0.7, 1.5, 0.6, 1.4, 0.8, 1.5, 0.9].map((factor) => times(OWN, factor));
    expect(recorded(recordClosed(breathing)).background.unsteadiness).toBeGreaterThan(0.3);
  });

  test('it is an upper bound, and that is said', () => {
    expect(recorded(recordClosed(repeated(OWN))).remarks.join(' ')).toMatch(/upper bound/);
  });

  test('is what may be stored', () => {
    const { background } = recorded(recordClosed(repeated(OWN)));
    expect(Value.Check(BackgroundValue, JSON.parse(JSON.stringify(background)))).toBe(true);
  });

  test('taken off, the chamber’s gas comes out as without it', () => {
    const random = seededRandom(7);
    const analyser = analyserOf(random, 0);
    const { background } = recorded(
      recordBackground({ ...markedScans({ random, analyser, truths: repeated(OWN) }), catalogue, other: null }),
    );
    const service = markedScans({ random, analyser, truths: repeated(plus(CHAMBER, OWN), 1) });
    const { analysis } = makeAnalyser({ ...service.calibration, background }, catalogue).analyse(service.scans[0]!);
    const carbonDioxide = analysis.gases.find(({ gas }) => gas === 'CO2')!;
    expect(carbonDioxide.lowPa).toBeLessThanOrEqual(CHAMBER.CO2!);
    expect(carbonDioxide.highPa).toBeGreaterThanOrEqual(CHAMBER.CO2!);
    expect(carbonDioxide.highPa).toBeLessThan(OWN.CO2!);
  });

  describe('refused', () => {
    test('fewer than three scans', () => {
      expect(problem(recordClosed(repeated(OWN, 2)))).toMatch(/2 scans: at least 3/);
    });

    test('still falling', () => {
      const falling = [8, 6, 5, 4, 3, 2.5, 2, 1.5, 1].map((factor) => times(OWN, factor));
      expect(problem(recordClosed(falling))).toMatch(/fell by \d+ %.*wait until it stands still/);
    });

    test('relative signals', () => {
      expect(problem(recordClosed(repeated(OWN), { ...BARS, unit: '1' }))).toMatch(/relative signals/);
    });

    test('nothing above the noise', () => {
      const { calibration, scans } = closed(repeated(OWN));
      const random = seededRandom(3);
      const dark = scans.map((scan) => ({ ...scan, values: scan.values.map(() => 1e-15 * random.normal()) }));
      expect(problem(recordBackground({ calibration, scans: dark, catalogue, other: null }))).toMatch(
        /No peak stands above the noise/,
      );
    });
  });
});

describe('a second analyser', () => {
  const pair = (seed: number, ours: readonly Composition[], theirs: readonly Composition[], spread = 0.2) => {
    const random = seededRandom(seed);
    const [a, b] = [analyserOf(random, spread), analyserOf(random, spread)];
    const named = (marked: ReturnType<typeof markedScans>, analyser: string) => ({
      ...marked,
      calibration: { ...marked.calibration, analyser },
    });
    return {
      ...named(markedScans({ random, analyser: a, truths: ours }), 'A1'),
      catalogue,
      other: named(markedScans({ random, analyser: b, truths: theirs }), 'B2'),
    };
  };
  const MUCH = times(OWN, 4);

  test('what the first sees beyond the second goes back to its peaks', () => {
    const found = new Map<string, number>();
    for (let seed = 1; seed <= 10; seed++) {
      const { background, remarks } = recorded(
        recordBackground(pair(seed, repeated(plus(CHAMBER, MUCH)), repeated(CHAMBER), 0.05)),
      );
      expect(remarks.join(' ')).toMatch(/one scale by .*: A1 shows .* times what B2 shows/);
      for (const gas of ['CO', 'CO2', 'CH4']) {
        if (remarks.join(' ').includes(`${gas} `)) found.set(gas, (found.get(gas) ?? 0) + 1);
      }
      expect(background.unsteadiness).toBeGreaterThanOrEqual(LEAST_UNSTEADINESS);
      const carbonDioxide = background.peaks[44]!;
      expect(Math.abs(carbonDioxide.heightPa - MUCH.CO2! * 1.2)).toBeLessThan(
        3 * Math.hypot(carbonDioxide.sigmaPa, 0.15 * carbonDioxide.heightPa, 0.3 * MUCH.CO2!),
      );
      expect(background.peaks[40]).toBeUndefined();
    }
    expect(found.get('CO2')).toBe(10);
    expect(found.get('CH4')).toBe(10);
  });

  test('two analysers that add nothing are seldom told to', () => {
    let claimed = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const answer = recordBackground(pair(seed, repeated(CHAMBER, 4), repeated(CHAMBER, 4)));
      if (answer.ok) claimed++;
      else expect(answer.problem).toMatch(/A1 shows no gas beyond what B2 shows/);
    }
    expect(claimed).toBeLessThanOrEqual(2);
  });

  test('without argon and nitrogen the scale is water’s, and that is said', () => {
    const wet: Composition = { H2O: 1e-7, CO2: 2e-9, H2: 1e-8 };
    const { remarks } = recorded(recordBackground(pair(3, repeated(plus(wet, { CO2: 5e-8 })), repeated(wet), 0.05)));
    expect(remarks.join(' ')).toMatch(/by H2O.*The scale rests on water/);
  });

  describe('refused', () => {
    test('when the chamber moved meanwhile', () => {
      const moving = [1, 1.2, 1.4, 1.6, 1.8, 2].map((factor) => ({ ...CHAMBER, H2O: factor * CHAMBER.H2O! }));
      expect(
        problem(
          recordBackground(
            pair(
              1,
              moving.map((one) => plus(one, OWN)),
              moving,
            ),
          ),
        ),
      ).toMatch(/The chamber moved meanwhile: H2O rose by \d+ %/);
    });

    test('when they did not scan at the same time', () => {
      const { other, ...first } = pair(1, repeated(plus(CHAMBER, OWN)), repeated(CHAMBER));
      const later = other.scans.map((scan) => ({ ...scan, atMs: scan.atMs + 3_600_000 }));
      expect(problem(recordBackground({ ...first, other: { ...other, scans: later } }))).toMatch(
        /not scanning at the same time/,
      );
    });

    test('with too few scans of either', () => {
      expect(problem(recordBackground(pair(1, repeated(CHAMBER, 2), repeated(CHAMBER))))).toMatch(/2 scans of A1/);
      expect(problem(recordBackground(pair(1, repeated(CHAMBER), repeated(CHAMBER, 2))))).toMatch(/2 scans of B2/);
    });

    test('without a gas that brings them to one scale', () => {
      const bare: Composition = { H2: 1e-8, CO2: 1e-9 };
      expect(problem(recordBackground(pair(1, repeated(bare), repeated(bare))))).toMatch(
        /nothing brings them to one scale/,
      );
    });
  });
});
