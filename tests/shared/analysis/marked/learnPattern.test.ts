/** Simulated analysers with patterns of their own, 20 % off the records: what is learned must be theirs. */
import { Value } from 'typebox/value';
import { describe, expect, test } from 'vitest';
import { learnPattern, type PatternAnswer } from '../../../../shared/analysis/marked/learnPattern.ts';
import { type GasId, gasById } from '../../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../../shared/catalogue/select.ts';
import { PatternValue } from '../../../../shared/contract/calibration.ts';
import { BARS, DOSE_PA, dosedScans, type Marked, REST } from '../../../support/markedScans.ts';

const learn = (id: GasId, { scans, calibration }: Pick<Marked, 'scans' | 'calibration'>, amountFromGauge = true) =>
  learnPattern({ gas: gasById(id), catalogue: catalogueFor([id]), scans, calibration, amountFromGauge });

const learned = (answer: PatternAnswer) => {
  if (!answer.ok) throw new Error(answer.problem);
  return answer;
};
const problem = (answer: PatternAnswer): string => (answer.ok ? 'nothing refused' : answer.problem);

const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

describe('the pattern of a pure gas', () => {
  test.each(['N2', 'CO', 'H2O', 'CO2', 'Ar', 'CH4', 'O2', 'NH3', 'NF3'] as const)(
    '%s: fragments and response are those of the analyser',
    (id) => {
      let beyond = 0;
      let compared = 0;
      for (const seed of SEEDS) {
        const marked = dosedScans({ seed, gas: { [id]: DOSE_PA } });
        const { pattern } = learned(learn(id, marked));
        const truth = marked.analyser.responses.get(id)!;
        const largest = Number(Object.entries(pattern.peaks).find(([, height]) => height === 100)![0]);
        for (const [mass, height] of Object.entries(pattern.peaks)) {
          if (height === 0 || height === 100) continue;
          compared++;
          const off = Math.log((height * truth[largest]!) / (100 * truth[Number(mass)]!));
          if (Math.abs(off) > 2 * pattern.fragmentUncertainty) beyond++;
        }
        const response = Math.log(pattern.responseAtLargest! / truth[largest]!);
        expect(Math.abs(response)).toBeLessThan(2 * pattern.responseUncertainty!);
        expect(pattern.fragmentUncertainty).toBeGreaterThanOrEqual(0.03);
        expect(pattern.fragmentUncertainty).toBeLessThan(0.1);
      }
      expect(compared).toBeGreaterThanOrEqual(SEEDS.length);
      // Two standard deviations: one in twenty may lie outside.
      expect(beyond).toBeLessThanOrEqual(Math.ceil(0.05 * compared));
    },
  );

  test('is what may be stored', () => {
    const { pattern } = learned(learn('CO2', dosedScans({ seed: 3, gas: { CO2: DOSE_PA } })));
    expect(Value.Check(PatternValue, JSON.parse(JSON.stringify(pattern)))).toBe(true);
    expect(JSON.parse(JSON.stringify(pattern))).toEqual(pattern);
    expect(Math.max(...Object.values(pattern.peaks))).toBe(100);
  });

  test('a profile gives the same fragments as bars', () => {
    const of = (settings: typeof BARS) => {
      const { analyser, ...marked } = dosedScans({ seed: 4, gas: { N2: DOSE_PA }, settings });
      const { pattern } = learned(learn('N2', marked));
      return (pattern.peaks[14]! * analyser.responses.get('N2')![28]!) / analyser.responses.get('N2')![14]! / 100;
    };
    expect(of(BARS)).toBeCloseTo(1, 1);
    expect(of({ ...BARS, masses: { first: 1, last: 60, perUnit: 16 } })).toBeCloseTo(1, 1);
  });

  test('what the chamber holds beside it is taken off: carbon monoxide at 3 % of a nitrogen dose', () => {
    const rest = { ...REST, CO: 0.03 * DOSE_PA };
    const off = SEEDS.map((seed) => {
      const { analyser, ...marked } = dosedScans({ seed, gas: { N2: DOSE_PA }, rest, make: { sensitivitySpread: 0 } });
      const own = analyser.responses.get('N2')!;
      return Math.log((learned(learn('N2', marked)).pattern.peaks[14]! * own[28]!) / (100 * own[14]!));
    });
    // Left in, it would make every ratio to m/z 28 three per cent too small.
    expect(Math.abs(off.reduce((sum, one) => sum + one, 0) / off.length)).toBeLessThan(0.01);
  });

  test('peaks that surfaces or the rest gas may make are left to the records, and it is said', () => {
    const { pattern, remarks } = learned(learn('H2O', dosedScans({ seed: 6, gas: { H2O: DOSE_PA } })));
    expect(pattern.peaks[16]).toBeUndefined();
    expect(remarks.join(' ')).toMatch(/m\/z 16, 19 could not be learned/);
  });

  test('a peak of some records that this analyser does not have is zero', () => {
    const { pattern } = learned(learn('CO', dosedScans({ seed: 7, gas: { CO: DOSE_PA } })));
    expect(pattern.peaks[14]).toBe(0);
  });

  test('dry air passes as nitrogen', () => {
    const air = { N2: 0.78 * DOSE_PA, O2: 0.21 * DOSE_PA, Ar: 0.0093 * DOSE_PA };
    const make = { sensitivitySpread: 0.1 };
    const { analyser, ...marked } = dosedScans({ seed: 8, gas: air, make });
    const { pattern, remarks } = learned(learn('N2', marked));
    const own = analyser.responses.get('N2')!;
    expect(Math.abs(Math.log(pattern.peaks[14]! / ((100 * own[14]!) / own[28]!)))).toBeLessThan(0.06);
    expect(Math.abs(Math.log(pattern.responseAtLargest! / own[28]!))).toBeLessThan(2 * pattern.responseUncertainty!);
    expect(remarks.join(' ')).toMatch(/dry air/);
  });
});

describe('the amount', () => {
  const marked = dosedScans({ seed: 9, gas: { Ar: DOSE_PA } });

  test('is unknown when the person says so', () => {
    const { pattern } = learned(learn('Ar', marked, false));
    expect([pattern.responseAtLargest, pattern.responseUncertainty]).toEqual([null, null]);
  });

  test('is unknown without a gauge, and that is said', () => {
    const scans = marked.scans.map((scan) => ({ ...scan, totalPressurePa: null }));
    const { pattern, remarks } = learned(learn('Ar', { ...marked, scans }));
    expect(pattern.responseAtLargest).toBe(null);
    expect(remarks.join(' ')).toMatch(/No scan came with a gauge reading/);
  });

  test('says nothing of relative signals', () => {
    const relative = dosedScans({ seed: 9, gas: { Ar: DOSE_PA }, settings: { ...BARS, unit: '1' } });
    const { pattern, remarks } = learned(learn('Ar', relative));
    expect(pattern.responseAtLargest).toBe(null);
    expect(remarks.join(' ')).toMatch(/relative signals/);
    expect(pattern.peaks[20]).toBeGreaterThan(0);
  });

  test('a nitrogen dose that is off says that the sensitivity is', () => {
    const nitrogen = dosedScans({ seed: 9, gas: { N2: DOSE_PA } });
    const off = {
      ...nitrogen.calibration,
      sensitivityAmperesPerPascal: nitrogen.calibration.sensitivityAmperesPerPascal! / 2,
    };
    expect(learned(learn('N2', nitrogen)).remarks.join(' ')).not.toMatch(/set the sensitivity/);
    expect(learned(learn('N2', { ...nitrogen, calibration: off })).remarks.join(' ')).toMatch(
      /(1\.9|2\.0)\d times the published one.*set the sensitivity anew/,
    );
  });

  test('a gauge at another port is corrected for', () => {
    const plain = learned(learn('Ar', marked)).pattern.responseAtLargest!;
    const moved = { ...marked, calibration: { ...marked.calibration, gaugeFactor: 2 } };
    expect(learned(learn('Ar', moved)).pattern.responseAtLargest! / plain).toBeCloseTo(0.5, 10);
  });

  test('a gas of one peak and unknown amount teaches nothing', () => {
    const helium = dosedScans({ seed: 2, gas: { He: 10 * DOSE_PA } });
    expect(problem(learn('He', helium, false))).toMatch(/one peak only/);
    expect(learned(learn('He', helium)).pattern.peaks).toEqual({ 4: 100 });
  });
});

describe('refusals say what to do', () => {
  test('fewer than three scans', () => {
    expect(problem(learn('N2', dosedScans({ seed: 1, gas: { N2: DOSE_PA }, count: 2 })))).toMatch(
      /2 scans: at least 3/,
    );
  });

  test('no scans', () => {
    const { calibration } = dosedScans({ seed: 1, gas: { N2: DOSE_PA } });
    expect(problem(learn('N2', { calibration, scans: [] }))).toMatch(/0 scans: at least 3/);
  });

  test('too small a dose', () => {
    expect(problem(learn('N2', dosedScans({ seed: 1, gas: { N2: 2e-8 } })))).toMatch(
      /not pure nitrogen.*less than 90 %.*beside water/,
    );
  });

  test('scans from before the dose among the marked ones', () => {
    const before = dosedScans({ seed: 1, gas: { N2: 1e-9 }, count: 2 });
    const dose = dosedScans({ seed: 1, gas: { N2: DOSE_PA } });
    const answer = learn('N2', { ...dose, scans: [...before.scans, ...dose.scans] });
    expect(problem(answer)).toMatch(/in 2 of 10 scans/);
  });

  test.each([
    ['CO', 'N2'],
    ['N2', 'CO'],
    ['Ar', 'N2'],
    ['NH3', 'H2O'],
    ['CH4', 'NH3'],
    ['CO2', 'CO'],
    ['N2O', 'CO2'],
  ] as const)('%s is not taken for %s', (truth, marked) => {
    for (const seed of SEEDS) {
      const answer = learn(marked, dosedScans({ seed, gas: { [truth]: DOSE_PA } }));
      expect(problem(answer), `seed ${seed}`).toMatch(/^This is not pure|^The peaks are not those|^No peak of/);
    }
  });

  test('a pattern that moves between the scans', () => {
    const first = dosedScans({ seed: 1, gas: { CO2: DOSE_PA }, count: 4 });
    const second = dosedScans({ seed: 2, gas: { CO2: DOSE_PA }, count: 4 });
    const answer = learn('CO2', { ...first, scans: [...first.scans, ...second.scans] });
    expect(problem(answer)).toMatch(/The scans disagree: m\/z \d+ against m\/z 44 moves by/);
  });

  test('a peak that is cut off at the end of the range', () => {
    const marked = dosedScans({ seed: 1, gas: { N2: DOSE_PA } });
    const top = Math.max(...marked.scans[0]!.values);
    const scans = marked.scans.map((scan) => ({
      ...scan,
      values: scan.values.map((value) => Math.min(value, top / 2)),
    }));
    expect(problem(learn('N2', { ...marked, scans }))).toMatch(/^The peak at m\/z 28 is cut off.*let in less gas/);
  });

  test('a list of masses that are all the gas’s own', () => {
    const settings = { ...BARS, masses: [14, 28, 29] };
    expect(problem(learn('N2', dosedScans({ seed: 1, gas: { N2: DOSE_PA }, settings })))).toMatch(/too few masses/);
  });

  test('a list of masses without the gas’s large peaks', () => {
    const settings = { ...BARS, masses: [2, 12, 14, 16, 17, 18, 28, 32, 40, 44] };
    expect(problem(learn('isobutane', dosedScans({ seed: 1, gas: { isobutane: DOSE_PA }, settings })))).toMatch(
      /large peaks of isobutane were not measured/,
    );
  });

  test('a gas beside it that no chamber is expected to hold', () => {
    const both = dosedScans({ seed: 1, gas: { N2: DOSE_PA, SF6: 0.3 * DOSE_PA } });
    expect(problem(learn('N2', both))).toMatch(/not pure nitrogen/);
  });

  test('nothing but noise', () => {
    const marked = dosedScans({ seed: 1, gas: { N2: DOSE_PA } });
    const scans = marked.scans.map((scan) => ({ ...scan, values: scan.values.map(() => 0) }));
    expect(problem(learn('N2', { ...marked, scans }))).toMatch(/No peak of nitrogen/);
  });
});

test('of two detectors in one marking the one with most scans is taken, and told', () => {
  const marked = dosedScans({ seed: 1, gas: { N2: DOSE_PA }, count: 8 });
  const scans = marked.scans.map((scan, i) => (i < 3 ? { ...scan, detector: 'multiplier' as const } : scan));
  const answer = learn('N2', { ...marked, scans });
  const alone = learn('N2', { ...marked, scans: scans.slice(3) });
  if (!answer.ok || !alone.ok) throw new Error('nothing was learned');
  expect(answer.pattern).toEqual(alone.pattern);
  expect(answer.remarks.join(' ')).toMatch(/3 scans on the other detector left out/);
});
